package tank

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// On the bound itself each short cut lets the value through, and a result
// comes out: a short cut stricter than its range check would return nothing
// without an error.
func TestExactBounds(t *testing.T) {
	system := System{Drawdown: 10 * USGallon, Pump: 10 * USGallonPerMinute}
	charge := Charge{Precharge: 28 * PSI, Temperature: Celsius(20)}
	plain := PlainTank{Volume: 85 * USGallon, CutIn: 30 * PSI, CutOut: 50 * PSI}
	logged := Waterlogged{Air: 1 * USGallon, CutIn: 30 * PSI, CutOut: 50 * PSI}
	design := DesignTank{Pump: system.Pump, Cycles: 6 * PerHour, CutIn: 40 * PSI, CutOut: 60 * PSI}
	for name, f := range map[string]func() (float64, error){
		"vessel, least volume": func() (float64, error) { v := demo; v.Volume = leastVolume; return out(v.Drawdown()) },
		"vessel, most volume":  func() (float64, error) { v := demo; v.Volume = mostVolume; return out(v.Drawdown()) },
		"vessel, least charge": func() (float64, error) { v := demo; v.Precharge = leastCharge; return out(v.Drawdown()) },
		"vessel, most charge": func() (float64, error) {
			v := demo
			v.Precharge = mostPressure
			_, err := v.Drawdown()
			require.ErrorIs(t, err, ErrPrechargeAboveCutIn)
			return out(v.AirVolume(40 * PSI))
		},
		"vessel, least cut-in": func() (float64, error) {
			v := demo
			v.Precharge, v.CutIn = 3*PSI, leastCutIn
			return out(v.Drawdown())
		},
		"vessel, least differential": func() (float64, error) {
			v := demo
			v.CutOut = v.CutIn + leastDifferential
			return out(v.Drawdown())
		},
		"vessel, most cut-out":  func() (float64, error) { v := demo; v.CutOut = mostPressure; return out(v.Drawdown()) },
		"vessel, thin air":      func() (float64, error) { v := demo; v.Atmosphere = leastAtmosphere; return out(v.Drawdown()) },
		"vessel, thick air":     func() (float64, error) { v := demo; v.Atmosphere = mostAtmosphere; return out(v.Drawdown()) },
		"vessel, least gauge":   func() (float64, error) { return out(demo.AirVolume(leastCharge)) },
		"vessel, no gauge":      func() (float64, error) { return out(demo.AirVolume(0)) },
		"vessel, most gauge":    func() (float64, error) { return out(demo.WaterLeft(mostPressure)) },
		"vessel, adiabatic":     func() (float64, error) { return out(demo.PolytropicDrawdown(Adiabatic)) },
		"vessel, isothermal":    func() (float64, error) { return out(demo.SettledPressure(Isothermal)) },
		"vessel, most for":      func() (float64, error) { return out(demo.VolumeFor(mostVolume)) },
		"vessel, least for":     func() (float64, error) { return out(demo.VolumeFor(leastAir)) },
		"charge, least":         func() (float64, error) { c := charge; c.Precharge = leastCharge; return out(c.At(Celsius(30))) },
		"charge, most":          func() (float64, error) { c := charge; c.Precharge = mostPressure; return out(c.At(Celsius(30))) },
		"charge, coldest":       func() (float64, error) { c := charge; c.Temperature = coldest; return out(c.At(coldest)) },
		"charge, hottest":       func() (float64, error) { c := charge; c.Temperature = hottest; return out(c.At(hottest)) },
		"charge, thin air":      func() (float64, error) { c := charge; c.Atmosphere = leastAtmosphere; return out(c.At(hottest)) },
		"charge, thick air":     func() (float64, error) { c := charge; c.Atmosphere = mostAtmosphere; return out(c.At(hottest)) },
		"plain, least":          func() (float64, error) { p := plain; p.Volume = leastVolume; return out(p.Drawdown()) },
		"plain, most":           func() (float64, error) { p := plain; p.Volume = mostVolume; return out(p.Drawdown()) },
		"plain, least charge":   func() (float64, error) { p := plain; p.AirCharge = leastCharge; return out(p.Drawdown()) },
		"plain, most charge":    func() (float64, error) { p := plain; p.AirCharge = p.CutIn; return out(p.Drawdown()) },
		"waterlogged, least":    func() (float64, error) { w := logged; w.Air = leastAir; return out(w.Drawdown()) },
		"waterlogged, most":     func() (float64, error) { w := logged; w.Air = mostVolume; return out(w.Drawdown()) },
		"design, least pump":    func() (float64, error) { d := design; d.Pump = leastPump; return out(d.Volume()) },
		"design, most pump":     func() (float64, error) { d := design; d.Pump = mostFlow; return out(d.Volume()) },
		"design, least cycles":  func() (float64, error) { d := design; d.Cycles = leastStarts; return out(d.Volume()) },
		"design, most cycles":   func() (float64, error) { d := design; d.Cycles = mostStarts; return out(d.Volume()) },
		"design, least seal":    func() (float64, error) { d := design; d.Seal = 1; return out(d.Volume()) },
		"design, most seal":     func() (float64, error) { d := design; d.Seal = 3; return out(d.Volume()) },
		"starts, least":         func() (float64, error) { return out(DrawdownForStarts(leastPump, leastStarts)) },
		"starts, most":          func() (float64, error) { return out(DrawdownForStarts(mostFlow, mostStarts)) },
		"run, least":            func() (float64, error) { return out(DrawdownForRun(leastPump, leastRun)) },
		"run, most":             func() (float64, error) { return out(DrawdownForRun(mostFlow, mostRun)) },
		"system, least":         func() (float64, error) { return out(System{leastDrawdown, leastPump}.ShortestRun()) },
		"system, most":          func() (float64, error) { return out(System{mostVolume, mostFlow}.ShortestRun()) },
		"lasts":                 func() (float64, error) { return out(Lasts(1000, leastDemand)) },
		"lasts, use":            func() (float64, error) { return out(Lasts(1, mostFlow)) },
		"precharge for, lowest": func() (float64, error) { return out(PrechargeFor(leastCutIn)) },
		"altitude, lowest":      func() (float64, error) { return out(StandardPressure(lowest)) },
		"altitude, highest":     func() (float64, error) { return out(StandardPressure(highest)) },
		"drip, off": func() (float64, error) {
			c, err := system.At(leastDemand)
			return float64(c.Off), err
		},
		"drip, a day": func() (float64, error) {
			d, err := system.Day(leastDemand)
			return d.Starts, err
		},
		"tiny motor": func() (float64, error) {
			p, err := PracticeFor(Horsepower/10, 1)
			return float64(p.DailyStarts), err
		},
		"large motor": func() (float64, error) {
			p, err := PracticeFor(30*Horsepower, 3)
			return float64(p.DailyStarts), err
		},
		"many persons": func() (float64, error) { return out(IndoorUse(1000)) },
	} {
		x, err := f()
		require.NoError(t, err, name)
		require.Positive(t, x, name)
	}
}

// out drops a result's type.
func out[T ~float64](x T, err error) (float64, error) { return float64(x), err }

// The rule of thumb is a third, neither more nor less.
func TestThirdOfVolume(t *testing.T) {
	third, err := demo.ThirdOfVolume()
	require.NoError(t, err)
	require.InEpsilon(t, 85.0/3, float64(third/USGallon), 1e-12)
	// With no cut-in to count from, the error names the least of all cut-outs.
	err = Vessel{Volume: demo.Volume, Precharge: demo.Precharge, CutOut: unit.Pressure(1)}.Validate()
	require.ErrorContains(t, err, "want 6 psi to 150 psi")
}
