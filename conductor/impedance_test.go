package conductor

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

func TestImpedanceForms(t *testing.T) {
	z := ImpedanceOf(complex(3, -4))
	assert.Equal(t, Impedance{3, -4}, z)
	assert.Equal(t, complex(3, -4), z.Complex())
	assert.InDelta(t, 5, float64(z.Modulus()), 1e-15)
	assert.Equal(t, Load{Current: 7, PowerFactor: 1}, DC(7))
}

func TestLoadImpedance(t *testing.T) {
	for _, leading := range []bool{false, true} {
		z := must[Impedance](t)(LoadImpedance(230, Load{Current: 46, PowerFactor: 0.6, Leading: leading}))
		want := cmplx.Rect(5, math.Acos(0.6))
		if leading {
			want = cmplx.Conj(want)
		}
		assert.InDelta(t, 0, cmplx.Abs(z.Complex()-want), 1e-12)
	}
	good := Load{Current: 46, PowerFactor: 0.6}
	bounds(t, "source voltage", 1, 35e3, func(x float64) error {
		_, err := LoadImpedance(unit.Voltage(x), good)
		return err
	})
	bounds(t, "current", 1e-3, 100e3, func(x float64) error {
		_, err := LoadImpedance(230, Load{Current: unit.Current(x), PowerFactor: 0.6})
		return err
	})
	bounds(t, "power factor", 0.05, 1, func(x float64) error {
		_, err := LoadImpedance(230, Load{Current: 46, PowerFactor: x})
		return err
	})
	_, err := LoadImpedance(0, Load{})
	assert.ErrorContains(t, err, "source voltage")
	assert.ErrorContains(t, err, "power factor")
	assert.ErrorContains(t, err, "current")
}
