package tank

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// On the bound itself a result comes out, as in TestExactBounds.
func TestExactBoundsOfDemand(t *testing.T) {
	fast := Well{Casing: mostCasing, Static: 0, Intake: mostDepth, Capacity: mostCapacity}
	slow := Well{Casing: leastCasing, Static: mostDepth, Intake: mostDepth + leastColumn, Capacity: leastCapacity}
	least := Bank{Tanks: []PipedTank{{leastVolume, leastCharge}}, CutIn: leastCutIn, CutOut: leastCutIn + leastDifferential, Atmosphere: leastAtmosphere}
	most := Bank{Tanks: []PipedTank{{mostVolume, leastCutIn}}, CutIn: leastCutIn, CutOut: mostPressure, Atmosphere: mostAtmosphere}
	for name, f := range map[string]func() (float64, error){
		"water power, least":  func() (float64, error) { return out(WaterPower(leastDensity, leastPipeFlow, leastRaised)) },
		"water power, most":   func() (float64, error) { return out(WaterPower(mostDensity, mostPipeFlow, mostRaised)) },
		"raise, least":        func() (float64, error) { return out(EnergyToRaise(leastDensity, leastRaised, 1)) },
		"raise, most":         func() (float64, error) { return out(EnergyToRaise(mostDensity, mostRaised, leastEfficiency)) },
		"measured, least":     func() (float64, error) { return ImpliedWireToWater(10, 1000, 5e-5, 10) },
		"measured, most":      func() (float64, error) { return ImpliedWireToWater(100e3, 1000, 0.1, 60) },
		"shaft":               func() (float64, error) { return out(PumpSet{Pump: leastEfficiency}.ShaftPower(mostWaterPower)) },
		"input":               func() (float64, error) { return out(PumpSet{Pump: 1, Motor: 1, Supply: 1}.Input(mostWaterPower)) },
		"head of pressure":    func() (float64, error) { return out(HeadOfPressure(1000*PSI, mostDensity)) },
		"pressure deep below": func() (float64, error) { return out(PressureAbove(mostPressure, -mostDepth, leastDensity)) },
		"air line, long":      func() (float64, error) { return out(AirLine{Length: mostDepth, Density: mostDensity}.Level(0)) },
		"air line, short":     func() (float64, error) { return out(AirLine{Length: 0.1, Density: leastDensity}.Level(0)) },
		"two hours, least":    func() (float64, error) { return out(TwoHourPeak(leastDemand)) },
		"two hours, most":     func() (float64, error) { return out(TwoHourPeak(mostDayUse)) },
		"peak factor, most":   func() (float64, error) { return Profile{0: mostWeight}.PeakFactor() },
		"peak factor, least":  func() (float64, error) { return Profile{0: 1e-9}.PeakFactor() },
		"allowance":           func() (float64, error) { return out(AllowancePeak([]FixtureCount{{LaundrySink, 1000}})) },
		"shut-off": func() (float64, error) {
			r, err := PressureSwitch{leastCutIn, mostPressure}.ShutOff()
			return out(r.Low, err)
		},
		"tanks, least":          func() (float64, error) { n, err := TanksFor(leastAir); return float64(n), err },
		"tanks, most":           func() (float64, error) { n, err := TanksFor(100); return float64(n), err },
		"casing, least":         func() (float64, error) { return out(CasingVolume(leastCasing, mostDepth)) },
		"casing, most":          func() (float64, error) { return out(CasingVolume(mostCasing, 1)) },
		"capacity, least":       func() (float64, error) { return out(SpecificCapacityOf(leastPipeFlow, 10)) },
		"capacity, small":       func() (float64, error) { return out(SpecificCapacityOf(1e-3, 0.01)) },
		"capacity, large":       func() (float64, error) { return out(SpecificCapacityOf(mostPipeFlow, mostDepth)) },
		"well, fast":            func() (float64, error) { p, err := fast.Pump(mostFlow); return out(p.Sustained, err) },
		"well, slow":            func() (float64, error) { p, err := slow.Pump(leastPump); return out(p.Until, err) },
		"well, 400 days":        func() (float64, error) { return out(slow.Delivers(leastPump, 400*Day)) },
		"recovery":              func() (float64, error) { return out(fast.Recovery(mostDepth, 1e-3)) },
		"bank, least":           func() (float64, error) { return out(least.Drawdown()) },
		"bank, most":            func() (float64, error) { return out(most.Drawdown()) },
		"bank, least pressure":  func() (float64, error) { return out(most.WaterLeft(mostPressure)) },
		"store for, least":      func() (float64, error) { return out(StoreFor(leastDemand, Hour)) },
		"store for, most":       func() (float64, error) { return out(StoreFor(mostFlow, 400*Day)) },
		"pumped by, most":       func() (float64, error) { return out(PumpedBy(mostStoredEnergy, leastPerVolume)) },
		"pumped by, dear water": func() (float64, error) { return out(PumpedBy(unit.Energy(1), mostPerVolume)) },
		"persons": func() (float64, error) {
			p, err := PartsOfEmergency(1000)
			return out(p.Hygiene.Low, err)
		},
	} {
		x, err := f()
		require.NoError(t, err, name)
		require.Positive(t, x, name)
	}
}
