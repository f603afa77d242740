package conductor

import (
	"errors"
	"fmt"
	"strings"

	"gonum.org/v1/gonum/unit"
)

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
	p, err := partsOf(&b)
	if err != nil {
		return Worksheet{}, err
	}
	s := make([]Step, steps)
	s[stepTable] = Step{"table", 1, p.table, p.table, b.tableSource()}
	s[stepAmbient] = factorStep("ambient temperature", p.ambient, p.table, "NEC 310.15(B), table")
	if b.AmbientRule == ByFormula {
		s[stepAmbient].Source = "NEC 310.15(B), formula"
	}
	s[stepCount] = factorStep("number of conductors", p.count, s[stepAmbient].After, "NEC 310.15(C)(1)")
	s[stepTerminals] = boundStep("terminals", p.terminals, s[stepCount].After, "NEC 110.14(C), table 310.16")
	w := Worksheet{Steps: s, Ampacity: s[stepTerminals].After, DeviceGoverns: stepDevice}
	switch {
	case s[stepTerminals].Factor < 1:
		w.Governs = stepTerminals
	case p.ambient < 1 && p.ambient <= p.count:
		w.Governs = stepAmbient
	case p.count < 1:
		w.Governs = stepCount
	}
	d, err := b.Devices.ForAmpacity(w.Ampacity)
	limit, limited, errSmall := SmallConductorLimit(b.Size, b.Metal)
	if err := errors.Join(err, errSmall); err != nil {
		return Worksheet{}, err
	}
	if !limited {
		limit = d
	}
	s[stepDevice] = Step{"overcurrent device", float64(d / w.Ampacity), w.Ampacity, d, "NEC 240.4(B) and (C), 240.6(A)"}
	s[stepSmall] = boundStep("small conductor", limit, d, "NEC 240.4(D)")
	w.Device = s[stepSmall].After
	if s[stepSmall].Factor < 1 {
		w.DeviceGoverns = stepSmall
	}
	return w, nil
}

func (b Branch) tableSource() string {
	switch {
	case b.Place == InFreeAir:
		return "NEC table 310.17"
	case b.Edition == Before2011:
		return "NEC table 310.16, before 2011"
	default:
		return "NEC table 310.16"
	}
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
