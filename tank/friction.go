package tank

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Friction in pipes by Darcy and Weisbach, for any liquid, pipe and speed.

// A Regime says how water flows in a pipe. The zero value is none.
type Regime byte

// The regimes, by Reynolds number.
const (
	// Laminar is below 2300: friction grows with the flow itself.
	Laminar Regime = iota + 1
	// Transition is from 2300 to 4000, where no formula holds: the flow may
	// switch between the two others. The friction given is the turbulent one,
	// the most it can be.
	Transition
	// Turbulent is above 4000: friction grows nearly as the flow squared.
	Turbulent
)

// String returns "laminar", "transition" or "turbulent".
func (r Regime) String() string {
	switch r {
	case Laminar:
		return "laminar"
	case Transition:
		return "transition"
	case Turbulent:
		return "turbulent"
	}
	return fmt.Sprintf("Regime(%d)", byte(r))
}

const (
	laminarEnd     = 2300.0
	turbulentStart = 4000.0
)

func regime(reynolds float64) Regime {
	switch {
	case reynolds < laminarEnd:
		return Laminar
	case reynolds < turbulentStart:
		return Transition
	}
	return Turbulent
}

// FrictionFactor returns the Darcy friction factor f, four times Fanning's,
//
//	f = 64/Re                                   Re < 2300
//	1/√f = −2·log10(ε/(3.7·D) + 2.51/(Re·√f))   otherwise
//
// where Re is the Reynolds number V·D·ρ/μ and ε/D the roughness over the inner
// diameter, 0 for a smooth pipe. The second equation, of Colebrook, is solved
// to the last bits by Newton's method on 1/√f. Between 2300 and 4000 the
// regime is [Transition] and f is Colebrook's: the truth lies between it and
// 64/Re. Real pipes scatter some 10 % about Colebrook.
//
// Valid for Re 1 to 1e8 and ε/D 0 to 0.05; otherwise err wraps [ErrDomain].
//
// Source: C. F. Colebrook, J. Inst. Civil Engineers 11 (1939) 133; F. M.
// White, Fluid Mechanics, chapter 6.
func FrictionFactor(reynolds, roughness float64) (f float64, r Regime, err error) {
	if !(reynolds >= 1 && reynolds <= 1e8 && roughness >= 0 && roughness <= 0.05) {
		return 0, 0, errors.Join(
			pkg.Range("Reynolds number", reynolds, 1, 1e8, domain.One),
			pkg.Range("relative roughness", roughness, 0, 0.05, domain.One),
		)
	}
	return darcyFactor(reynolds, roughness), regime(reynolds), nil
}

// darcyFactor is [FrictionFactor] without a check.
func darcyFactor(reynolds, roughness float64) float64 {
	if reynolds < laminarEnd {
		return 64 / reynolds
	}
	a, b := roughness/3.7, 2.51/reynolds
	const ln10half = math.Ln10 / 2 // 2·log10(y) is ln(y)/ln10half
	x := -math.Log(a+7*b) / ln10half
	// x + 2·log10(a + b·x) is concave and rises, so that Newton's method
	// comes from below after its first step and cannot leave y > 0.
	for range 8 {
		y := a + b*x
		step := (x + math.Log(y)/ln10half) / (1 + b/(y*ln10half))
		x -= step
		if math.Abs(step) <= 1e-8*x { // the next step would be its square
			break
		}
	}
	return 1 / (x * x)
}

// A Pipe is a straight run of one inner diameter.
type Pipe struct {
	Diameter  unit.Length // D, inside; the nominal size is not it (m)
	Length    unit.Length // L (m)
	Roughness unit.Length // ε, 0 for smooth as plastic (m)
}

// A PipeLoss is what a flow costs in a pipe.
type PipeLoss struct {
	Velocity unit.Velocity // V (m/s)
	Reynolds float64       // Re
	Factor   float64       // f of Darcy
	Regime   Regime
	Head     unit.Length   // h, of water (m)
	Pressure unit.Pressure // ρ·g·h (Pa)
}

// Loss returns the friction of a flow in the pipe,
//
//	V = 4·Q/(π·D²),  Re = V·D·ρ/μ,  h = f·L/D·V²/(2·g)
//
// where Q is the flow (m³/s), D, L the inner diameter and the length (m), ρ
// and μ the water's density (kg/m³) and viscosity (Pa·s), f from
// [FrictionFactor] and g 9.806 65 m/s². Fittings come on top. An inner
// diameter 1 % smaller costs 4.9 % more.
//
// Valid for 1 mL/s to 0.25 m³/s, diameters of 4 mm to 0.4 m, lengths of 1 cm to
// 20 km, roughness to 5 % of the diameter, speeds to 20 m/s, and Re 1 or more;
// otherwise err wraps [ErrDomain].
//
// Source: F. M. White, Fluid Mechanics, chapter 6.
func (p Pipe) Loss(q FlowRate, w Water) (PipeLoss, error) {
	d, l := float64(p.Diameter), float64(p.Length)
	v := velocity(float64(q), d)
	re := v * d * float64(w.Density) / float64(w.Viscosity)
	if !(p.ok() && w.flows() && pipeFlowOK(q) && v <= mostVelocity && re >= 1 && re <= 1e8) {
		return PipeLoss{}, p.lossFaults(q, w, v, re)
	}
	f := darcyFactor(re, float64(p.Roughness)/d)
	h := f * l / d * v * v / (2 * gravity)
	return PipeLoss{
		Velocity: unit.Velocity(v), Reynolds: re, Factor: f, Regime: regime(re),
		Head: unit.Length(h), Pressure: unit.Pressure(float64(w.Density) * gravity * h),
	}, nil
}

// lossFaults is what [Pipe.Loss] refuses.
func (p Pipe) lossFaults(q FlowRate, w Water, v, re float64) error {
	if err := errors.Join(p.faults(), w.densityRange(), w.viscosityRange(), pipeFlowRange(q)); err != nil {
		return err
	}
	return errors.Join(
		pkg.Range("flow velocity", v, 0, mostVelocity, velocityUnit),
		pkg.Range("Reynolds number", re, 1, 1e8, domain.One),
	)
}

// Flow returns the flow that a head h drives through the pipe, the inverse of
// [Pipe.Loss], which Colebrook's equation gives without iteration,
//
//	V = −2·s·log10(ε/(3.7·D) + 2.51·μ/(ρ·D·s)),  s = √(2·g·D·h/L)
//
// or V = g·h·D²·ρ/(32·L·μ) where that flow is laminar. Friction jumps at Re
// 2300; a head within the jump gives the flow at Re 2300, with the regime
// [Transition].
//
// Valid for heads of 1 µm to 1 km that give a flow which [Pipe.Loss] accepts;
// otherwise err wraps [ErrDomain].
//
// Source: F. M. White, Fluid Mechanics, chapter 6.
func (p Pipe) Flow(head unit.Length, w Water) (FlowRate, Regime, error) {
	err := errors.Join(p.faults(), w.densityRange(), w.viscosityRange(),
		pkg.Range("head", float64(head), 1e-6, 1000, domain.Metre))
	if err != nil {
		return 0, 0, err
	}
	d, nu := float64(p.Diameter), float64(w.Viscosity)/float64(w.Density)
	gradient := gravity * float64(head) / float64(p.Length)
	v, r := gradient*d*d/(32*nu), Laminar
	if v*d/nu >= laminarEnd {
		s := math.Sqrt(2 * d * gradient)
		v = -2 * s * math.Log10(float64(p.Roughness)/(3.7*d)+2.51*nu/(d*s))
		v = max(v, laminarEnd*nu/d)
		r = max(regime(v*d/nu), Transition) // at 2300 itself, a bit may be lost
	}
	q := FlowRate(v * math.Pi / 4 * d * d)
	if err := errors.Join(
		pipeFlowRange(q), pkg.Range("flow velocity", v, 0, mostVelocity, velocityUnit),
		pkg.Range("Reynolds number", v*d/nu, 1, 1e8, domain.One)); err != nil {
		return 0, 0, err
	}
	return q, r, nil
}

// velocity is Q/A (m/s) in a round pipe.
func velocity(q, d float64) float64 { return 4 * q / (math.Pi * d * d) }

// Bounds of pipes (m, m³/s, m/s). An inch or a foot without its unit is above
// the widest pipe, and gallons a minute are above the most flow.
const (
	leastDiameter, mostDiameter = unit.Length(0.004), unit.Length(0.4)
	shortestPipe, longestPipe   = unit.Length(0.01), unit.Length(20e3)
	leastPipeFlow, mostPipeFlow = FlowRate(1e-6), FlowRate(0.25)
	mostVelocity                = 20.0
)

func (p Pipe) ok() bool {
	return p.Diameter >= leastDiameter && p.Diameter <= mostDiameter &&
		p.Length >= shortestPipe && p.Length <= longestPipe &&
		p.Roughness >= 0 && p.Roughness <= 0.05*p.Diameter
}

func (p Pipe) faults() error {
	if err := errors.Join(diameterRange(p.Diameter), runRange(p.Length)); err != nil {
		return err
	}
	return pkg.Range("roughness", float64(p.Roughness), 0, 0.05*float64(p.Diameter), domain.Metre)
}

func diameterRange(d unit.Length) error {
	return pkg.Range("inner diameter", float64(d), float64(leastDiameter), float64(mostDiameter), domain.Metre)
}

func runRange(l unit.Length) error {
	return pkg.Range("pipe length", float64(l), float64(shortestPipe), float64(longestPipe), domain.Metre)
}

func pipeFlowOK(q FlowRate) bool { return q >= leastPipeFlow && q <= mostPipeFlow }

func pipeFlowRange(q FlowRate) error {
	return pkg.Range("pipe flow", float64(q), float64(leastPipeFlow), float64(mostPipeFlow), flowUnit)
}

// velocityUnit is the unit of this file's errors.
var velocityUnit = domain.Unit{Symbol: "m/s", Size: 1}
