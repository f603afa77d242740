package conductor

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"
)

// An IECInsulation is an insulation of the international ampacity tables. The
// zero value is none, and every function refuses it.
type IECInsulation uint8

const (
	// PVC70 is polyvinyl chloride, conductor at 70 °C.
	PVC70 IECInsulation = iota + 1
	// XLPE90 is cross-linked polyethylene or ethylene-propylene rubber,
	// conductor at 90 °C.
	XLPE90
)

// String returns the name and the conductor temperature.
//
// Definition: the heads of the tables of IEC 60364-5-52.
func (n IECInsulation) String() string {
	switch n {
	case PVC70:
		return "PVC, 70 °C"
	case XLPE90:
		return "XLPE or EPR, 90 °C"
	default:
		return "no insulation"
	}
}

func (n IECInsulation) check() error {
	if n != PVC70 && n != XLPE90 {
		return pkg.Invalid("insulation", strconv.Itoa(int(n)), "PVC70 or XLPE90")
	}
	return nil
}

// An InstallationMethod is a reference method of installation. The zero value
// is none, and every function refuses it.
type InstallationMethod uint8

const (
	// MethodA1 is single cores in conduit in a thermally insulated wall.
	MethodA1 InstallationMethod = iota + 1
	// MethodA2 is a multicore cable in conduit in a thermally insulated wall.
	MethodA2
	// MethodB1 is single cores in conduit on a wall.
	MethodB1
	// MethodB2 is a multicore cable in conduit on a wall.
	MethodB2
	// MethodC is a cable clipped directly to a wall.
	MethodC
)

// String returns the letter and number of the method.
//
// Definition: the names of IEC 60364-5-52.
func (m InstallationMethod) String() string {
	if m < MethodA1 || m > MethodC {
		return "no method"
	}
	return [...]string{"A1", "A2", "B1", "B2", "C"}[m-MethodA1]
}

// Areas: 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120 mm² (A).
//
// Source: IEC 60364-5-52:2009, tables B.52.2, B.52.4, B.52.3 and B.52.5.
var iecAmpacity = [4][5][12]float64{
	{ // PVC, two loaded
		{14.5, 19.5, 26, 34, 46, 61, 80, 99, 119, 151, 182, 210}, // A1
		{14, 18.5, 25, 32, 43, 57, 75, 92, 110, 139, 167, 192},   // A2
		{17.5, 24, 32, 41, 57, 76, 101, 125, 151, 192, 232, 269}, // B1
		{16.5, 23, 30, 38, 52, 69, 90, 111, 133, 168, 201, 232},  // B2
		{19.5, 27, 36, 46, 63, 85, 112, 138, 168, 213, 258, 299}, // C
	},
	{ // PVC, three loaded
		{13.5, 18, 24, 31, 42, 56, 73, 89, 108, 136, 164, 188},  // A1
		{13, 17.5, 23, 29, 39, 52, 68, 83, 99, 125, 150, 172},   // A2
		{15.5, 21, 28, 36, 50, 68, 89, 110, 134, 171, 207, 239}, // B1
		{15, 20, 27, 34, 46, 62, 80, 99, 118, 149, 179, 206},    // B2
		{17.5, 24, 32, 41, 57, 76, 96, 119, 144, 184, 223, 259}, // C
	},
	{ // XLPE or EPR, two loaded
		{19, 26, 35, 45, 61, 81, 106, 131, 158, 200, 241, 278},  // A1
		{18.5, 25, 33, 42, 57, 76, 99, 121, 145, 183, 220, 253}, // A2
		{23, 31, 42, 54, 75, 100, 133, 164, 198, 253, 306, 354}, // B1
		{22, 30, 40, 51, 69, 91, 119, 146, 175, 221, 265, 305},  // B2
		{24, 33, 45, 58, 80, 107, 138, 171, 209, 269, 328, 382}, // C
	},
	{ // XLPE or EPR, three loaded
		{17, 23, 31, 40, 54, 73, 95, 117, 141, 179, 216, 249},    // A1
		{16.5, 22, 30, 38, 51, 68, 89, 109, 130, 164, 197, 227},  // A2
		{20, 28, 37, 48, 66, 88, 117, 144, 175, 222, 269, 312},   // B1
		{19.5, 26, 35, 44, 60, 80, 105, 128, 154, 194, 233, 268}, // B2
		{22, 30, 40, 52, 71, 96, 119, 147, 179, 229, 278, 322},   // C
	},
}

// An IECCircuit is a copper circuit as the international tables describe it.
type IECCircuit struct {
	Size       Size               // metric, 1.5 to 120 mm²
	Insulation IECInsulation      // PVC70 or XLPE90
	Method     InstallationMethod // A1, A2, B1, B2 or C
	Loaded     int                // conductors that carry current, 2 or 3
}

// Ampacity returns the current-carrying capacity of the circuit in air at
// 30 °C. For another ambient it is multiplied by [IECAmbientFactor]; groups of
// circuits want a factor of their own, which is not held here.
//
// Valid for copper of the sizes 1.5 to 120 mm²; otherwise err wraps
// [ErrDomain]. National rules may differ in single cells: BS 7671 gives single
// cores of 25 mm² by method C 114 A and 104 A, where this table, which is of
// multicore cable, has 112 A and 96 A.
//
// Source: IEC 60364-5-52:2009, tables B.52.2 to B.52.5.
func (c IECCircuit) Ampacity() (unit.Current, error) {
	row := c.Size.iecRow()
	if row < 0 || c.Insulation.check() != nil || c.Method < MethodA1 || c.Method > MethodC || c.Loaded < 2 || c.Loaded > 3 {
		return 0, c.refuse()
	}
	table := 2*int(c.Insulation-PVC70) + c.Loaded - 2
	return unit.Current(iecAmpacity[table][c.Method-MethodA1][row]), nil
}

// refuse names all faults of a circuit.
func (c IECCircuit) refuse() error {
	err := c.Insulation.check()
	if c.Size.iecRow() < 0 {
		err = errors.Join(err, c.Size.refuse("a metric size from 1.5 to 120 mm²"))
	}
	if c.Method < MethodA1 || c.Method > MethodC {
		err = errors.Join(err, pkg.Invalid("installation method", strconv.Itoa(int(c.Method)), "A1, A2, B1, B2 or C"))
	}
	if c.Loaded < 2 || c.Loaded > 3 {
		err = errors.Join(err, pkg.Invalid("loaded conductors", strconv.Itoa(c.Loaded), "2 or 3"))
	}
	return err
}

// iecRow returns the column of a metric size in the ampacity tables, negative
// if none.
func (s Size) iecRow() int {
	if s.system != metric {
		return -1
	}
	switch s.number {
	case 150:
		return 0
	case 250:
		return 1
	case 400:
		return 2
	case 600:
		return 3
	case 1000:
		return 4
	case 1600:
		return 5
	case 2500:
		return 6
	case 3500:
		return 7
	case 5000:
		return 8
	case 7000:
		return 9
	case 9500:
		return 10
	case 12000:
		return 11
	default:
		return -1
	}
}
