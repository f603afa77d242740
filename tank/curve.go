package tank

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// A Curve is the head of a centrifugal pump against its flow, at one speed. It
// is made by [FitCurve], [CurveThrough] or [CurveFromDuty]; the zero value is
// none.
type Curve struct {
	shutOff float64 // H0 at the speed of the points (m)
	a, m    float64 // H0 - a·Q^m, where there are no points
	points  *interp.FritschButland
	knots   []float64 // flows of the points, where their curve is not smooth
	most    float64   // greatest flow that it tells of (m³/s)
	least   float64   // head there (m)
	speed   float64   // over that of the points
}

// A CurvePoint is a flow of a pump and the head at which it delivers that.
type CurvePoint struct {
	Flow FlowRate
	Head unit.Length
}

// A ShutOffError says that a pump delivers nothing: what it would have to lift
// against is its shut-off head or more. The pump churns the same water, which
// gets hot.
type ShutOffError struct {
	Head    unit.Length // to lift against, at no flow
	ShutOff unit.Length // of the pump
}

// Error returns the state in words.
//
// Definition: see [ShutOffError].
func (e *ShutOffError) Error() string {
	return "tank: the pump delivers nothing: " + metres(e.Head) + " to lift against, shut-off head " + metres(e.ShutOff)
}

// ErrBeyondCurve says that a pump would work at less head, and more flow, than
// the last point of its curve tells of.
var ErrBeyondCurve = errors.New("tank: the pump would run beyond the last point of its curve")

func metres(h unit.Length) string {
	return strconv.FormatFloat(float64(h), 'g', 4, 64) + " m (" + strconv.FormatFloat(float64(h/Foot), 'g', 4, 64) + " ft)"
}

// Bounds of pump curves.
const (
	leastHead, mostHead         = unit.Length(1), unit.Length(1000)
	leastExponent, mostExponent = 1.0, 6.0
	leastCurveFlow              = FlowRate(1e-7)
	leastSpeed, mostSpeed       = 0.2, 2.5
)

func flowPointRange(q FlowRate) error {
	return pkg.Range("flow of a curve's point", float64(q), float64(leastCurveFlow), float64(mostFlow), flowUnit)
}

func headRange(name string, h, lo, hi unit.Length) error {
	return pkg.Range(name, float64(h), float64(lo), float64(hi), domain.Metre)
}

// FitCurve returns the curve through a pump's shut-off head and two more
// points,
//
//	H = H0 − a·Q^m
//	m = ln[(H0 − H1)/(H0 − H2)]/ln(Q1/Q2),  a = (H0 − H1)/Q1^m
//
// where H0 is the head with the outlet shut (m), and Q1, H1 and Q2, H2 are the
// flows and heads of the points (m³/s, m), with Q1 < Q2 and H1 > H2. It tells
// of flows up to that at no head. Between and near its points it is as good as
// they are; far beyond the last of them it is a guess.
//
// Valid for heads of 1 to 1000 m, flows to 20 L/s and points that give m of 1
// to 6; otherwise err wraps [ErrDomain].
//
// Source: the three-point curve of public network models.
func FitCurve(shutOff unit.Length, p1, p2 CurvePoint) (Curve, error) {
	err := errors.Join(headRange("shut-off head", shutOff, leastHead, mostHead), flowPointRange(p1.Flow), flowPointRange(p2.Flow))
	if err != nil {
		return Curve{}, err
	}
	err = errors.Join(
		headRange("head of the second point", p2.Head, 0, shutOff),
		headRange("head of the first point", p1.Head, p2.Head, shutOff),
		pkg.Range("flow of the first point", float64(p1.Flow), float64(leastCurveFlow), float64(p2.Flow), flowUnit),
	)
	if err != nil {
		return Curve{}, err
	}
	h0 := float64(shutOff)
	m := math.Log((h0-float64(p1.Head))/(h0-float64(p2.Head))) / math.Log(float64(p1.Flow/p2.Flow))
	if err := pkg.Range("exponent through the points", m, leastExponent, mostExponent, domain.One); err != nil {
		return Curve{}, err
	}
	if math.Abs(m-2) < 1e-12 {
		m = 2 // a parabola, but for the last bits of its points
	}
	return powerCurve(h0, (h0-float64(p2.Head))/math.Pow(float64(p2.Flow), m), m), nil
}

// CurveFromDuty returns a curve that is guessed from one point, that of a
// pump's best efficiency,
//
//	H = 4/3·Hd − Hd/3·(Q/Qd)²
//
// where Qd and Hd are the flow (m³/s) and head (m) of the point. Valid for 1 to
// 750 m and flows to 10 L/s; otherwise err wraps [ErrDomain].
//
// Common practice: the custom of public network models where nothing but the
// duty is known.
func CurveFromDuty(duty CurvePoint) (Curve, error) {
	err := errors.Join(
		headRange("head of the duty", duty.Head, leastHead, 0.75*mostHead),
		pkg.Range("flow of the duty", float64(duty.Flow), float64(leastCurveFlow), float64(mostFlow)/2, flowUnit),
	)
	if err != nil {
		return Curve{}, err
	}
	h, q := float64(duty.Head), float64(duty.Flow)
	return powerCurve(4*h/3, h/3/(q*q), 2), nil
}

func powerCurve(h0, a, m float64) Curve {
	return Curve{shutOff: h0, a: a, m: m, most: math.Pow(h0/a, 1/m), speed: 1}
}

// CurveThrough returns the curve that a table of points gives, with no hills
// between them: cubic pieces that fall wherever the points do. The first point
// is that of no flow, the shut-off head; flows rise and heads fall from each to
// the next. Beyond the last point it tells nothing: see [ErrBeyondCurve].
//
// Valid for 2 to 1000 points, heads to 1000 m and flows to 20 L/s; otherwise
// err wraps [ErrDomain].
//
// Source: F. N. Fritsch, J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300.
func CurveThrough(points []CurvePoint) (Curve, error) {
	n := len(points)
	if n < 2 || n > 1000 {
		return Curve{}, pkg.Invalid("number of a curve's points", strconv.Itoa(n), "2 to 1000")
	}
	q, h := make([]float64, n), make([]float64, n)
	for i, p := range points {
		err := errors.Join(headRange("head of a curve's point", p.Head, 0, mostHead),
			pkg.Range("flow of a curve's point", float64(p.Flow), 0, float64(mostFlow), flowUnit))
		if err != nil {
			return Curve{}, err
		}
		q[i], h[i] = float64(p.Flow), float64(p.Head)
		switch {
		case i == 0 && (q[0] != 0 || p.Head < leastHead):
			return Curve{}, pkg.Invalid("first point of a curve", p.text(), "no flow, and a head of 1 m or more")
		case i > 0 && !(q[i] >= q[i-1]+float64(leastCurveFlow) && h[i] < h[i-1]):
			return Curve{}, pkg.Invalid("point of a curve", p.text(), "more flow and less head than at the point before")
		}
	}
	c := Curve{shutOff: h[0], points: new(interp.FritschButland), knots: q, most: q[n-1], least: h[n-1], speed: 1}
	return c, c.points.Fit(q, h)
}

func (p CurvePoint) text() string {
	return strconv.FormatFloat(float64(p.Flow/USGallonPerMinute), 'g', 4, 64) + " gal/min at " + metres(p.Head)
}

// check refuses the zero value.
func (c Curve) check() error {
	if c.speed == 0 {
		return pkg.Invalid("pump curve", "none", "one of FitCurve, CurveThrough or CurveFromDuty")
	}
	return nil
}

// ShutOff returns the head with the outlet shut, H0 (m).
//
// Definition: the head at no flow.
func (c Curve) ShutOff() unit.Length { return unit.Length(c.speed * c.speed * c.shutOff) }

// RunOut returns the greatest flow that the curve tells of: that at no head, or
// that of the last point.
//
// Definition: the end of the curve.
func (c Curve) RunOut() FlowRate { return FlowRate(c.most * c.speed) }

// Head returns the head at a flow, H0 − a·Q^m or that between the points; see
// [FitCurve] and [CurveThrough]. A flow beyond [Curve.RunOut], or below 0,
// gives an error that wraps [ErrDomain].
//
// Source: as that of the curve.
func (c Curve) Head(q FlowRate) (unit.Length, error) {
	err := errors.Join(c.check(), pkg.Range("pump flow", float64(q), 0, float64(c.RunOut()), flowUnit))
	if err != nil {
		return 0, err
	}
	return unit.Length(c.head(float64(q))), nil
}

func (c Curve) head(q float64) float64 {
	x, rr := q/c.speed, c.speed*c.speed
	switch {
	case c.points != nil:
		return rr * c.points.Predict(x)
	case c.m == 2:
		return rr * max(0, c.shutOff-c.a*x*x) // at the end, 0 but for the last bits
	}
	return rr * max(0, c.shutOff-c.a*math.Pow(x, c.m))
}

// headSlope is the slope of the head at a flow (s/m²), 0 or below.
func (c Curve) headSlope(q float64) float64 {
	x := q / c.speed
	switch {
	case c.points != nil:
		return c.speed * c.points.PredictDerivative(x)
	case c.m == 2:
		return -c.speed * 2 * c.a * x
	}
	return -c.speed * c.a * c.m * math.Pow(x, c.m-1)
}

// Flow returns the flow at a head, the inverse of [Curve.Head]: for the fitted
// curve [(H0 − H)/a]^(1/m). A head of H0 or more gives a [ShutOffError], one
// below the last point [ErrBeyondCurve]; a head outside 0 to 1000 m gives an
// error that wraps [ErrDomain].
//
// Source: as that of the curve.
func (c Curve) Flow(h unit.Length) (FlowRate, error) {
	if err := errors.Join(c.check(), headRange("head", h, 0, mostHead)); err != nil {
		return 0, err
	}
	switch rr := c.speed * c.speed; {
	case float64(h) >= rr*c.shutOff:
		return 0, &ShutOffError{Head: h, ShutOff: c.ShutOff()}
	case float64(h) < rr*c.least:
		return 0, ErrBeyondCurve
	}
	return FlowRate(c.flow(float64(h))), nil
}

// flow is the flow at a head between those of the ends.
func (c Curve) flow(h float64) float64 {
	x := h / (c.speed * c.speed)
	switch {
	case c.points != nil:
		q, err := numeric.Root(func(q float64) float64 { return c.points.Predict(q) - x }, 0, c.most, 0)
		if err != nil { // the last bits of an end
			q = c.most
		}
		return q * c.speed
	case c.m == 2:
		return c.speed * math.Sqrt(max(0, c.shutOff-x)/c.a)
	}
	return c.speed * math.Pow(max(0, c.shutOff-x)/c.a, 1/c.m)
}
