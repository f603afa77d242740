package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

const henry = unit.Inductance(1)

func TestFaultRise(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/fault_rise.csv") {
		f := FaultLoop{
			Voltage: unit.Voltage(row.Param("V", "V")), Resistance: unit.Resistance(row.Param("R", "ohm")),
			Inductance: unit.Inductance(row.Param("L", "H")) * henry,
		}
		at := unit.Time(row.Param("t", "s"))
		row.Printed("current_a", float64(must[unit.Current](t)(f.Current(at))))
		w := must[float64](t)(f.LetThrough(at))
		row.Printed("let_through_a2s", w)
		if w >= 1e-3 {
			back := must[unit.Time](t)(f.TimeToLetThrough(w))
			assert.InEpsilon(t, float64(at), float64(back), 1e-9)
		}
	}
}

func TestFaultRules(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/fault_rules.csv") {
		t.Run(row.Text("id"), func(t *testing.T) {
			row := row.With(t)
			switch row.Text("kind") {
			case "time constant":
				f := FaultLoop{
					Voltage: 48, Resistance: unit.Resistance(row.Param("R", "mOhm")) * Milliohm,
					Inductance: unit.Inductance(row.Param("L", "uH")) * 1e-6,
				}
				row.Within("expected", 1000*float64(must[unit.Time](t)(f.TimeConstant())), 0.001,
					"the resistance is printed to four digits and the quotient is from more")
			case "typical time constant":
				f := FaultLoop{Voltage: 48, Resistance: 10 * Milliohm}
				tau := must[unit.Time](t)(f.TimeConstant())
				row.Expected(1000 * float64(tau))
				i := must[unit.Current](t)(f.Current(unit.Time(row.Param("t", "ms") / 1000)))
				assert.InEpsilon(t, 4800*(1-math.Exp(-row.Param("n", ""))), float64(i), 1e-6)
			case "charger":
				row.Expected(float64(must[unit.Current](t)(ChargerFaultCurrent(rowCurrent(row)))))
			case "one minute":
				row.Expected(float64(must[unit.Current](t)(FaultCurrentFromRate(rowCurrent(row)))))
			default:
				t.Fatalf("kind %q", row.Text("kind"))
			}
		})
	}
}

func TestFaultLoopBounds(t *testing.T) {
	good := FaultLoop{Voltage: 51.2, Resistance: 10 * Milliohm, Inductance: 1e-5}
	for name, change := range map[string]func(f *FaultLoop, x float64){
		"voltage":    func(f *FaultLoop, x float64) { f.Voltage = unit.Voltage(x) },
		"resistance": func(f *FaultLoop, x float64) { f.Resistance = unit.Resistance(x) },
		"inductance": func(f *FaultLoop, x float64) { f.Inductance = unit.Inductance(x) },
	} {
		for _, x := range junk {
			if x == 1e-3 && name != "voltage" || x == 0 && name == "inductance" {
				continue
			}
			f := good
			change(&f, x)
			_, err := f.Current(0.001)
			refused(t, err, "%s %v", name, x)
			_, err = f.LetThrough(0.001)
			refused(t, err, "%s %v", name, x)
			_, err = f.TimeConstant()
			refused(t, err, "%s %v", name, x)
			_, err = f.TimeToLetThrough(1)
			refused(t, err, "%s %v", name, x)
		}
	}
	for _, x := range []float64{-1e-9, 1000.1, math.NaN(), math.Inf(1)} {
		_, err := good.Current(unit.Time(x))
		refused(t, err, x)
		_, err = good.LetThrough(unit.Time(x))
		refused(t, err, x)
	}
	most := must[float64](t)(good.LetThrough(1000))
	for _, x := range []float64{0, -1, 0.999e-3, most * (1 + 1e-9), math.NaN(), math.Inf(1)} {
		_, err := good.TimeToLetThrough(x)
		refused(t, err, x)
	}
	end := must[unit.Time](t)(good.TimeToLetThrough(most))
	assert.InEpsilon(t, 1000, float64(end), 1e-9)
	for _, x := range junk {
		if x != 1e-3 {
			_, err := ChargerFaultCurrent(unit.Current(x))
			refused(t, err, x)
			_, err = FaultCurrentFromRate(unit.Current(x))
			refused(t, err, x)
		}
	}
	zero := must[float64](t)(good.LetThrough(0))
	assert.Zero(t, zero)
	_, err := FaultLoop{}.Current(0)
	refused(t, err)
}

// The current rises towards V/R, the let-through without end; doubling the
// voltage doubles the one and quadruples the other.
func FuzzFaultLoop(f *testing.F) {
	f.Add(51.2, 0.01, 1e-5, 0.001)
	f.Add(12.8, 0.005, 0.0, 3e-5)
	f.Add(700.0, 1.0, 1e-9, 900.0)
	f.Fuzz(func(t *testing.T, v, r, l, at float64) {
		loop := FaultLoop{Voltage: unit.Voltage(v), Resistance: unit.Resistance(r), Inductance: unit.Inductance(l)}
		i, err := loop.Current(unit.Time(at))
		w, err2 := loop.LetThrough(unit.Time(at))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			require.ErrorIs(t, err2, ErrDomain)
			return
		}
		require.LessOrEqual(t, float64(i), v/r*(1+1e-15))
		require.GreaterOrEqual(t, float64(i), 0.0)
		require.True(t, w >= 0 && !math.IsInf(w, 0))
		// No more than the present current all the while.
		require.LessOrEqual(t, w, float64(i)*float64(i)*at*(1+1e-9))
		if j, err := loop.Current(unit.Time(1.01 * at)); err == nil {
			require.GreaterOrEqual(t, float64(j), float64(i))
			require.GreaterOrEqual(t, must[float64](t)(loop.LetThrough(unit.Time(1.01*at))), w)
		}
		if back, err := loop.TimeToLetThrough(w); err == nil {
			require.InEpsilon(t, w, must[float64](t)(loop.LetThrough(back)), 1e-9)
		}
		twice := loop
		twice.Voltage *= 2
		if j, err := twice.Current(unit.Time(at)); err == nil {
			require.InDelta(t, 2*float64(i), float64(j), 1e-9*float64(j))
			require.InDelta(t, 4*w, must[float64](t)(twice.LetThrough(unit.Time(at))), 1e-9*4*w)
		}
	})
}
