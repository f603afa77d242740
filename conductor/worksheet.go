package conductor

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

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

// A Step is one line of a worksheet.
type Step struct {
	Rule   string       // what was looked at
	Factor float64      // After/Before
	Before unit.Current // what the step was given
	After  unit.Current // what it left
	Source string       // where the rule stands
}

// String returns the step as a line of text.
//
// Definition: the fields of the step.
func (s Step) String() string {
	return fmt.Sprintf("%-24s %8.2f A × %5.3f = %8.2f A  %s", s.Rule, float64(s.Before), s.Factor, float64(s.After), s.Source)
}

// A Worksheet says how an ampacity and a device came about.
type Worksheet struct {
	// Steps in the order of the code: table, ambient temperature, number of
	// conductors, terminals, overcurrent device, small conductor.
	Steps []Step
	// Ampacity is what the conductor may carry, after the fourth step.
	Ampacity unit.Current
	// Device is the largest overcurrent device of the standard list that may
	// protect it, after the last step. Motor circuits are exempt from it.
	Device unit.Current
	// Governs is the step that decided the ampacity, an index of Steps: the
	// terminals if they took anything off, else the factor that took most off,
	// else the table.
	Governs int
	// DeviceGoverns is the step that decided the device: the small-conductor
	// rule if it took anything off, else the step up or down of the list.
	DeviceGoverns int
}

// String returns the worksheet as lines of text; a star marks the steps that
// governed.
//
// Definition: the steps of the worksheet.
func (w Worksheet) String() string {
	var b strings.Builder
	for i, s := range w.Steps {
		mark := "  "
		if i == w.Governs || i == w.DeviceGoverns {
			mark = "* "
		}
		b.WriteString(mark + s.String() + "\n")
	}
	return b.String()
}

// The steps by their places.
const (
	stepTable = iota
	stepAmbient
	stepCount
	stepTerminals
	stepDevice
	stepSmall
	steps
)

// Ampacity works the code's way through the ampacity of the conductor: the
// table's figure for its insulation, times the factor for ambient temperature,
// times that for the number of conductors, and not above the figure that table
// 310.16 has for the size in the column of the terminals; from there the
// largest overcurrent device.
//
//	I = min(I0·Fa·Fn, It)
//
// The bound by the terminals holds in free air too, and at ambient temperatures
// below 30 °C.
//
// Where the ambient leaves nothing, err is [ErrNoAmpacity]; where an argument
// is outside its range, it wraps [ErrDomain].
//
// Source: NEC (2023) 310.14 to 310.17, 310.15(B) and (C), 110.14(C), 240.4(B)
// to (D), 240.6(A).
func (b Branch) Ampacity() (Worksheet, error) {
	s, err := b.steps()
	if err != nil {
		return Worksheet{}, err
	}
	if err := b.device(&s); err != nil {
		return Worksheet{}, err
	}
	w := Worksheet{Steps: s[:], Ampacity: s[stepTerminals].After, Device: s[stepSmall].After, DeviceGoverns: stepDevice}
	switch {
	case s[stepTerminals].Factor < 1:
		w.Governs = stepTerminals
	case s[stepAmbient].Factor < 1 && s[stepAmbient].Factor <= s[stepCount].Factor:
		w.Governs = stepAmbient
	case s[stepCount].Factor < 1:
		w.Governs = stepCount
	}
	if s[stepSmall].Factor < 1 {
		w.DeviceGoverns = stepSmall
	}
	return w, nil
}

// Current returns the ampacity alone, that of [Branch.Ampacity] without its
// worksheet, for a search over many sizes.
//
// Valid as [Branch.Ampacity].
//
// Source: NEC (2023) 310.14 to 310.17, 110.14(C).
func (b Branch) Current() (unit.Current, error) {
	s, err := b.steps()
	return s[stepTerminals].After, err
}

// steps works out the steps up to the terminals.
func (b Branch) steps() (s [steps]Step, err error) {
	table, source, err := b.table()
	if err != nil {
		return s, err
	}
	ambient, err := b.ambient()
	if err != nil {
		return s, err
	}
	count, err := CountFactor(b.Conductors)
	if err != nil {
		return s, err
	}
	bound, err := b.terminals()
	if err != nil {
		return s, err
	}
	s[stepTable] = Step{"table", 1, table, table, source}
	s[stepAmbient] = factorStep("ambient temperature", ambient, table, "NEC 310.15(B)(1), table")
	if b.AmbientRule == ByFormula {
		s[stepAmbient].Source = "NEC 310.15(B), formula"
	}
	s[stepCount] = factorStep("number of conductors", count, s[stepAmbient].After, "NEC 310.15(C)(1)")
	s[stepTerminals] = boundStep("terminals", bound, s[stepCount].After, "NEC 110.14(C), table 310.16")
	return s, nil
}

func factorStep(rule string, f float64, before unit.Current, source string) Step {
	return Step{rule, f, before, unit.Current(f) * before, source}
}

func boundStep(rule string, bound, before unit.Current, source string) Step {
	if before <= bound {
		return Step{rule, 1, before, before, source}
	}
	return Step{rule, float64(bound / before), before, bound, source}
}

// table is the first step.
func (b Branch) table() (i unit.Current, source string, err error) {
	switch {
	case b.Place == InRaceway:
		i, err = RacewayAmpacity(b.Size, b.Metal, b.Insulation, b.Edition)
		if b.Edition == Before2011 {
			return i, "NEC table 310.16, before 2011", err
		}
		return i, "NEC table 310.16", err
	case b.Place != InFreeAir:
		return 0, "", pkg.Invalid("place", strconv.Itoa(int(b.Place)), "InRaceway or InFreeAir")
	case b.Metal != Copper || b.Edition != Since2011:
		return 0, "", pkg.Invalid("free-air table", b.Metal.String()+", "+b.Edition.String(), "copper, 2011 and later")
	default:
		i, err = FreeAirAmpacity(b.Size, b.Insulation)
		return i, "NEC table 310.17", err
	}
}

func (b Branch) ambient() (float64, error) {
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

// terminals is the bound by the terminals: table 310.16, whatever the place.
func (b Branch) terminals() (unit.Current, error) {
	column, err := TerminationColumn(b.Size, b.Rating, b.Terminals)
	if err != nil {
		return 0, err
	}
	return RacewayAmpacity(b.Size, b.Metal, column, b.Edition)
}

// device fills the steps of the overcurrent device.
func (b Branch) device(s *[steps]Step) error {
	ampacity := s[stepTerminals].After
	d, err := b.Devices.ForAmpacity(ampacity)
	limit, limited, errSmall := SmallConductorLimit(b.Size, b.Metal)
	if err := errors.Join(err, errSmall); err != nil {
		return err
	}
	s[stepDevice] = Step{"overcurrent device", float64(d / ampacity), ampacity, d, "NEC 240.4(B) and (C), 240.6(A)"}
	if !limited {
		limit = d
	}
	s[stepSmall] = boundStep("small conductor", limit, d, "NEC 240.4(D)")
	return nil
}
