package conductor

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

// The class of the plate: either mark is enough, and nothing on the plate is the
// strict class.
func TestOverloadClass(t *testing.T) {
	for _, c := range []struct {
		sf         float64
		rise       unit.Temperature
		largest    unit.Current
		ifNotStart unit.Current
	}{
		{0, 0, 11.5, 13},
		{1, 0, 11.5, 13},
		{1.149, 0, 11.5, 13},
		{1.15, 0, 12.5, 14},
		{1.4, 80, 12.5, 14},
		{1, 40, 12.5, 14},
		{0, 40, 12.5, 14},
		{0, 40.1, 11.5, 13},
		{2, 200, 12.5, 14},
	} {
		o := must[MotorOverload](t)(MotorCircuit{Nameplate: 10, ServiceFactor: c.sf, Rise: c.rise}.Overload())
		assert.InDelta(t, float64(c.largest), float64(o.Largest), 1e-9, "%v", c)
		assert.InDelta(t, float64(c.ifNotStart), float64(o.IfNoStart), 1e-9, "%v", c)
	}
	bounds(t, "nameplate full-load current", 0.1, 2000, func(x float64) error {
		return second(MotorCircuit{Nameplate: unit.Current(x)}.Overload())
	})
	bounds(t, "service factor", 1, 2, func(x float64) error {
		return second(MotorCircuit{Nameplate: 10, ServiceFactor: x}.Overload())
	})
	bounds(t, "temperature rise", 10, 200, func(x float64) error {
		return second(MotorCircuit{Nameplate: 10, Rise: unit.Temperature(x)}.Overload())
	})
}
