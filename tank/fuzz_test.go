package tank

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// known fails on an error that is neither an argument's nor an answer.
func known(t *testing.T, err error) {
	t.Helper()
	for _, target := range []error{nil, ErrDomain, ErrPrechargeAboveCutIn, ErrNeverStarts, ErrNeverStops} {
		if errors.Is(err, target) {
			return
		}
	}
	t.Fatalf("an error of no kind: %v", err)
}

// checkVessel holds for every vessel, gauge pressure and exponent.
func checkVessel(t *testing.T, v Vessel, at unit.Pressure, n float64) {
	t.Helper()
	short := volumeOK(v.Volume) && chargeOK(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere)
	require.Equal(t, short, v.faults() == nil, "the short cut and the faults agree")
	require.Equal(t, gaugeOK(v.CutIn), gaugeRange("pressure", v.CutIn) == nil)

	vd, err := v.Drawdown()
	known(t, err)
	if !short {
		require.ErrorIs(t, err, ErrDomain)
		return
	}
	if err == nil {
		require.True(t, vd > 0 && vd < v.Volume, "drawdown %v of %v", vd, v.Volume)
	}
	w, err := v.WaterWhenPowerFails()
	require.NoError(t, err)
	require.True(t, w.Low >= 0 && w.Valid() && w.High < v.Volume)
	if gaugeOK(at) {
		left, err := v.WaterLeft(at)
		require.NoError(t, err)
		require.True(t, left >= 0 && left < v.Volume)
		more, err := v.WaterLeft(min(at+PSI, mostPressure))
		if err == nil {
			require.GreaterOrEqual(t, float64(more), float64(left), "more pressure, more water")
		}
	}
	fast, err := v.PolytropicDrawdown(n)
	known(t, err)
	if err == nil {
		require.LessOrEqual(t, float64(fast), float64(vd)*(1+1e-9), "Boyle's law is the upper bound")
		p, err := v.SettledPressure(n)
		require.NoError(t, err)
		require.True(t, p >= v.CutIn-1 && p <= v.CutOut+1)
	}

	plain := PlainTank{Volume: v.Volume, AirCharge: v.Precharge, CutIn: v.CutIn, CutOut: v.CutOut, Atmosphere: v.Atmosphere}
	same, err := plain.Drawdown()
	known(t, err)
	if err == nil {
		require.InEpsilon(t, float64(vd), float64(same), 1e-12, "charged alike, filled alike")
	}
}

// Whatever the input, a vessel answers with a number between nothing and its
// volume or with an error that says why not.
func FuzzVessel(f *testing.F) {
	f.Add(85.0, 28.0, 30.0, 50.0, 14.7, 42.0, 1.2)
	f.Add(85.0, 35.0, 30.0, 50.0, 0.0, 0.0, 1.0)
	f.Add(1.0, 60.0, 30.0, 50.0, 11.8, 30.0, 1.4)
	f.Add(math.NaN(), math.Inf(1), -1.0, 0.0, 5e-324, math.MaxFloat64, 0.0)
	f.Fuzz(func(t *testing.T, gal, pre, in, out, atm, at, n float64) {
		v := Vessel{
			Volume: unit.Volume(gal) * USGallon, Precharge: unit.Pressure(pre) * PSI,
			CutIn: unit.Pressure(in) * PSI, CutOut: unit.Pressure(out) * PSI, Atmosphere: unit.Pressure(atm) * PSI,
		}
		checkVessel(t, v, unit.Pressure(at)*PSI, n)
	})
}

// A scaled tank gives scaled water.
func FuzzVesselScales(f *testing.F) {
	f.Add(2.0, 20.0)
	f.Add(0.25, 1.0)
	f.Fuzz(func(t *testing.T, factor, differential float64) {
		v := demo
		v.CutOut = v.CutIn + unit.Pressure(differential)*PSI
		one, err := v.Drawdown()
		known(t, err)
		if err != nil {
			return
		}
		v.Volume *= unit.Volume(factor)
		scaled, err := v.Drawdown()
		known(t, err)
		if err != nil {
			return
		}
		assert.InEpsilon(t, factor*float64(one), float64(scaled), 1e-12)
		v.CutOut += PSI
		if wider, err := v.Drawdown(); err == nil {
			assert.Greater(t, float64(wider), float64(scaled), "a wider differential gives more")
		}
	})
}

// A system cycles with a water balance, or says why it does not.
func FuzzSystem(f *testing.F) {
	f.Add(25.1, 10.0, 5.0)
	f.Add(10.0, 10.0, 10.0)
	f.Add(0.3, 10.0, 0.0)
	f.Add(math.Inf(1), math.NaN(), -5.0)
	f.Add(1e-300, 1e300, 5e-324)
	f.Fuzz(func(t *testing.T, gal, gpm, demand float64) {
		s := System{Drawdown: unit.Volume(gal) * USGallon, Pump: FlowRate(gpm) * USGallonPerMinute}
		q := FlowRate(demand) * USGallonPerMinute
		require.Equal(t, s.ok(), s.faults() == nil)
		c, err := s.At(q)
		known(t, err)
		day, dayErr := s.Day(q)
		known(t, dayErr)
		require.Equal(t, err == nil, dayErr == nil)
		if err != nil {
			return
		}
		finite(t, err, float64(c.On), float64(c.Off), float64(c.Starts), day.Starts, float64(day.PumpTime))
		require.InEpsilon(t, float64(s.Pump)*float64(c.On), float64(c.Delivered()), 1e-9)
		require.LessOrEqual(t, float64(day.PumpTime), float64(Day))
		worst, err := s.WorstDemand()
		require.NoError(t, err)
		require.LessOrEqual(t, float64(c.Starts), float64(worst.Starts)*(1+1e-12))
	})
}

// Sizing and what a tank of that size does are each other's inverse.
func FuzzSizing(f *testing.F) {
	f.Add(10.0, 6.0, 2.0, 40.0, 60.0, 1.0, 28.0, 280.0)
	f.Add(math.NaN(), 0.0, -1.0, math.Inf(1), 5e-324, 2.0, 1.0, -1.0)
	f.Fuzz(func(t *testing.T, gpm, perHour, minutes, in, out, seal, psi, kelvin float64) {
		pump, n := FlowRate(gpm)*USGallonPerMinute, unit.Frequency(perHour)*PerHour
		require.Equal(t, startsOK(n), startsRange(n) == nil)
		vd, err := DrawdownForStarts(pump, n)
		known(t, err)
		if err == nil {
			finite(t, err, float64(vd))
			if worst, err := (System{Drawdown: vd, Pump: pump}).WorstDemand(); err == nil {
				require.InEpsilon(t, float64(n), float64(worst.Starts), 1e-9)
			}
		}
		run, err := DrawdownForRun(pump, unit.Time(minutes)*Minute)
		known(t, err)
		if err == nil {
			if least, err := (System{Drawdown: run, Pump: pump}).ShortestRun(); err == nil {
				require.InEpsilon(t, minutes, float64(least/Minute), 1e-9)
			}
		}
		d := DesignTank{Pump: pump, Cycles: n, CutIn: unit.Pressure(in) * PSI, CutOut: unit.Pressure(out) * PSI, Seal: seal}
		v, err := d.Volume()
		known(t, err)
		finite(t, err, float64(v))
		w := Waterlogged{Air: unit.Volume(gpm), CutIn: d.CutIn, CutOut: d.CutOut}
		c, err := w.ShortCycle(pump)
		known(t, err)
		finite(t, err, float64(c.On), float64(c.Starts))
		charge := Charge{Precharge: unit.Pressure(psi) * PSI, Temperature: unit.Temperature(kelvin)}
		p, err := charge.At(Celsius(20))
		known(t, err)
		finite(t, err, float64(p))
		use, err := Tier(int(psi) & 255).Use(int(math.Float64bits(gpm) % 2000))
		known(t, err)
		finite(t, err, float64(use.Low), float64(use.High))
		rest, err := Lasts(unit.Volume(in), pump)
		known(t, err)
		finite(t, err, float64(rest))
	})
}

// Pressure falls with altitude and is never nothing.
func FuzzStandardPressure(f *testing.F) {
	f.Add(0.0, 1800.0)
	f.Add(math.NaN(), -1000.0)
	f.Fuzz(func(t *testing.T, a, b float64) {
		pa, errA := StandardPressure(unit.Length(a))
		pb, errB := StandardPressure(unit.Length(b))
		known(t, errA)
		known(t, errB)
		if errA == nil && errB == nil {
			require.Positive(t, float64(pa))
			if a < b {
				require.GreaterOrEqual(t, float64(pa), float64(pb))
			}
		}
	})
}

// The fuzzer's numbers are mostly refused; this grid is mostly not.
func TestVesselGrid(t *testing.T) {
	for _, volume := range []unit.Volume{leastVolume, mostVolume} {
		for pre := unit.Pressure(1); pre <= 150; pre += 19 {
			for in := unit.Pressure(5); in <= 149; in += 16 {
				for _, out := range []unit.Pressure{in + 1, in + 20, in + 40, 150} {
					for _, atm := range []unit.Pressure{0, leastAtmosphere, 14.7 * PSI, mostAtmosphere} {
						v := Vessel{Volume: volume, Precharge: pre * PSI, CutIn: in * PSI, CutOut: out * PSI, Atmosphere: atm}
						checkVessel(t, v, pre*PSI/2+in*PSI/2, 1.2)
					}
				}
			}
		}
	}
}
