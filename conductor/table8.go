package conductor

import (
	"gonum.org/v1/gonum/unit"
)

// A Table8Row is one conductor of the code's table of conductor properties:
// resistances are dc, of one conductor, at 75 °C.
type Table8Row struct {
	Size            Size        // AWG or kcmil
	Stranding       Stranding   // Solid or Stranded
	Strands         int         // 1 for a solid wire
	Area            unit.Area   // nominal, of the metal
	StrandDiameter  unit.Length // 0 for a solid wire
	OverallDiameter unit.Length // of the bare conductor

	Copper       ResistancePerLength // bare ("uncoated")
	CoatedCopper ResistancePerLength // tinned
	Aluminium    ResistancePerLength // of wire grade
}

// table8Row holds a row in the units of print.
type table8Row struct {
	size                      Size
	strands                   int32
	cmil                      float64
	strand, overall           float64 // (in)
	copper, coated, aluminium float64 // (Ω/kft)
}

// The ohm-per-kilometre half of the print is rounded on its own, and for coated
// copper above 1250 kcmil repeats the uncoated figure; it is not held here.
//
// Source: NEC chapter 9, table 8. Bare copper and aluminium of the stranded rows
// were seen in print, the other columns are recalled and checked by the laws of
// TestTable8Laws.
var table8 = [...]table8Row{
	{Size{gauge, 18}, 1, 1620, 0, 0.040, 7.77, 8.08, 12.8},
	{Size{gauge, 18}, 7, 1620, 0.015, 0.046, 7.95, 8.45, 13.1},
	{Size{gauge, 16}, 1, 2580, 0, 0.051, 4.89, 5.08, 8.05},
	{Size{gauge, 16}, 7, 2580, 0.019, 0.058, 4.99, 5.29, 8.21},
	{Size{gauge, 14}, 1, 4110, 0, 0.064, 3.07, 3.19, 5.06},
	{Size{gauge, 14}, 7, 4110, 0.024, 0.073, 3.14, 3.26, 5.17},
	{Size{gauge, 12}, 1, 6530, 0, 0.081, 1.93, 2.01, 3.18},
	{Size{gauge, 12}, 7, 6530, 0.030, 0.092, 1.98, 2.05, 3.25},
	{Size{gauge, 10}, 1, 10380, 0, 0.102, 1.21, 1.26, 2.00},
	{Size{gauge, 10}, 7, 10380, 0.038, 0.116, 1.24, 1.29, 2.04},
	{Size{gauge, 8}, 1, 16510, 0, 0.128, 0.764, 0.786, 1.26},
	{Size{gauge, 8}, 7, 16510, 0.049, 0.146, 0.778, 0.809, 1.28},
	{Size{gauge, 6}, 7, 26240, 0.061, 0.184, 0.491, 0.510, 0.808},
	{Size{gauge, 4}, 7, 41740, 0.077, 0.232, 0.308, 0.321, 0.508},
	{Size{gauge, 3}, 7, 52620, 0.087, 0.260, 0.245, 0.254, 0.403},
	{Size{gauge, 2}, 7, 66360, 0.097, 0.292, 0.194, 0.201, 0.319},
	{Size{gauge, 1}, 19, 83690, 0.066, 0.332, 0.154, 0.160, 0.253},
	{Size{gauge, 0}, 19, 105600, 0.074, 0.372, 0.122, 0.127, 0.201},
	{Size{gauge, -1}, 19, 133100, 0.084, 0.418, 0.0967, 0.101, 0.159},
	{Size{gauge, -2}, 19, 167800, 0.094, 0.470, 0.0766, 0.0797, 0.126},
	{Size{gauge, -3}, 19, 211600, 0.106, 0.528, 0.0608, 0.0626, 0.100},
	{Size{kcmil, 250}, 37, 250000, 0.082, 0.575, 0.0515, 0.0535, 0.0847},
	{Size{kcmil, 300}, 37, 300000, 0.090, 0.630, 0.0429, 0.0446, 0.0707},
	{Size{kcmil, 350}, 37, 350000, 0.097, 0.681, 0.0367, 0.0382, 0.0605},
	{Size{kcmil, 400}, 37, 400000, 0.104, 0.728, 0.0321, 0.0331, 0.0529},
	{Size{kcmil, 500}, 37, 500000, 0.116, 0.813, 0.0258, 0.0265, 0.0424},
	{Size{kcmil, 600}, 61, 600000, 0.099, 0.893, 0.0214, 0.0223, 0.0353},
	{Size{kcmil, 700}, 61, 700000, 0.107, 0.964, 0.0184, 0.0189, 0.0303},
	{Size{kcmil, 750}, 61, 750000, 0.111, 0.998, 0.0171, 0.0176, 0.0282},
	{Size{kcmil, 800}, 61, 800000, 0.114, 1.030, 0.0161, 0.0166, 0.0265},
	{Size{kcmil, 900}, 61, 900000, 0.122, 1.094, 0.0143, 0.0147, 0.0235},
	{Size{kcmil, 1000}, 61, 1000000, 0.128, 1.152, 0.0129, 0.0132, 0.0212},
	{Size{kcmil, 1250}, 91, 1250000, 0.117, 1.289, 0.0103, 0.0106, 0.0169},
	{Size{kcmil, 1500}, 91, 1500000, 0.128, 1.412, 0.00858, 0.00883, 0.0141},
	{Size{kcmil, 1750}, 127, 1750000, 0.117, 1.526, 0.00735, 0.00756, 0.0121},
	{Size{kcmil, 2000}, 127, 2000000, 0.126, 1.632, 0.00643, 0.00662, 0.0106},
}

// Table8Rows returns the table, smallest conductor first; 18 to 8 AWG appear
// twice, solid and stranded.
//
// Source: NEC (2023) chapter 9, table 8, unchanged since 1987; coated copper,
// solid rows and dimensions are recalled.
func Table8Rows() []Table8Row {
	rows := make([]Table8Row, len(table8))
	for i := range table8 {
		rows[i] = table8[i].row()
	}
	return rows
}

// Table8 returns the row of one size, solid or stranded. Sizes between the
// rows are not interpolated.
//
// Valid for 18 AWG to 2000 kcmil in the sizes that the table has, solid only to
// 8 AWG; otherwise err wraps [ErrDomain].
//
// Source: NEC (2023) chapter 9, table 8.
func Table8(s Size, stranding Stranding) (Table8Row, error) {
	for i := range table8 {
		if r := &table8[i]; r.size == s && r.stranding() == stranding {
			return r.row(), nil
		}
	}
	return Table8Row{}, pkg.Invalid("size", s.String()+" "+stranding.String(),
		"a row of NEC chapter 9 table 8: 18 AWG to 2000 kcmil, solid only to 8 AWG")
}

func (r *table8Row) stranding() Stranding {
	if r.strands == 1 {
		return Solid
	}
	return Stranded
}

func (r *table8Row) row() Table8Row {
	return Table8Row{
		Size: r.size, Stranding: r.stranding(), Strands: int(r.strands),
		Area:            unit.Area(r.cmil) * CircularMil,
		StrandDiameter:  unit.Length(r.strand) * Inch,
		OverallDiameter: unit.Length(r.overall) * Inch,
		Copper:          ResistancePerLength(r.copper) * OhmPerKilofoot,
		CoatedCopper:    ResistancePerLength(r.coated) * OhmPerKilofoot,
		Aluminium:       ResistancePerLength(r.aluminium) * OhmPerKilofoot,
	}
}

// Coefficients at 75 °C as the table's note prints them (1/K).
const (
	table8CopperAlpha    = 0.00323
	table8AluminiumAlpha = 0.00330
)

// Resistance returns the row's resistance at another temperature by the note
// of the table,
//
//	R2 = R1·(1 + α·(T2 − 75))
//
// with T2 in °C and α = 0.00323/K for copper, 0.00330/K for aluminium.
//
// Valid for −60 to 300 °C, copper or aluminium, tinned copper only, and a row
// whose figure for that metal is 1 nΩ/m to 100 Ω/m; otherwise, and for a zero
// row, err wraps [ErrDomain].
//
// Source: NEC (2023) chapter 9, table 8, note 2.
func (r Table8Row) Resistance(m Metal, tinned bool, at unit.Temperature) (ResistancePerLength, error) {
	if err := (Wire{r.Size, m, r.Stranding, tinned}).check(); err != nil {
		return 0, err
	}
	if err := checkTemperature(float64(at)); err != nil {
		return 0, err
	}
	r1, alpha := r.Copper, table8CopperAlpha
	switch {
	case m == Aluminium:
		r1, alpha = r.Aluminium, table8AluminiumAlpha
	case tinned:
		r1 = r.CoatedCopper
	}
	if err := checkPerLength(r1); err != nil {
		return 0, err
	}
	return r1 * ResistancePerLength(1+alpha*(float64(at)-(75+273.15))), nil
}
