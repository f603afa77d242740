package conductor

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// TerminationColumn returns the column of table 310.16 that bounds a circuit by
// its terminals, however good the insulation is.
//
//   - marked: the rating that the equipment is marked with, at both ends
//   - not marked, circuit of 100 A and less: 60 °C
//   - not marked, circuit above 100 A: 75 °C
//
// The circuit is the rating of the overcurrent device. Where it is not known
// yet, give 0, and the size decides: 60 °C for 1 AWG and smaller, 75 °C above.
// The better column of the insulation may still be the start of corrections and
// adjustments, as long as the result stays within the column of the terminals.
//
// Valid for a circuit of 0 or 1 A to 6 kA, a marking of 0, 60, 75 or 90 °C and
// a size that the code lists; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) 110.14(C)(1)(a) and (b).
func TerminationColumn(s Size, circuit unit.Current, marked TemperatureRating) (TemperatureRating, error) {
	column := terminationAt(s.codeRow(), circuit, marked)
	if column == 0 {
		return 0, refuseTermination(s, circuit, marked)
	}
	return column, nil
}

// terminationAt is the column for a row of the code's tables, and 0 for what
// [TerminationColumn] refuses.
func terminationAt(row int, circuit unit.Current, marked TemperatureRating) TemperatureRating {
	switch {
	case row < 0 || marked > Rated90C || !(circuit == 0 || circuit >= 1 && circuit <= 6000):
		return 0
	case marked != 0:
		return marked
	case circuit > 100, circuit == 0 && row > oneGaugeRow:
		return Rated75C
	default:
		return Rated60C
	}
}

// oneGaugeRow is the row of 1 AWG in the code's tables.
const oneGaugeRow = 10

func refuseTermination(s Size, circuit unit.Current, marked TemperatureRating) error {
	var err error
	if s.codeRow() < 0 {
		err = s.refuse(wantCodeSize)
	}
	if marked > Rated90C {
		err = errors.Join(err, marked.refuse("60, 75 or 90 °C, or 0 for terminals without marking"))
	}
	if circuit != 0 {
		err = errors.Join(err, pkg.Range("circuit rating", float64(circuit), 1, 6000, domain.Ampere))
	}
	return err
}

// SmallConductorLimit returns the largest overcurrent device that may protect a
// small conductor, whatever its insulation, its ampacity and its place: copper
// of 18 AWG 7 A, 16 AWG 10 A, 14 AWG 15 A, 12 AWG 20 A, 10 AWG 30 A; aluminium
// of 12 AWG 15 A and 10 AWG 25 A. Limited is false for larger sizes, which have
// no such rule. Motor circuits are exempt from it and follow article 430.
//
// Valid for the sizes that table 310.16 has in the metal; otherwise err wraps
// [ErrDomain].
//
// Source: NEC (2023) 240.4(D); 240.4(G) for motors.
func SmallConductorLimit(s Size, m Metal) (device unit.Current, limited bool, err error) {
	row := s.codeRow()
	if m != Copper && m != Aluminium {
		return 0, false, m.check()
	}
	if row < 0 || m == Aluminium && row < 3 {
		return 0, false, s.refuse("a size that table 310.16 has in " + m.String())
	}
	if row >= len(smallCopper) {
		return 0, false, nil
	}
	if m == Aluminium {
		return unit.Current(smallAluminium[row]), true, nil
	}
	return unit.Current(smallCopper[row]), true, nil
}

// Devices for 18, 16, 14, 12 and 10 AWG (A).
var (
	smallCopper    = [...]float64{7, 10, 15, 20, 30}
	smallAluminium = [...]float64{0, 0, 0, 15, 25}
)
