package conductor

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"
)

// A Place is where conductors of the code's tables lie. The zero value is the
// raceway, which carries less.
type Place uint8

const (
	// InRaceway is a raceway, a cable or the earth, table 310.16.
	InRaceway Place = iota
	// InFreeAir is single conductors spaced in free air, table 310.17.
	InFreeAir
)

// String returns the place in words.
//
// Definition: the titles of NEC tables 310.16 and 310.17.
func (p Place) String() string {
	switch p {
	case InRaceway:
		return "raceway, cable or earth"
	case InFreeAir:
		return "free air"
	default:
		return "no place"
	}
}

// An AmbientRule is a way to correct for ambient temperature. The zero value is
// the table, which never allows more than the formula.
type AmbientRule uint8

const (
	// ByBand reads the code's table: [AmbientFactor].
	ByBand AmbientRule = iota
	// ByFormula works out the code's formula: [AmbientLaw].
	ByFormula
)

// A Branch is a circuit's conductor with all that the code asks for its
// ampacity.
type Branch struct {
	Size       Size              // 18 AWG to 2000 kcmil as the code lists them
	Metal      Metal             // copper or aluminium
	Insulation TemperatureRating // 60, 75 or 90 °C
	Edition    Edition           // of the table; zero: current
	Place      Place             // zero: raceway

	Ambient     unit.Temperature // of the air around the run
	AmbientRule AmbientRule      // zero: by the table's bands
	Conductors  int              // that carry current in one raceway or bundle

	// Terminals is the marked rating of the equipment at both ends; zero: not
	// marked, so that [TerminationColumn] decides.
	Terminals TemperatureRating
	// Rating is that of the circuit where it is known; zero: the size decides
	// what terminals without marking stand.
	Rating unit.Current
	// Devices is the list that the overcurrent device is taken from; zero:
	// breakers.
	Devices StandardRatings
}

// Current returns the ampacity alone, that of [Branch.Ampacity] without its
// worksheet, for a search over many sizes.
//
// Valid as [Branch.Ampacity].
//
// Source: NEC (2023) 310.14 to 310.17, 310.15(B) and (C), 110.14(C).
func (b Branch) Current() (unit.Current, error) {
	p, err := partsOf(&b)
	return min(p.table*unit.Current(p.ambient)*unit.Current(p.count), p.terminals), err
}

// branchParts are what the steps of an ampacity are made of.
type branchParts struct {
	table, terminals unit.Current
	ambient, count   float64
}

// partsOf looks up the figures of all steps, or finds all faults. It takes the
// branch by its address as a search calls it for every size.
func partsOf(b *Branch) (branchParts, error) {
	row := b.Size.codeRow()
	p := branchParts{
		table: unit.Current(racewayAt(row, b.Metal, b.Insulation, b.Edition)),
		// The terminals are bound to the raceway's table, whatever the place.
		terminals: unit.Current(racewayAt(row, b.Metal, terminationAt(row, b.Rating, b.Terminals), b.Edition)),
	}
	var errTable, errAmbient, errCount error
	if p.table == 0 || p.terminals == 0 || b.Place != InRaceway {
		if p.table, errTable = branchTable(b); errTable == nil && p.terminals == 0 {
			_, errTable = branchTerminals(b)
		}
	}
	p.ambient, errAmbient = branchAmbient(b)
	p.count, errCount = CountFactor(b.Conductors)
	if errTable != nil || errAmbient != nil || errCount != nil {
		return branchParts{}, errors.Join(errTable, errAmbient, errCount)
	}
	return p, nil
}

// branchTerminals is the bound by the terminals, and its faults.
func branchTerminals(b *Branch) (unit.Current, error) {
	column, err := TerminationColumn(b.Size, b.Rating, b.Terminals)
	if err != nil {
		return 0, err
	}
	return RacewayAmpacity(b.Size, b.Metal, column, b.Edition)
}

// branchTable is the figure of the first step.
func branchTable(b *Branch) (unit.Current, error) {
	switch {
	case b.Place == InRaceway:
		return RacewayAmpacity(b.Size, b.Metal, b.Insulation, b.Edition)
	case b.Place != InFreeAir:
		return 0, pkg.Invalid("place", strconv.Itoa(int(b.Place)), "InRaceway or InFreeAir")
	case b.Metal != Copper || b.Edition != Since2011:
		return 0, pkg.Invalid("free-air table", b.Metal.String()+", "+b.Edition.String(), "copper, 2011 and later")
	default:
		return FreeAirAmpacity(b.Size, b.Insulation)
	}
}

// branchAmbient is the factor of the second step.
func branchAmbient(b *Branch) (float64, error) {
	switch b.AmbientRule {
	case ByBand:
		return AmbientFactor(b.Insulation, Base30C, b.Ambient)
	case ByFormula:
		tc, err := b.Insulation.Temperature()
		if err != nil {
			return 0, err
		}
		return AmbientLaw(tc, Celsius(30), b.Ambient)
	default:
		return 0, pkg.Invalid("ambient rule", strconv.Itoa(int(b.AmbientRule)), "ByBand or ByFormula")
	}
}
