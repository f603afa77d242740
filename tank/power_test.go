package tank

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// densityOf reads the density of a row, or what a factor of the trade stands for.
func densityOf(r reftest.Row) Density {
	if r.HasParam("rho") {
		return Density(r.Param("rho", "kg/m3"))
	}
	return CustomaryWater
}

func TestPumpPower(t *testing.T) {
	water := func(r reftest.Row) unit.Power {
		var q FlowRate
		var h unit.Length
		if r.Text("unit") == "W" {
			q, h = FlowRate(r.Param("flow", "m3/s")), unit.Length(r.Param("head", "m"))
		} else {
			q, h = FlowRate(r.Param("flow", "gpm"))*USGallonPerMinute, unit.Length(r.Param("head", "ft"))*Foot
		}
		p, err := WaterPower(densityOf(r), q, h)
		require.NoError(t, err, r.Source())
		return p
	}
	energy := func(r reftest.Row) EnergyPerVolume {
		h := Foot
		if r.HasParam("head") {
			h *= unit.Length(r.Param("head", "ft"))
		}
		e, err := EnergyToRaise(densityOf(r), h, r.Param("wire_to_water", ""))
		require.NoError(t, err, r.Source())
		return e
	}
	for _, r := range reftest.Rows(t, "tank/pump_power.csv") {
		switch quantity := r.Text("quantity"); quantity {
		case "water_horsepower":
			r.Expected(float64(water(r) / Horsepower))
		case "hydraulic_power_si":
			r.Expected(float64(water(r)))
		case "brake_horsepower":
			p, err := PumpSet{Pump: r.Param("pump_eff", "")}.ShaftPower(water(r))
			require.NoError(t, err)
			r.Expected(float64(p / Horsepower))
		case "wire_to_water_from_parts":
			eta, err := PumpSet{Pump: r.Param("pump_eff", ""), Motor: r.Param("motor_eff", "")}.WireToWater()
			require.NoError(t, err)
			r.Expected(eta)
		case "energy_per_1000_gal_per_ft", "energy_per_gal_per_ft", "energy_per_1000_gal", "energy_per_gal":
			r.Expected(float64(energy(r) / WattHourPerUSGallon))
		case "energy_per_day":
			r.Expected(float64(energy(r)/WattHourPerUSGallon) * r.Param("use", "gal/day"))
		case "submersible_motor_efficiency":
			eta, err := SubmersibleMotor.Efficiency()
			require.NoError(t, err)
			r.Expected(inside(eta, r.Float("expected")))
		case "psi_to_feet":
			h, err := HeadOfPressure(unit.Pressure(r.Param("pressure", "psi"))*PSI, densityOf(r))
			require.NoError(t, err)
			r.Expected(float64(h / Foot))
		case "feet_per_psi":
			h, err := HeadOfPressure(PSI, densityOf(r))
			require.NoError(t, err)
			r.Expected(float64(h / Foot))
		case "operating_pressure_of_drop_pipe":
			p, err := PressureAbove(unit.Pressure(r.Param("switch", "psi"))*PSI, -unit.Length(r.Param("pumping_level", "ft"))*Foot, densityOf(r))
			require.NoError(t, err)
			r.Expected(float64(p / PSI))
		case "divisor":
			p, err := WaterPower(densityOf(r), USGallonPerMinute, Foot)
			require.NoError(t, err)
			r.Expected(float64(Horsepower / p))
		default:
			t.Fatal(r.Source(), "unknown quantity", quantity)
		}
	}
}

func TestTypicalEfficiency(t *testing.T) {
	machine := map[string]Machine{}
	for m := SubmersiblePump; m <= IrrigationPump; m++ {
		machine[m.String()] = m
	}
	custom := map[string]float64{
		"jet over submersible": JetOverSubmersible * 0.5, "injector gain": 100 * InjectorGain,
		"shallow jet lift": float64(ShallowJetLift / Foot), "deep jet depth": float64(DeepJetDepth / Foot),
	}
	printed := hull{}
	for _, r := range reftest.Rows(t, "tank/efficiency_typical.csv") {
		name := r.Text("machine")
		if x, ok := custom[name]; ok {
			r.Printed("low", x)
			continue
		}
		eta, err := machine[name].Efficiency()
		require.NoError(t, err, name)
		columns := []string{"low"}
		if r.Text("low") != r.Text("high") { // a single figure counts once
			columns = append(columns, "high")
		}
		for _, c := range columns {
			r.Within(c, inside(eta, r.Float(c)), 1e-9, "within the range of the machine")
			printed.add(name, r.Float(c))
		}
	}
	require.Len(t, printed, len(machines)-1)
	for name, want := range printed {
		eta, err := machine[name].Efficiency()
		require.NoError(t, err)
		assert.Equal(t, want, eta, "the ends are printed figures: %s", name)
	}
	// A set is about as good as the product of its parts.
	pump, motor, set := printed["submersible pump"], printed["submersible motor"], printed["submersible set"]
	assert.GreaterOrEqual(t, set.Low, pump.Low*motor.Low)
	assert.LessOrEqual(t, set.High, pump.High*motor.High)
	for _, m := range []Machine{0, IrrigationPump + 1, 255} {
		_, err := m.Efficiency()
		refused(t, err, "machine")
	}
	assert.Equal(t, "Machine(0)", Machine(0).String())
}

// Handbook water is that of about 18 °C.
func TestCustomaryWater(t *testing.T) {
	w, err := WaterAt(Celsius(18.23))
	require.NoError(t, err)
	assert.InDelta(t, float64(w.Density), float64(CustomaryWater), 0.01)
	assert.Equal(t, "998.5536 J/m^3", format("%.4f", EnergyPerVolume(CustomaryWater)))
}

func TestPowerBounds(t *testing.T) {
	rho, q, h := Density(1000), 10*USGallonPerMinute, 60*unit.Length(1)
	set := PumpSet{Pump: 0.5, Motor: 0.6}
	for _, x := range append(notNumbers, 0, 1, 799, 1301) {
		_, err := WaterPower(Density(x), q, h)
		refused(t, err, "density")
		_, err = EnergyToRaise(Density(x), h, 0.3)
		refused(t, err, "density")
	}
	for _, x := range append(notNumbers, 0, 0.09, 1001) {
		_, err := WaterPower(rho, q, unit.Length(x))
		refused(t, err, "head")
		_, err = EnergyToRaise(rho, unit.Length(x), 0.3)
		refused(t, err, "head")
	}
	for _, x := range append(notNumbers, 0, 10) {
		_, err := WaterPower(rho, FlowRate(x), h)
		refused(t, err, "flow")
		_, err = ImpliedWireToWater(1000, rho, FlowRate(x), h)
		refused(t, err, "flow")
	}
	for _, x := range append(notNumbers, 0, 0.009, 1.01, 30) {
		_, err := EnergyToRaise(rho, h, x)
		refused(t, err, "wire-to-water efficiency")
		_, err = PumpSet{Pump: x, Motor: 0.5}.WireToWater()
		refused(t, err, "pump efficiency")
		_, err = PumpSet{Pump: x}.ShaftPower(100)
		refused(t, err, "pump efficiency")
		_, err = PumpSet{Pump: 0.5, Motor: x}.Input(100)
		refused(t, err, "motor efficiency")
		if x != 0 {
			_, err = PumpSet{Pump: 0.5, Motor: 0.5, Supply: x}.WireToWater()
			refused(t, err, "supply efficiency")
		}
	}
	for _, x := range append(notNumbers, 1.1e6) {
		_, err := set.ShaftPower(unit.Power(x))
		refused(t, err, "water power")
		_, err = set.Input(unit.Power(x))
		refused(t, err, "water power")
	}
	for _, x := range append(notNumbers, 0, 9, 101e3) {
		_, err := ImpliedWireToWater(unit.Power(x), rho, q, h)
		refused(t, err, "measured power")
	}
	// 371 W of water cannot come of 300 W, nor of 50 kW.
	for _, x := range []unit.Power{300, 50e3} {
		eta, err := ImpliedWireToWater(x, rho, q, h)
		refused(t, err, "efficiency by measurement")
		assert.Zero(t, eta)
	}
	for _, eta := range []float64{leastEfficiency, 1} {
		got, err := PumpSet{Pump: eta, Motor: 1, Supply: 1}.WireToWater()
		require.NoError(t, err)
		assert.InDelta(t, eta, got, 0)
		for _, rho := range []Density{leastDensity, mostDensity} {
			for _, h := range []unit.Length{leastRaised, mostRaised} {
				_, err := EnergyToRaise(rho, h, eta)
				require.NoError(t, err)
				_, err = WaterPower(rho, mostPipeFlow, h)
				require.NoError(t, err)
			}
		}
	}
	p, err := set.Input(0)
	require.NoError(t, err)
	assert.Zero(t, float64(p))
}

// What goes in comes back as efficiency; power over flow is energy a volume.
func FuzzPower(f *testing.F) {
	f.Add(998.2, 10.0, 200.0, 0.5, 0.65, 0.95)
	f.Add(1000.0, 1.0, 0.5, 1.0, 1.0, 0.0)
	f.Add(0.0, -1.0, 1e300, 5e-324, 2.0, 0.01)
	f.Fuzz(func(t *testing.T, rho, gpm, feet, pump, motor, supply float64) {
		d, q, h := Density(rho), FlowRate(gpm)*USGallonPerMinute, unit.Length(feet)*Foot
		require.Equal(t, raisedOK(d, h), raisedFaults(d, h) == nil)
		water, err := WaterPower(d, q, h)
		known(t, err)
		finite(t, err, float64(water))
		s := PumpSet{Pump: pump, Motor: motor, Supply: supply}
		eta, etaErr := s.WireToWater()
		known(t, etaErr)
		e, raiseErr := EnergyToRaise(d, h, eta)
		known(t, raiseErr)
		if err != nil || etaErr != nil || raiseErr != nil {
			return
		}
		in, err := s.Input(water)
		known(t, err)
		if err != nil {
			return
		}
		shaft, err := s.ShaftPower(water)
		require.NoError(t, err)
		require.True(t, in >= shaft && shaft >= water, "each part loses: %v %v %v", in, shaft, water)
		require.InEpsilon(t, float64(in), float64(e)*float64(q), 1e-12)
		back, err := ImpliedWireToWater(in, d, q, h)
		known(t, err)
		if err == nil {
			require.InEpsilon(t, eta, back, 1e-12)
		}
		double, err := WaterPower(d, q, 2*h)
		known(t, err)
		if err == nil {
			require.InEpsilon(t, 2*float64(water), float64(double), 1e-12)
		}
	})
}
