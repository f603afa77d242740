package tank

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// An Input is the electrical power that a pump draws, against its flow. It is
// made by [InputThrough] or [InputFromEfficiency]; the zero value is not known,
// and energies are then 0.
type Input struct {
	lo, hi float64 // flows between which it is known (m³/s)
	points *interp.FritschButland
	knots  []float64 // flows of the points, where their curve is not smooth
	steady float64   // power, where there are no points (W)
	speed  float64   // over that of the points
}

// An InputPoint is a flow of a pump and the power that it draws there.
type InputPoint struct {
	Flow  FlowRate
	Power unit.Power
}

// InputThrough returns the input through measured points, flows rising. One
// point gives one power at all flows; between two there is a straight line,
// among more a smooth curve without hills of its own. Outside the points the
// power of the nearest holds.
//
// Valid for 1 to 1000 points of 1 W to 30 kW and flows to 20 L/s; otherwise err
// wraps [ErrDomain].
//
// Source: F. N. Fritsch, J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300.
func InputThrough(points []InputPoint) (Input, error) {
	n := len(points)
	if n < 1 || n > 1000 {
		return Input{}, pkg.Invalid("number of input points", strconv.Itoa(n), "1 to 1000")
	}
	q, p := make([]float64, n), make([]float64, n)
	for i, at := range points {
		err := errors.Join(
			pkg.Range("flow of an input point", float64(at.Flow), 0, float64(mostFlow), flowUnit),
			pkg.Range("input power", float64(at.Power), 1, 30e3, domain.Watt),
		)
		if err != nil {
			return Input{}, err
		}
		q[i], p[i] = float64(at.Flow), float64(at.Power)
		if i > 0 && !(q[i] >= q[i-1]+float64(leastCurveFlow)) {
			return Input{}, pkg.Invalid("flow of an input point",
				strconv.FormatFloat(float64(at.Flow/USGallonPerMinute), 'g', 4, 64)+" gal/min", "more than that of the point before")
		}
	}
	if n == 1 {
		return Input{steady: p[0], speed: 1}, nil
	}
	in := Input{lo: q[0], hi: q[n-1], points: new(interp.FritschButland), knots: q, speed: 1}
	return in, in.points.Fit(q, p)
}

// An EfficiencyAt is a flow of a pump and its efficiency from wire to water.
type EfficiencyAt struct {
	Flow       FlowRate
	Efficiency float64
}

// InputFromEfficiency returns the input of a pump whose efficiency from wire to
// water is known at some flows,
//
//	P = ρ·g·Q·H(Q)/η
//
// at each of them, where ρ is the density (kg/m³), g 9.806 65 m/s², Q the flow
// (m³/s), H its head on the curve (m) and η the efficiency, 0.01 to 0.9, of pump
// and motor together. Between the points it is read as [InputThrough] does;
// a flow of 0 has no efficiency, so that the least flow stands for those below.
//
// Outside the ranges, and for a flow at which the curve has no head, err wraps
// [ErrDomain].
//
// Source: definition of efficiency; hydraulic power ρ·g·Q·H.
func InputFromEfficiency(c Curve, density Density, points []EfficiencyAt) (Input, error) {
	if err := errors.Join(c.check(), Water{Density: density}.densityRange()); err != nil {
		return Input{}, err
	}
	in := make([]InputPoint, len(points))
	for i, p := range points {
		h, err := c.Head(p.Flow)
		err = errors.Join(err, flowPointRange(p.Flow), pkg.Range("efficiency", p.Efficiency, 0.01, 0.9, domain.One))
		if err != nil {
			return Input{}, err
		}
		in[i] = InputPoint{Flow: p.Flow, Power: unit.Power(float64(density) * gravity * float64(p.Flow) * float64(h) / p.Efficiency)}
	}
	return InputThrough(in)
}

// AtSpeed returns the input at another speed, by the affinity laws,
//
//	P(Q) = r³·P1(Q/r)
//
// where r is the ratio of the speeds, in all 0.2 to 2.5; otherwise err wraps
// [ErrDomain]. It leaves out that the motor's own efficiency changes.
//
// Source: affinity laws, see [Affinity].
func (in Input) AtSpeed(r float64) (Input, error) {
	if !in.known() {
		return Input{}, pkg.Invalid("pump input", "none", "one of InputThrough or InputFromEfficiency")
	}
	if err := pkg.Range("speed ratio", r*in.speed, leastSpeed, mostSpeed, domain.One); err != nil {
		return Input{}, err
	}
	in.speed *= r
	return in, nil
}

// Power returns the power drawn at a flow, 0 to 20 L/s; otherwise, or with
// nothing known, err wraps [ErrDomain].
//
// Source: as that of the input.
func (in Input) Power(q FlowRate) (unit.Power, error) {
	if !in.known() {
		return 0, pkg.Invalid("pump input", "none", "one of InputThrough or InputFromEfficiency")
	}
	if err := pkg.Range("pump flow", float64(q), 0, float64(mostFlow), flowUnit); err != nil {
		return 0, err
	}
	return unit.Power(in.power(float64(q))), nil
}

func (in Input) known() bool { return in.speed != 0 }

func (in Input) power(q float64) float64 {
	r := in.speed
	if in.points == nil {
		return r * r * r * in.steady
	}
	return r * r * r * in.points.Predict(min(max(q/r, in.lo), in.hi))
}
