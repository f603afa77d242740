package conductor

import (
	"strconv"
	"strings"

	"gonum.org/v1/gonum/unit"
)

// A Stud is a threaded stud or bolt by its nominal size. Studs are small values
// that compare with ==; the zero value is none, and every function refuses it.
type Stud struct {
	row uint8 // of studs, plus one
}

// studRow is one size (mm).
type studRow struct {
	name                string
	diameter            float64
	close, normal, wide float64    // standard clearance holes
	drillClose, drill   float64    // of the drill chart, 0 for none
	hole                [2]float64 // of ring terminals with this label
}

// Source: ISO 273:1979 (M sizes), ASME B18.2.8 (inch sizes, recalled), the trade's
// tap and clearance drill chart, and terminals as they are sold (common practice,
// recalled). Diameters: 0.060 in + n·0.013 in for number sizes, else the name.
var studs = [...]studRow{
	{"No. 10", 4.826, 5.23, 5.61, 6.05, 4.98, 5.11, [2]float64{5.0, 5.3}},
	{"1/4 in", 6.35, 6.76, 7.14, 7.54, 6.53, 6.76, [2]float64{6.6, 6.9}},
	{"5/16 in", 7.9375, 8.33, 8.74, 9.12, 8.20, 8.43, [2]float64{8.3, 8.7}},
	{"3/8 in", 9.525, 9.93, 10.31, 10.72, 9.80, 10.08, [2]float64{9.9, 10.3}},
	{"1/2 in", 12.7, 13.49, 14.27, 15.47, 0, 0, [2]float64{13.1, 13.5}},
	{"M5", 5, 5.3, 5.5, 5.8, 0, 0, [2]float64{5.2, 5.5}},
	{"M6", 6, 6.4, 6.6, 7.0, 0, 0, [2]float64{6.4, 6.7}},
	{"M8", 8, 8.4, 9.0, 10.0, 0, 0, [2]float64{8.4, 8.7}},
	{"M10", 10, 10.5, 11.0, 12.0, 0, 0, [2]float64{10.4, 10.8}},
	{"M12", 12, 13.0, 13.5, 14.5, 0, 0, [2]float64{13.0, 13.5}},
}

const (
	mm       = unit.Length(1e-3)
	wantStud = `"No. 10", "1/4 in", "5/16 in", "3/8 in", "1/2 in", "M5", "M6", "M8", "M10" or "M12"`
)

// ParseStud reads the size of a stud: "No. 10" or "#10", "1/4 in" to "1/2 in" with
// or without "in", and "M5" to "M12". Spaces may be left out, and letters may be
// of either case. Anything else gives an error that wraps [ErrDomain] and names
// the sizes.
//
// Definition: forms common in the trade.
func ParseStud(text string) (Stud, error) {
	if len(text) <= 10 {
		plain := strings.ToLower(strings.ReplaceAll(text, " ", ""))
		plain = strings.TrimSuffix(plain, "in")
		plain = strings.Replace(plain, "no.", "#", 1)
		for i := range studs {
			name := strings.ToLower(strings.TrimSuffix(studs[i].name, " in"))
			if strings.Replace(name, "no. ", "#", 1) == plain {
				return Stud{uint8(i + 1)}, nil
			}
		}
	}
	return Stud{}, pkg.Invalid("stud", strconv.QuoteToASCII(text[:min(len(text), 20)]), wantStud)
}

// Studs returns the sizes that are held, inch sizes first.
//
// Definition: the rows of the table.
func Studs() []Stud {
	all := make([]Stud, len(studs))
	for i := range all {
		all[i] = Stud{uint8(i + 1)}
	}
	return all
}

// String returns the size as the trade writes it, "3/8 in" or "M10", and "no
// stud" for the zero value. [ParseStud] reads it back.
//
// Definition: the forms that [ParseStud] lists.
func (s Stud) String() string {
	if !s.IsValid() {
		return "no stud"
	}
	return studs[s.row-1].name
}

// IsValid reports whether s is a stud at all.
//
// Definition: every Stud but the zero value is valid.
func (s Stud) IsValid() bool { return s.row > 0 }

func (s Stud) refuse() error { return pkg.Invalid("stud", s.String(), wantStud) }

// Diameter returns the nominal diameter over the thread; number sizes have
//
//	d = 0.060 in + n·0.013 in
//
// The zero Stud gives an error that wraps [ErrDomain].
//
// Source: ASME B1.1 (inch); ISO 261 (M).
func (s Stud) Diameter() (unit.Length, error) {
	if !s.IsValid() {
		return 0, s.refuse()
	}
	return unit.Length(studs[s.row-1].diameter) * mm, nil
}

// A ClearanceFit is a series of clearance holes. The zero value is none.
type ClearanceFit uint8

// The series.
const (
	CloseFit   ClearanceFit = iota + 1 // fine series of ISO 273
	NormalFit                          // medium series
	LooseFit                           // coarse series
	DrillClose                         // close column of the trade's drill chart
	DrillFree                          // free column
)

// ClearanceHole returns the hole for a stud. The drill chart's columns, which
// exist from No. 10 to 3/8 in, are tighter than the standard's.
//
// A stud or series that the table does not have gives an error that wraps
// [ErrDomain].
//
// Source: ISO 273:1979 (M sizes); ASME B18.2.8 (inch sizes, recalled); the
// trade's clearance drill chart.
func (s Stud) ClearanceHole(f ClearanceFit) (unit.Length, error) {
	if !s.IsValid() {
		return 0, s.refuse()
	}
	r := &studs[s.row-1]
	var d float64
	switch f {
	case CloseFit:
		d = r.close
	case NormalFit:
		d = r.normal
	case LooseFit:
		d = r.wide
	case DrillClose:
		d = r.drillClose
	case DrillFree:
		d = r.drill
	}
	if d == 0 {
		return 0, pkg.Invalid("clearance fit", strconv.Itoa(int(f))+" for "+r.name,
			"CloseFit, NormalFit or LooseFit; DrillClose and DrillFree from No. 10 to 3/8 in")
	}
	return unit.Length(d) * mm, nil
}

// TerminalHole returns the hole that a ring terminal labelled for the stud
// usually has. No standard fixes it; measure the one at hand.
//
// The zero Stud gives an error that wraps [ErrDomain].
//
// Common practice: terminals as they are sold (recalled).
func (s Stud) TerminalHole() (Range[unit.Length], error) {
	if !s.IsValid() {
		return Range[unit.Length]{}, s.refuse()
	}
	h := studs[s.row-1].hole
	return Range[unit.Length]{Low: unit.Length(h[0]) * mm, High: unit.Length(h[1]) * mm}, nil
}
