package conductor_test

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
)

// A pump draws 40 A for a minute and rests for two, through 12 AWG in free air
// that is rated 35 A. By rms the cable would carry 23 A; the wire is too thin to
// average over minutes.
func ExampleThermalModel_CyclicLimit() {
	rated := conductor.RatedCurrent{Current: 35, Conductor: conductor.Celsius(75), Ambient: conductor.Celsius(30)}
	wire := conductor.Wire{Size: conductor.AWG(12), Metal: conductor.Copper, Stranding: conductor.Stranded}
	cable, err := rated.Model(wire)
	if err != nil {
		fmt.Println(err)
		return
	}
	cycle := conductor.LoadCycle{On: 60, Rest: 120, Current: 40}
	limit, err := cable.CyclicLimit(cycle)
	if err != nil {
		fmt.Println(err)
		return
	}
	steady, err := cable.Steady(40)
	if err != nil {
		fmt.Println(err)
		return
	}
	averaged, err := cable.Steady(40 * 0.577)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("peak %.0f °C, without rests %.0f °C, by rms %.0f °C\n",
		conductor.InCelsius(limit.AfterOn), conductor.InCelsius(steady), conductor.InCelsius(averaged))
	// Output: peak 65 °C, without rests 92 °C, by rms 48 °C
}

// Two pump cycles after a cold start, and the time in which a held rotor brings
// the insulation to 90 °C.
func ExampleThermalModel_TimeTo() {
	rated := conductor.RatedCurrent{Current: 35, Conductor: conductor.Celsius(75), Ambient: conductor.Celsius(30)}
	cable, err := rated.Model(conductor.Wire{Size: conductor.AWG(12), Metal: conductor.Copper, Stranding: conductor.Stranded})
	if err != nil {
		fmt.Println(err)
		return
	}
	two, err := cable.AfterCycles(conductor.Celsius(20), conductor.LoadCycle{On: 60, Rest: 120, Current: 20}, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	held, err := cable.TimeTo(conductor.Celsius(90), two.AfterOn, 110)
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = cable.Steady(110)
	fmt.Printf("after two cycles %.0f °C, 90 °C after %.1f at 110 A\n", conductor.InCelsius(two.AfterOn), held)
	fmt.Println(err, errors.Is(err, conductor.ErrRunaway))
	// Output:
	// after two cycles 38 °C, 90 °C after 8.6 s at 110 A
	// conductor: thermal runaway: 110 A, and above 91.78 A no steady temperature exists true
}

// The heat balance of a 4/0 AWG cable in free air beside the code's 360 A.
func ExampleAirCable_Ampacity() {
	cable := conductor.AirCable{
		Conductor:  0.528 * conductor.Inch,
		Outside:    0.642 * conductor.Inch,
		Insulation: conductor.PVCResistivity,
		Emissivity: 0.9,
		Ambient:    conductor.Celsius(30),
		Convection: conductor.ChurchillChu,
	}
	i, err := cable.Ampacity(0.0608*conductor.OhmPerKilofoot, conductor.Celsius(75))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f\n", i)
	// Output: 390 A
}

// A cable in a trench: the soil is most of the way.
func ExampleCableLayers_Path() {
	insulation, err := conductor.Layer(conductor.PolyethyleneResistivity, 4.1*unit.Length(1e-3), 8*unit.Length(1e-3))
	if err != nil {
		fmt.Println(err)
		return
	}
	soil, err := conductor.Buried(conductor.SoilResistivity, 0.6, 0.016)
	if err != nil {
		fmt.Println(err)
		return
	}
	path, err := conductor.CableLayers{Insulation: insulation, External: soil, Conductors: 2}.Path()
	if err != nil {
		fmt.Println(err)
		return
	}
	i, err := path.Ampacity(1.43*conductor.OhmPerKilometre*2, conductor.Celsius(75), conductor.Celsius(20))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f, %.0f\n", path.ToAmbient, i)
	// Output: 1.81 K·m/W, 103 A
}

// A rhythm of one minute on and two off, on thin wire and on thick.
func ExampleDutyCycle_HeatingFactor() {
	pump := conductor.DutyCycle{On: 60, Off: 120}
	rms, err := pump.RMSFactor()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("rms %.2f\n", rms)
	for _, tau := range []unit.Time{35, 642} {
		f, err := pump.HeatingFactor(tau)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("time constant %.0f: %.2f\n", tau, f)
	}
	// Output:
	// rms 0.58
	// time constant 35 s: 0.91
	// time constant 642 s: 0.60
}

// A bilge pump of 10 A at 12 V, 21 ft of wire out and back, 3 % allowed.
func ExampleMarineRun_SmallestSAE() {
	run := conductor.MarineRun{OutAndBack: 21 * conductor.Foot, Current: 10, Allowed: 0.03 * 12, K: conductor.MarineK}
	area, err := run.Area()
	if err != nil {
		fmt.Println(err)
		return
	}
	sae, err := run.SmallestSAE()
	if err != nil {
		fmt.Println(err)
		return
	}
	awg, err := run.SmallestAWG()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f circular mils: %v by vehicle cable, %v by AWG\n", float64(area/conductor.CircularMil), sae, awg)
	// Output: 6271 circular mils: 10 AWG by vehicle cable, 12 AWG by AWG
}

// The battery cable of a windlass, in the engine space and out of it.
func ExampleBoatCable_Ampacity() {
	for _, engine := range []bool{false, true} {
		i, err := conductor.BoatCable{Size: conductor.AWG(0), EngineSpace: engine, Bundled: 2}.Ampacity()
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f ", i)
	}
	// Output: 285 A 242 A
}
