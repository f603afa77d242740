package motor

import (
	"fmt"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A MinimumEfficiency is the least average full-load efficiency that a rule
// asks of a motor.
type MinimumEfficiency struct {
	// Efficiency is shaft power over input power, 0 to 1.
	Efficiency float64
	// Listed is the horsepower of the row that applies.
	Listed unit.Power
	// Metric is the rating in kilowatts that the rule puts beside it.
	Metric unit.Power
}

// efficiencyRow is one size of the rule.
type efficiencyRow struct {
	hp, kilowatt              float64
	polyphase, capacitorStart [3]float64
}

// efficiencyRows are the least efficiencies (percent) of 2, 4 and 6 poles; 0 is
// not listed.
var efficiencyRows = [...]efficiencyRow{
	{0.25, 0.18, [3]float64{65.6, 69.5, 67.5}, [3]float64{66.6, 68.5, 62.2}},
	{1.0 / 3, 0.25, [3]float64{69.5, 73.4, 71.4}, [3]float64{70.5, 72.4, 66.6}},
	{0.5, 0.37, [3]float64{73.4, 78.2, 75.3}, [3]float64{72.4, 76.2, 76.2}},
	{0.75, 0.55, [3]float64{76.8, 81.1, 81.7}, [3]float64{76.2, 81.8, 80.2}},
	{1, 0.75, [3]float64{77.0, 83.5, 82.5}, [3]float64{80.4, 82.6, 81.1}},
	{1.5, 1.1, [3]float64{84.0, 86.5, 83.8}, [3]float64{81.5, 83.8, 0}},
	{2, 1.5, [3]float64{85.5, 86.5, 0}, [3]float64{82.9, 84.5, 0}},
	{3, 2.2, [3]float64{85.5, 86.9, 0}, [3]float64{84.1, 0, 0}},
}

const smallMotorRule = "10 CFR 431.446"

// SmallMotorEfficiency returns the least average full-load efficiency that the
// United States ask of a small electric motor of open construction made from 9
// March 2015 on, by output, poles (2, 4 or 6), type and driven load. Capacitor-start
// motors share one table, whether they run on a capacitor or not.
//
// It is a floor for new motors of those types and no estimate of an old one.
// Split-phase, shaded-pole, permanent-split and submersible motors stand
// outside the rule, and so do sizes beyond 1/4 to 3 hp (0.18 kW to 2.2 kW) and
// cells that it leaves empty: they give a [NotCoveredError]. So do enclosed
// motors and the hermetic ones of compressors, which an argument does not tell.
//
// Between two listed sizes the rule takes the higher one from the middle on
// and the lower one below it; that much is from memory. An output outside 1/20
// to 500 hp and a type that is none give an error that wraps [ErrDomain].
//
// Source: 10 CFR 431.446(a); (b) for sizes between, from memory.
func SmallMotorEfficiency(output unit.Power, poles int, t Type, driven DrivenLoad) (MinimumEfficiency, error) {
	if err := checkOutput(output); err != nil {
		return MinimumEfficiency{}, err
	}
	if t != t.known() {
		return MinimumEfficiency{}, pkg.Invalid("motor type", strconv.Itoa(int(t)), "a type")
	}
	var err error
	switch {
	case t != ThreePhase && t != CapacitorStart && t != CapacitorStartRun:
		err = notCovered(smallMotorRule, UncoveredType, t.String()+" motors")
	case driven == SubmersiblePump:
		err = notCovered(smallMotorRule, UncoveredDriven, "submersible motors")
	case poles != 2 && poles != 4 && poles != 6:
		err = notCovered(smallMotorRule, UncoveredPoles, "motors of "+strconv.Itoa(poles)+" poles, only of 2, 4 and 6")
	}
	if err != nil {
		return MinimumEfficiency{}, err
	}
	hp := float64(output / Horsepower)
	row := nearestEfficiencyRow(hp)
	if row < 0 {
		return MinimumEfficiency{}, notCovered(smallMotorRule, UncoveredSize, fmt.Sprintf("motors of %.4g hp, only of 1/4 to 3 hp", hp))
	}
	r := &efficiencyRows[row]
	percent := r.capacitorStart[poles/2-1]
	if t == ThreePhase {
		percent = r.polyphase[poles/2-1]
	}
	if percent == 0 {
		return MinimumEfficiency{}, notCovered(smallMotorRule, UncoveredSize,
			fmt.Sprintf("%v motors of %d poles and %.3g hp", t, poles, r.hp))
	}
	return MinimumEfficiency{
		Efficiency: percent * domain.Percent.Size,
		Listed:     unit.Power(r.hp) * Horsepower, Metric: unit.Power(r.kilowatt) * Kilowatt,
	}, nil
}

// nearestEfficiencyRow returns the row of a size, or -1. The metric ratings
// lie up to 5 % below the horsepower ones, hence the room below 1/4 hp.
func nearestEfficiencyRow(hp float64) int {
	last := len(efficiencyRows) - 1
	least := efficiencyRows[0].kilowatt * float64(Kilowatt/Horsepower)
	if !(hp >= least*0.999 && hp <= efficiencyRows[last].hp*1.001) {
		return -1
	}
	row := 0
	for i := 1; i <= last; i++ {
		if middle := (efficiencyRows[i-1].hp + efficiencyRows[i].hp) / 2; hp >= middle*(1-1e-12) {
			row = i
		}
	}
	return row
}
