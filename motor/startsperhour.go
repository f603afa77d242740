package motor

import (
	"errors"
	"fmt"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// AllowedStarts is how often a motor may be started.
type AllowedStarts struct {
	// PerHour is the most starts in an hour.
	PerHour float64
	// Rest is the least time at rest or switched off between two starts (s).
	Rest unit.Time
	// InertiaLimits says that PerHour comes from the load's inertia and not
	// from the motor alone.
	InertiaLimits bool
}

// startRow is one size of the table.
type startRow struct {
	hp      float64
	a, b, c [3]float64
}

const mg10 = "NEMA MG 10 Table 7"

// AllowableStarts returns how often a three-phase general-purpose motor of
// design A or B may be started,
//
//	starts an hour = min(A, B/Wk²)    rest ≥ C
//
// with Wk² the inertia of the load at the motor's shaft (lb·ft²; 0 is none)
// and A, B, C the table's figures for output and poles (2, 4 or 6). It
// presumes a load torque no higher than a square law that reaches the rated
// torque at rated speed, and voltage and frequency within NEMA MG 1 12.44.
// The rotor's own inertia is counted in the table.
//
// The output must be one of the table's, 1 to 250 hp, to 0.1 %. A single-phase
// motor, another size or number of poles, and an inertia above B, which would
// leave less than one start an hour, give a [NotCoveredError]: there is no
// such table for single-phase motors, nor a leave to use this one. Submersible
// motors go by [SubmersibleStarts]. An argument outside 1/20 to 500 hp or a
// negative inertia is an error that wraps [ErrDomain].
//
// Source: NEMA MG 10 (2001) Table 7.
func AllowableStarts(output unit.Power, poles, phases int, load Inertia) (AllowedStarts, error) {
	row, column, err := startCell(output, poles, phases, load)
	if err != nil {
		return AllowedStarts{}, err
	}
	r := &startRows[row]
	s := AllowedStarts{PerHour: r.a[column], Rest: unit.Time(r.c[column])}
	wk2 := float64(load / PoundSquareFoot)
	if wk2 > r.b[column]*(1+1e-9) {
		return AllowedStarts{}, notCovered(mg10, UncoveredInertia,
			fmt.Sprintf("a load of %.4g lb·ft² on this motor, at most %.4g", wk2, r.b[column]))
	}
	if wk2*s.PerHour > r.b[column] {
		s.PerHour, s.InertiaLimits = r.b[column]/wk2, true
	}
	return s, nil
}

const mostInertia = 1e4 // (kg·m²)

// startCell returns row and column of the table.
func startCell(output unit.Power, poles, phases int, load Inertia) (row, column int, err error) {
	err = errors.Join(checkOutput(output), checkPhases(phases), pkg.Range("inertia of the load", float64(load), 0, mostInertia, domain.PoundSquareFoot))
	hp := float64(output / Horsepower)
	switch {
	case err != nil:
		return 0, 0, err
	case phases != 3:
		return 0, 0, notCovered(mg10, UncoveredPhases, "single-phase motors")
	case poles != 2 && poles != 4 && poles != 6:
		return 0, 0, notCovered(mg10, UncoveredPoles, "motors of "+strconv.Itoa(poles)+" poles, only of 2, 4 and 6")
	}
	for i := range startRows {
		if hp >= startRows[i].hp*0.999 && hp <= startRows[i].hp*1.001 {
			return i, poles/2 - 1, nil
		}
	}
	return 0, 0, notCovered(mg10, UncoveredSize, fmt.Sprintf("motors of %.4g hp, which is no size from 1 to 250 hp that it lists", hp))
}
