package conductor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A StudPair is two studs that a cable joins, in the plane that the lugs lie in.
// Each lug points away from its stud at an angle to the line that joins the
// studs: 0 towards the other stud, positive angles on both studs to the same side
// of the line. Equal angles make an arch, such as 90° for lugs that stand up from
// a busbar; opposite ones an S.
type StudPair struct {
	Apart         unit.Length // between the centres of the studs
	First, Second unit.Angle  // of the lugs, −180° to 180°
	// Stiff is what cannot bend at either end, from the stud's centre along the
	// lug and its barrel to the first free insulation.
	Stiff unit.Length
	// Inside is the least radius at the inside of a bend, of [BendRadius], and
	// Outside the diameter of the cable; the axis bends by Inside + Outside/2.
	Inside, Outside unit.Length
}

// A BendPath is the shortest way of a cable between two studs: straight along
// the lug, an arc, a straight piece, an arc, straight along the other lug.
type BendPath struct {
	// Least is the length from stud to stud along the axis. A cable that is
	// longer can be laid with a wider bend or out of the plane.
	Least unit.Length
	// First and Second are how far the arcs turn, positive to the left as seen on
	// the way from the first stud, with the second stud ahead and positive angles
	// of the lugs to the left.
	First, Second unit.Angle
	// Straight is the free piece between the arcs.
	Straight unit.Length
}

// Path returns the shortest way with two arcs of the least radius and a straight
// piece between them,
//
//	L = 2·s + R·(|φ1| + |φ2|) + q,  R = r + D/2
//
// where s is the stiff length at each end, r the radius at the inside, D the
// diameter, φ1 and φ2 (rad) the turns and q the straight piece. The circles of
// radius R that touch each lug on its left and on its right are joined by their
// outer and inner tangents, and the shortest of the four ways is taken. It is the
// shortest curve in the plane whose radius is nowhere below R, except where the
// free ends are nearer than 4·R: there three arcs may be shorter, and this length
// is on the safe side. Twist of the cable and its stiffness are left out.
//
// Valid for 1 cm to 100 m apart, angles of −180° to 180°, 0 to 0.5 m of stiff
// length, 1 mm to 3 m of radius and 1 to 150 mm of diameter; otherwise err wraps
// [ErrDomain].
//
// Source: L. E. Dubins, On curves of minimal length with a constraint on average
// curvature, American Journal of Mathematics 79 (1957), pp. 497-516.
func (p StudPair) Path() (BendPath, error) {
	if !p.ok() {
		return BendPath{}, p.check()
	}
	d, s := float64(p.Apart), float64(p.Stiff)
	radius := float64(p.Inside) + float64(p.Outside)/2
	a, b := float64(p.First), float64(p.Second)
	sinA, cosA := math.Sincos(a)
	sinB, cosB := math.Sincos(b)
	// The free ends, in radii; the cable comes in against the second lug.
	x, y := (d-s*cosB-s*cosA)/radius, s*(sinB-sinA)/radius
	best := BendPath{}
	least := math.Inf(1)
	for _, turn := range [...][2]float64{{1, 1}, {-1, -1}, {1, -1}, {-1, 1}} {
		first, q, second, ok := tangent(x, y, a, -b, turn[0], turn[1])
		if l := first + q + second; ok && l < least {
			least = l
			best = BendPath{
				Least: unit.Length(2*s + l*radius), Straight: unit.Length(q * radius),
				First: unit.Angle(first * turn[0]), Second: unit.Angle(second * turn[1]),
			}
		}
	}
	return best, nil
}

// tangent returns turn, straight piece and turn of the way from the origin with
// heading a to (x, y) with heading b on circles of radius 1, m and n being 1 for a
// left and −1 for a right turn. Crossing tangents do not exist where the circles
// overlap.
func tangent(x, y, a, b, m, n float64) (first, q, second float64, ok bool) {
	sinA, cosA := math.Sincos(a)
	sinB, cosB := math.Sincos(b)
	// From centre to centre.
	u, v := x-n*sinB+m*sinA, y+n*cosB-m*cosA
	c := math.Hypot(u, v)
	heading := math.Atan2(v, u)
	if m == n {
		q = c
	} else {
		if c < 2 {
			return 0, 0, 0, false
		}
		q = math.Sqrt(c*c - 4)
		heading += m * math.Atan2(2, q)
	}
	if c < 1e-9 { // one circle: the first arc is the whole turn
		return full(m * (b - a)), 0, 0, true
	}
	return full(m * (heading - a)), q, full(n * (b - heading)), true
}

// full brings a turn into [0, 2π); a hair below a whole turn is none.
func full(turn float64) float64 {
	turn = math.Mod(turn, 2*math.Pi)
	if turn < 0 {
		turn += 2 * math.Pi
	}
	if turn > 2*math.Pi-1e-9 {
		return 0
	}
	return turn
}

// A BendCheck says whether a cable of one length can join two studs.
type BendCheck struct {
	Path  BendPath
	Slack unit.Length // length less Path.Least; negative where the cable is too short
	Holds bool        // whether the cable is long enough
}

// Check returns whether a cable of a length, from stud to stud along its axis,
// can be bent between the studs: whether the length is not below that of
// [StudPair.Path].
//
// Valid for 1 cm to 200 m and as [StudPair.Path]; otherwise err wraps
// [ErrDomain].
//
// Source: as [StudPair.Path].
func (p StudPair) Check(length unit.Length) (BendCheck, error) {
	if err := pkg.Range("length of the cable", float64(length), minLength, 2*maxApart, domain.Metre); err != nil {
		return BendCheck{}, errors.Join(err, p.check())
	}
	path, err := p.Path()
	if err != nil {
		return BendCheck{}, err
	}
	slack := length - path.Least
	return BendCheck{path, slack, slack >= 0}, nil
}

const (
	maxApart = 100 // (m)
	maxStiff = 0.5
	maxBent  = 3
	halfTurn = math.Pi * (1 + 1e-9)
)

func (p StudPair) ok() bool {
	return p.Apart >= minLength && p.Apart <= maxApart && p.First >= -halfTurn && p.First <= halfTurn &&
		p.Second >= -halfTurn && p.Second <= halfTurn && p.Stiff >= 0 && p.Stiff <= maxStiff &&
		p.Inside >= 1e-3 && p.Inside <= maxBent && p.Outside >= minOutside && p.Outside <= maxOutside
}

var degree = domain.Unit{Symbol: "°", Size: math.Pi / 180, Base: "rad"}

func (p StudPair) check() error {
	return errors.Join(
		pkg.Range("distance of the studs", float64(p.Apart), minLength, maxApart, domain.Metre),
		pkg.Range("angle of the first lug", float64(p.First), -halfTurn, halfTurn, degree),
		pkg.Range("angle of the second lug", float64(p.Second), -halfTurn, halfTurn, degree),
		pkg.Range("stiff length", float64(p.Stiff), 0, maxStiff, inMillimetres),
		pkg.Range("bend radius", float64(p.Inside), 1e-3, maxBent, inMillimetres),
		pkg.Range("diameter", float64(p.Outside), minOutside, maxOutside, inMillimetres))
}
