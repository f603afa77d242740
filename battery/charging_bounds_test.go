package battery

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// The ends of each argument's range are inside it and give a result; the next
// number outside is refused.
func TestChargingBounds(t *testing.T) {
	const ah, mh = float64(AmpereHour), float64(CubicMetrePerHour)
	gal := float64(USGallonPerHour)
	loop := FaultLoop{Voltage: 51.2, Resistance: 10 * Milliohm, Inductance: 1e-5}
	one := Range[float64]{Low: 1, High: 1}
	for _, x := range []struct {
		name   string
		lo, hi float64
		f      func(x float64) (float64, error)
	}{
		{"BulkTime charge", 1e-4 * ah, 1e5 * ah, func(x float64) (float64, error) { return bare(BulkTime(unit.Charge(x), 1, 1)) }},
		{"BulkTime current", 1e-6, 1e5, func(x float64) (float64, error) { return bare(BulkTime(AmpereHour, unit.Current(x), 1)) }},
		{"BulkTime efficiency", 0.3, 1, func(x float64) (float64, error) { return bare(BulkTime(AmpereHour, 1, x)) }},
		{"Shortcut current", 1e-3, 1e5, func(x float64) (float64, error) { return bare(ShortcutRecharge(AmpereHour, unit.Current(x), 0)) }},
		{"Shortcut absorption", 0, 360000, func(x float64) (float64, error) { return bare(ShortcutRecharge(AmpereHour, 1, unit.Time(x))) }},
		{"ChargerInput voltage", 0.5, 1500, func(x float64) (float64, error) { return bare(ChargerInput(unit.Voltage(x), 1, 1)) }},
		{"ChargerInput current", 1e-3, 1e5, func(x float64) (float64, error) { return bare(ChargerInput(12, unit.Current(x), 1)) }},
		{"ChargerInput efficiency", 0.3, 1, func(x float64) (float64, error) { return bare(ChargerInput(12, 1, x)) }},
		{"RechargeEnergy charge", 1e-4 * ah, 1e5 * ah, func(x float64) (float64, error) { return bare(RechargeEnergy(unit.Charge(x), 12, 1, 1)) }},
		{"RechargeEnergy voltage", 0.5, 1500, func(x float64) (float64, error) { return bare(RechargeEnergy(AmpereHour, unit.Voltage(x), 1, 1)) }},
		{"CycleEfficiency charge", 10, 1500, func(x float64) (float64, error) { return CycleEfficiency(1, unit.Voltage(x), 10) }},
		{"CycleEfficiency discharge", 0.5, 14, func(x float64) (float64, error) { return CycleEfficiency(1, 14, unit.Voltage(x)) }},
		{"Compensated voltage", 0.5, 1500, func(x float64) (float64, error) {
			v, _, err := CompensatedVoltage(unit.Voltage(x), 1, -0.003, Celsius(20))
			return float64(v), err
		}},
		{"Compensated coefficient", -0.01, 0, func(x float64) (float64, error) {
			v, _, err := CompensatedVoltage(14, 1, unit.Voltage(x), Celsius(20))
			return float64(v), err
		}},
		{"Compensated temperature", float64(Celsius(-40)), float64(Celsius(60)), func(x float64) (float64, error) {
			v, _, err := CompensatedVoltage(14, 1, -0.003, unit.Temperature(x))
			return float64(v), err
		}},
		{"Airflow gas", 1e-6, 10e3, func(x float64) (float64, error) { return bare(VentilationAirflow(1, unit.Current(x))) }},
		{"Opening", 0, 1e5 * mh, func(x float64) (float64, error) {
			a, err := VentilationOpening(FlowRate(x))
			return float64(a) + 1, err
		}},
		{"Hydrogen current", 1e-3, 1e5, func(x float64) (float64, error) { return bare(HydrogenRate(1, unit.Current(x))) }},
		{"Dilution hydrogen", 0, 1000 * mh, func(x float64) (float64, error) {
			q, err := DilutionAirflow(FlowRate(x), 0.01)
			if err == nil && x > 0 {
				return float64(q), nil
			}
			return 1, err
		}},
		{"Dilution limit", 0.001, 0.04, func(x float64) (float64, error) { return bare(DilutionAirflow(0.01, x)) }},
		{"HydrogenVolume charge", 1e-4 * ah, 1e5 * ah, func(x float64) (float64, error) { return bare(HydrogenVolume(1, unit.Charge(x), 290)) }},
		{"TimeToHydrogen room", 1e-3, 1e5, func(x float64) (float64, error) { return bare(TimeToHydrogen(unit.Volume(x), 1e-3, 0.01)) }},
		{"TimeToHydrogen hydrogen", 1e-9 * mh, 1000 * mh, func(x float64) (float64, error) { return bare(TimeToHydrogen(10, FlowRate(x), 0.01)) }},
		{"Gas temperature", float64(Celsius(25)), float64(Celsius(60)), func(x float64) (float64, error) { return GasTemperatureFactor(unit.Temperature(x)) }},
		{"GasCurrent current", 1e-5, 0.1, func(x float64) (float64, error) {
			return bare(GasFactors{Current: x, Emission: 1, Safety: 1}.GasCurrent(AmpereHour))
		}},
		{"GasCurrent emission", 0.01, 1, func(x float64) (float64, error) {
			return bare(GasFactors{Current: 1e-3, Emission: x, Safety: 1}.GasCurrent(AmpereHour))
		}},
		{"GasCurrent safety", 1, 20, func(x float64) (float64, error) {
			return bare(GasFactors{Current: 1e-3, Emission: 1, Safety: x}.GasCurrent(AmpereHour))
		}},
		{"Fault voltage", 0.5, 1500, func(x float64) (float64, error) {
			f := loop
			f.Voltage = unit.Voltage(x)
			return bare(f.Current(1))
		}},
		{"Fault resistance", 1e-6, 10, func(x float64) (float64, error) {
			f := loop
			f.Resistance = unit.Resistance(x)
			return bare(f.Current(1))
		}},
		{"Fault inductance", 1e-9, 1, func(x float64) (float64, error) {
			f := loop
			f.Inductance = unit.Inductance(x)
			return bare(f.Current(1))
		}},
		{"Fault time", 0, 1000, func(x float64) (float64, error) {
			i, err := loop.Current(unit.Time(x))
			return float64(i) + 1, err
		}},
		{"Generator rating", 3500, 10e6, func(x float64) (float64, error) {
			g := smallSet
			g.Rated = unit.Power(x)
			g.Load = unit.Power(max(3500, x/2))
			return bare(g.Fuel(1))
		}},
		{"Generator fuel", 0.25 * gal, 1000 * gal, func(x float64) (float64, error) {
			g := smallSet
			g.AtLoad = FlowRate(x)
			return bare(g.Fuel(1))
		}},
		{"Generator load", 0, 7000, func(x float64) (float64, error) { return bare(smallSet.Fuel(unit.Power(x))) }},
		{"Recharge charger", 1e-3, 1e5, func(x float64) (float64, error) {
			r := Recharge{Chemistry: AGM, Capacity: AmpereHour, Charger: unit.Current(x)}
			y, err := r.Time()
			return float64(y.Total.High), err
		}},
		{"Recharge capacity", 0.5 * ah, 1e5 * ah, func(x float64) (float64, error) {
			r := Recharge{Chemistry: AGM, Capacity: unit.Charge(x), Charger: 10, Efficiency: one}
			y, err := r.Time()
			return float64(y.Total.High), err
		}},
		{"Recharge start", 0, 1, func(x float64) (float64, error) {
			r := Recharge{Chemistry: AGM, Capacity: AmpereHour, Charger: 10, From: x}
			y, err := r.Time()
			return float64(y.Net), err
		}},
		{"Recharge standing", 0, 1e5, func(x float64) (float64, error) {
			r := Recharge{Chemistry: AGM, Capacity: AmpereHour, Charger: 1e5, Standing: unit.Current(x)}
			return never(r.Time())
		}},
		{"Recharge self-discharge", 0, 100, func(x float64) (float64, error) {
			r := Recharge{Chemistry: AGM, Capacity: AmpereHour, Charger: 1e5, SelfDischarge: unit.Current(x)}
			return never(r.Time())
		}},
		{"Recharge low efficiency", 0.3, 1, func(x float64) (float64, error) {
			r := Recharge{Chemistry: AGM, Capacity: AmpereHour, Charger: 10, Efficiency: Range[float64]{Low: x, High: 1}}
			return never(r.Time())
		}},
		{"Recharge high efficiency", 0.3, 1, func(x float64) (float64, error) {
			r := Recharge{Chemistry: AGM, Capacity: AmpereHour, Charger: 10, Efficiency: Range[float64]{Low: 0.3, High: x}}
			return never(r.Time())
		}},
	} {
		for _, in := range []float64{x.lo, x.hi} {
			y, err := x.f(in)
			require.NoError(t, err, "%s %v", x.name, in)
			assert.NotZero(t, y, "%s %v", x.name, in)
		}
		for _, out := range []float64{math.Nextafter(x.lo, math.Inf(-1)), math.Nextafter(x.hi, math.Inf(1)), math.NaN()} {
			_, err := x.f(out)
			refused(t, err, "%s %v", x.name, out)
		}
	}
	for name, f := range map[string]func(n int) (float64, error){
		"compensation": func(n int) (float64, error) {
			v, _, err := CompensatedVoltage(14, n, -0.003, Celsius(20))
			return float64(v), err
		},
		"airflow":  func(n int) (float64, error) { return bare(VentilationAirflow(n, 1)) },
		"hydrogen": func(n int) (float64, error) { return bare(HydrogenRate(n, 1)) },
		"volume":   func(n int) (float64, error) { return bare(HydrogenVolume(n, AmpereHour, 290)) },
	} {
		for _, n := range []int{1, 1000} {
			y, err := f(n)
			require.NoError(t, err, name)
			assert.NotZero(t, y, name)
		}
		for _, n := range []int{0, 1001} {
			_, err := f(n)
			refused(t, err, "%s %d", name, n)
		}
	}
}

// bare drops the type of a result.
func bare[T ~float64](x T, err error) (float64, error) { return float64(x), err }

// never reads the total of a recharge, where never is as good.
func never(x RechargeTime, err error) (float64, error) {
	var answer *NeverChargesError
	if errors.As(err, &answer) {
		return 1, nil
	}
	return float64(x.Total.High), err
}
