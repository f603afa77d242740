package conductor

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Part is one of the resistances in series between a source and its load:
// the battery's own, a contact, a fuse, a cable, the wire to the pump. A run
// enters as [Run.Impedance] gives it, out and back.
type Part struct {
	Name      string    // for the reader of the result
	Impedance Impedance // as a line: the circuit's factor is in it
}

// A Path is all that lies between the source's open-circuit voltage and the
// load's terminals, in order from the source. A converter is no part of a path:
// end one path before it and start another behind.
type Path []Part

// A Point is the end of one part of a [Path].
type Point struct {
	Name    string       // of the part before it
	Voltage unit.Voltage // behind the part, line to line for three phases
	// Lost is by how much the voltage is lower than before the part. Parts of
	// a path add up to source less load; a part may raise the voltage if its
	// reactance and the load's are of opposite kind.
	Lost unit.Voltage
}

// Impedance returns the sum of the parts,
//
//	Z = Σ Zi
//
// which [Impedance.LoadVoltage], [Impedance.Divide] and, for direct current,
// [ConstantPower] take.
//
// Valid for one part or more of 0 to 1 MΩ each; otherwise err wraps [ErrDomain]
// and names the parts at fault.
//
// Definition: impedances in series.
func (p Path) Impedance() (Impedance, error) {
	var total Impedance
	for k := range p {
		z := p[k].Impedance
		if !z.ok() {
			return Impedance{}, p.check()
		}
		total.Resistance += z.Resistance
		total.Reactance += z.Reactance
	}
	if len(p) == 0 {
		return Impedance{}, p.check()
	}
	return total, nil
}

// Voltages returns what is lost where while a load draws its current: with the
// load's voltage V as [Impedance.LoadVoltage] finds it for the whole path, the
// voltage before part i is
//
//	|V + I·(Zi + … + Zn)|
//
// with V and I as phasors at the load's power factor. The last point is the
// load's terminals. The sum of the losses is exactly source less load.
//
// Valid as [Path.Impedance] and [Impedance.LoadVoltage], with their errors.
//
// Source: Kirchhoff's voltage law; IEEE Std 141-1993, chapter 3.
func (p Path) Voltages(source unit.Voltage, l Load) ([]Point, error) {
	z, err := p.Impedance()
	if err != nil {
		return nil, err
	}
	v, err := z.LoadVoltage(source, l)
	if err != nil {
		return nil, err
	}
	sin, cos := l.sincos()
	i := float64(l.Current)
	return p.points(float64(v), complex(i*cos, -i*sin)), nil
}

// VoltagesAt returns what is lost where into a load of constant impedance, such
// as a motor whose rotor is held: its voltage is as [Impedance.Divide] finds it
// for the whole path, its current V/Zl, and the points as in [Path.Voltages].
//
// Valid as [Path.Impedance] and [Impedance.Divide], with their errors.
//
// Source: Kirchhoff's voltage law; IEEE Std 399-1997, chapter 9.
func (p Path) VoltagesAt(source unit.Voltage, load Impedance) ([]Point, error) {
	z, err := p.Impedance()
	if err != nil {
		return nil, err
	}
	v, err := z.Divide(source, load)
	if err != nil {
		return nil, err
	}
	return p.points(float64(v), complex(float64(v), 0)/load.Complex()), nil
}

// points walks back from the load's voltage v with the current i.
func (p Path) points(v float64, i complex128) []Point {
	points, at := make([]Point, len(p)), complex(v, 0)
	for k := len(p) - 1; k >= 0; k-- {
		after := cmplx.Abs(at)
		at += i * p[k].Impedance.Complex()
		points[k] = Point{p[k].Name, unit.Voltage(after), unit.Voltage(cmplx.Abs(at) - after)}
	}
	return points
}

func (p Path) check() error {
	if len(p) == 0 {
		return pkg.Invalid("path", "without parts", "at least one")
	}
	var err error
	for k := range p {
		if e := p[k].Impedance.check("part"); e != nil {
			err = errors.Join(err, fmt.Errorf("part %d, %s: %w", k+1, p[k].Name, e))
		}
	}
	return err
}

// LeastStartVoltage is the part of its rated voltage that a motor's terminals
// should keep while its rotor is held. The torque there is 0.65² = 42 % of that
// at rated voltage; a pump that starts against pressure may need more.
//
// Common practice: what makers of submersible motors ask of a supply.
const LeastStartVoltage = 0.65

// A StartVoltage is what a motor with its rotor held gets at the end of a line.
type StartVoltage struct {
	Terminal unit.Voltage // at the motor
	Current  unit.Current // that flows, less than at rated voltage
	Fraction float64      // of the rated voltage
	// Margin is Fraction over [LeastStartVoltage], less 1: negative where too
	// little is left.
	Margin float64
	Holds  bool // whether at least that part is left
}

// AtLockedRotor returns the voltage that a line leaves at a motor whose rotor is
// held,
//
//	V = Vs·|Zm| / |Zm + Z|,  fraction V/Vn
//
// with Vs of the source at no load, the rated voltage Vn of the motor and its
// locked-rotor impedance Zm from [LoadImpedance] at Vn, and lays it beside
// [LeastStartVoltage]. The running power factor is wrong for Zm: a held rotor
// has 0.3 to 0.7.
//
// Valid as [Impedance.Divide] and for a rated voltage of 1 V to 35 kV within a
// factor of 2 of the source; otherwise err wraps [ErrDomain].
//
// Source: as [Impedance.Divide]; the least fraction is common practice.
func (z Impedance) AtLockedRotor(source, rated unit.Voltage, locked Impedance) (StartVoltage, error) {
	if !(rated >= source/2 && rated <= source*2 && sourceOK(rated)) {
		return StartVoltage{}, checkRated(source, rated)
	}
	r, x := float64(locked.Resistance), float64(locked.Reactance)
	modulus := math.Hypot(r, x)
	total := math.Hypot(r+float64(z.Resistance), x+float64(z.Reactance))
	if !(z.ok() && locked.ok() && sourceOK(source) && modulus >= minLoad && total >= minLoad) {
		_, err := z.Divide(source, locked)
		return StartVoltage{}, err
	}
	i := float64(source) / total
	v := unit.Voltage(i * modulus)
	fraction := float64(v / rated)
	return StartVoltage{
		Terminal: v,
		Current:  unit.Current(i),
		Fraction: fraction,
		Margin:   fraction/LeastStartVoltage - 1,
		Holds:    fraction >= LeastStartVoltage,
	}, nil
}

func checkRated(source, rated unit.Voltage) error {
	if err := checkSource(source); err != nil {
		return err
	}
	return pkg.Range("rated voltage", float64(rated), max(minSource, float64(source)/2),
		min(maxSource, float64(source)*2), domain.Volt)
}
