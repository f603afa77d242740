package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

func voltsFrom(low, high unit.Voltage) Range[unit.Voltage] {
	return Range[unit.Voltage]{Low: low, High: high}
}

func ohmsFrom(low, high unit.Resistance) Range[unit.Resistance] {
	return Range[unit.Resistance]{Low: low, High: high}
}

// A bank of 12.8 V and 5 mΩ sends 2560 A into a fault at its terminals; 5 mΩ of
// cable halve it.
func TestDCFault(t *testing.T) {
	f := DCFault{OpenCircuit: voltsFrom(12.8, 12.8), Source: ohmsFrom(5e-3, 5e-3)}
	i := must[Range[unit.Current]](t)(f.Current())
	assert.InDelta(t, 2560, float64(i.Low), 1e-9)
	assert.InDelta(t, 2560, float64(i.High), 1e-9)
	f.Line = ohmsFrom(5e-3, 5e-3)
	i = must[Range[unit.Current]](t)(f.Current())
	assert.InDelta(t, 1280, float64(i.High), 1e-9)
	// The widest span comes from the ends crossed over.
	f = DCFault{OpenCircuit: voltsFrom(11, 14), Source: ohmsFrom(2e-3, 8e-3), Line: ohmsFrom(5e-3, 6.5e-3)}
	i = must[Range[unit.Current]](t)(f.Current())
	assert.InDelta(t, 11/14.5e-3, float64(i.Low), 1e-9)
	assert.InDelta(t, 14/7e-3, float64(i.High), 1e-9)
}

// A bank by its parts and by one battery's current is the same bank.
func TestBankShortCircuit(t *testing.T) {
	const v, r = 12.8, 5e-3
	one := unit.Current(v / r)
	for s := 1; s <= 4; s++ {
		for p := 1; p <= 6; p++ {
			total := unit.Resistance(r * float64(s) / float64(p))
			f := DCFault{OpenCircuit: voltsFrom(unit.Voltage(v*float64(s)), unit.Voltage(v*float64(s))), Source: ohmsFrom(total, total)}
			want := must[Range[unit.Current]](t)(f.Current())
			got := must[unit.Current](t)(BankShortCircuit(one, s, p))
			assert.InEpsilon(t, float64(want.High), float64(got), 1e-12)
		}
	}
	for _, n := range []int{0, -1, 1001, math.MaxInt, math.MinInt} {
		_, err := BankShortCircuit(1000, n, 1)
		refused(t, err, "batteries in series")
		_, err = BankShortCircuit(1000, 1, n)
		refused(t, err, "strings in parallel")
	}
	bounds(t, "fault current", 1, 1e6, func(x float64) error {
		_, err := BankShortCircuit(unit.Current(x), 1, 1)
		return err
	})
}

func TestDCFaultBounds(t *testing.T) {
	good := DCFault{OpenCircuit: voltsFrom(12, 14), Source: ohmsFrom(2e-3, 8e-3), Line: ohmsFrom(1e-3, 2e-3)}
	for says, set := range map[string]struct {
		lo, hi float64
		field  func(*DCFault, float64)
	}{
		"lowest open-circuit voltage":  {1, 14, func(f *DCFault, x float64) { f.OpenCircuit.Low = unit.Voltage(x) }},
		"highest open-circuit voltage": {12, 1500, func(f *DCFault, x float64) { f.OpenCircuit.High = unit.Voltage(x) }},
		"lowest source resistance":     {1e-6, 8e-3, func(f *DCFault, x float64) { f.Source.Low = unit.Resistance(x) }},
		"highest source resistance":    {2e-3, 1e3, func(f *DCFault, x float64) { f.Source.High = unit.Resistance(x) }},
		"lowest line resistance":       {0, 2e-3, func(f *DCFault, x float64) { f.Line.Low = unit.Resistance(x) }},
		"highest line resistance":      {1e-3, 1e3, func(f *DCFault, x float64) { f.Line.High = unit.Resistance(x) }},
	} {
		try := func(x float64) error {
			f := good
			set.field(&f, x)
			_, err := f.Current()
			return err
		}
		assert.NoError(t, try(set.lo), says)
		assert.NoError(t, try(set.hi), says)
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, set.lo - 1e-6*math.Max(set.lo, 1), set.hi * 1.001} {
			assert.ErrorIs(t, try(x), ErrDomain, "%s %v", says, x)
		}
	}
	_, err := DCFault{}.Current()
	refused(t, err, "source resistance")
}

// The span is in order, scales with the voltage and shrinks with the cable.
func FuzzDCFault(f *testing.F) {
	f.Add(0.1, 0.2, 0.3, 0.4, 0.5)
	f.Fuzz(func(t *testing.T, a, b, c, d, e float64) {
		v := fold(a, 1, 500)
		r := unit.Resistance(fold(b, 1e-4, 1))
		fault := DCFault{
			OpenCircuit: voltsFrom(unit.Voltage(v), unit.Voltage(v*fold(c, 1, 1.3))),
			Source:      ohmsFrom(r, r*unit.Resistance(fold(d, 1, 5))),
		}
		bare, err := fault.Current()
		if err != nil || !(bare.Low <= bare.High) {
			t.Fatal(bare, err)
		}
		l := unit.Resistance(fold(e, 0, 1))
		fault.Line = ohmsFrom(l, l)
		far, err := fault.Current()
		if err != nil || far.High > bare.High || far.Low > bare.Low {
			t.Fatal(bare, far, err)
		}
		fault.OpenCircuit.Low *= 2
		fault.OpenCircuit.High *= 2
		twice, err := fault.Current()
		if err != nil || math.Abs(float64(twice.High/far.High)-2) > 1e-12 {
			t.Fatal(far, twice, err)
		}
	})
}
