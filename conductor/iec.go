package conductor

import (
	"gonum.org/v1/gonum/unit"
)

// iecRow is one nominal cross-section with the largest resistance at 20 °C
// that a conductor of each class may have (Ω/km); 0 where there is none.
type iecRow struct {
	hundredths               int32 // of a mm²
	solid, solidTinned       float64
	stranded, strandedTinned float64
	flexible, flexibleTinned float64
	aluminium                float64 // classes 1 and 2
}

// Source: IEC 60228:2004, tables 1 to 3.
var iec = [...]iecRow{
	{50, 36.0, 36.7, 36.0, 36.7, 39.0, 40.1, 0},
	{75, 24.5, 24.8, 24.5, 24.8, 26.0, 26.7, 0},
	{100, 18.1, 18.2, 18.1, 18.2, 19.5, 20.0, 0},
	{150, 12.1, 12.2, 12.1, 12.2, 13.3, 13.7, 0},
	{250, 7.41, 7.56, 7.41, 7.56, 7.98, 8.21, 0},
	{400, 4.61, 4.70, 4.61, 4.70, 4.95, 5.09, 0},
	{600, 3.08, 3.11, 3.08, 3.11, 3.30, 3.39, 0},
	{1000, 1.83, 1.84, 1.83, 1.84, 1.91, 1.95, 3.08},
	{1600, 1.15, 1.16, 1.15, 1.16, 1.21, 1.24, 1.91},
	{2500, 0.727, 0, 0.727, 0.734, 0.780, 0.795, 1.20},
	{3500, 0.524, 0, 0.524, 0.529, 0.554, 0.565, 0.868},
	{5000, 0.387, 0, 0.387, 0.391, 0.386, 0.393, 0.641},
	{7000, 0.268, 0, 0.268, 0.270, 0.272, 0.277, 0.443},
	{9500, 0.193, 0, 0.193, 0.195, 0.206, 0.210, 0.320},
	{12000, 0.153, 0, 0.153, 0.154, 0.161, 0.164, 0.253},
	{15000, 0.124, 0, 0.124, 0.126, 0.129, 0.132, 0.206},
	{18500, 0.101, 0, 0.0991, 0.100, 0.106, 0.108, 0.164},
	{24000, 0.0775, 0, 0.0754, 0.0762, 0.0801, 0.0817, 0.125},
	{30000, 0.0620, 0, 0.0601, 0.0607, 0.0641, 0.0654, 0.100},
}

// MetricSizes returns the sizes of IEC 60228 from 0.5 to 300 mm², smallest
// first.
//
// Source: IEC 60228:2004, tables 1 to 3.
func MetricSizes() []Size {
	sizes := make([]Size, len(iec))
	for i := range iec {
		sizes[i] = Size{metric, iec[i].hundredths}
	}
	return sizes
}

// MaximumResistance returns the largest dc resistance at 20 °C that a metric
// conductor may have: w.Stranding Solid is class 1, Stranded class 2, Flexible
// class 5.
//
// A metric size is defined by this figure and by no area. Resistivity over the
// nominal area understates it by 4 to 12 % in class 2 and by 10 to 16 % in
// class 5, and a maker may use less metal than the label says as long as the
// resistance holds. A real cable may be better than the maximum; a plan that
// counts on that needs a measurement.
//
// Valid for sizes of 0.5 to 300 mm² in the combinations that the standard
// prints: aluminium from 10 mm², classes 1 and 2, untinned; tinned solid
// copper to 16 mm². Anything else gives an error that wraps [ErrDomain].
//
// Source: IEC 60228:2004, table 1 (class 1), table 2 (class 2), table 3
// (class 5).
func MaximumResistance(w Wire) (ResistancePerLength, error) {
	r, err := w.maximum()
	return ResistancePerLength(r), err
}

// maximum is MaximumResistance in Ω/m.
func (w Wire) maximum() (float64, error) {
	if w.Size.system != metric {
		return 0, w.Size.refuse("a metric size")
	}
	if err := w.check(); err != nil {
		return 0, err
	}
	for i := range iec {
		if row := &iec[i]; row.hundredths == w.Size.number {
			if r := row.maximum(w); r > 0 {
				return r / 1000, nil
			}
		}
	}
	return 0, pkg.Invalid("wire", w.String(), "a combination that IEC 60228 has")
}

func (row *iecRow) maximum(w Wire) float64 {
	switch {
	case w.Metal == Aluminium && w.Stranding != Flexible && !w.Tinned:
		return row.aluminium
	case w.Metal == Aluminium:
		return 0
	case w.Stranding == Solid && w.Tinned:
		return row.solidTinned
	case w.Stranding == Solid:
		return row.solid
	case w.Stranding == Stranded && w.Tinned:
		return row.strandedTinned
	case w.Stranding == Stranded:
		return row.stranded
	case w.Tinned:
		return row.flexibleTinned
	default:
		return row.flexible
	}
}

// EffectiveArea returns the area of ideal copper or aluminium that has the
// maximum resistance of a metric conductor,
//
//	A = ρ20 / r20
//
// with ρ20 in Ω·m and r20 in Ω/m: 95 mm² of class 5 are worth 83.7 mm².
//
// Valid as [MaximumResistance]; otherwise err wraps [ErrDomain].
//
// Definition: the resistance of a uniform conductor, IEC 60228 for r20.
func EffectiveArea(w Wire) (unit.Area, error) {
	r, err := w.maximum()
	if err != nil {
		return 0, err
	}
	rho, _ := w.Metal.at20()
	return unit.Area(rho / r), nil
}
