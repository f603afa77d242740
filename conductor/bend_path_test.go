package conductor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

const quarter = unit.Angle(math.Pi / 2)

func TestPathByHand(t *testing.T) {
	pair := StudPair{Apart: 0.5, Inside: 90 * mm, Outside: 20 * mm} // axis 100 mm
	least := func(p StudPair) float64 { return float64(must[BendPath](t)(p.Path()).Least) }
	// Face to face a straight cable.
	assert.InDelta(t, 0.5, least(pair), 1e-12)
	// Both up: two quarter turns with the rest of the way between them.
	pair.First, pair.Second = quarter, quarter
	assert.InDelta(t, math.Pi*0.1+0.3, least(pair), 1e-12)
	pair.Apart = 0.2
	assert.InDelta(t, math.Pi*0.1, least(pair), 1e-9, "a half circle")
	// One up, one down: an S, whose straight piece crosses between the circles.
	pair.Apart, pair.Second = 0.5, -quarter
	q := math.Sqrt(0.3*0.3 - 0.2*0.2)
	turn := math.Pi/2 + math.Asin(0.2/0.3) // each arc, crossing tangents
	p := must[BendPath](t)(pair.Path())
	assert.InDelta(t, q, float64(p.Straight), 1e-12)
	assert.InDelta(t, 2*0.1*turn+q, float64(p.Least), 1e-12)
	// A lug that points away: out, around by three quarters of the way and back.
	pair = StudPair{Apart: 1, First: math.Pi, Inside: 90 * mm, Outside: 20 * mm}
	p = must[BendPath](t)(pair.Path())
	assert.Greater(t, float64(p.Least), 1+math.Pi*0.1)
	assert.Less(t, float64(p.Least), 1+2*math.Pi*0.1)
	// Stiff lugs shorten what can bend: up by s, over, down by s.
	pair = StudPair{Apart: 0.5, First: quarter, Second: quarter, Stiff: 50 * mm, Inside: 90 * mm, Outside: 20 * mm}
	assert.InDelta(t, 0.1+math.Pi*0.1+0.3, least(pair), 1e-12)
	// Face to face nearer than the lugs are long: only a loop is left.
	pair = StudPair{Apart: 0.05, Stiff: 50 * mm, Inside: 90 * mm, Outside: 20 * mm}
	assert.Greater(t, least(pair), 2*math.Pi*0.1)
}

func TestBendCheck(t *testing.T) {
	pair := StudPair{Apart: 0.5, First: quarter, Second: quarter, Inside: 90 * mm, Outside: 20 * mm}
	least := unit.Length(math.Pi*0.1 + 0.3)
	c := must[BendCheck](t)(pair.Check(least + 1e-9))
	assert.True(t, c.Holds)
	c = must[BendCheck](t)(pair.Check(least - 1e-3))
	assert.False(t, c.Holds)
	assert.InDelta(t, -1e-3, float64(c.Slack), 1e-9)
	bounds(t, "length of the cable", 0.01, 200, func(x float64) error {
		_, err := pair.Check(unit.Length(x))
		return err
	})
	for says, b := range map[string]struct {
		lo, hi float64
		set    func(*StudPair, float64)
	}{
		"distance of the studs":   {0.01, 100, func(p *StudPair, x float64) { p.Apart = unit.Length(x) }},
		"angle of the first lug":  {-math.Pi, math.Pi, func(p *StudPair, x float64) { p.First = unit.Angle(x) }},
		"angle of the second lug": {-math.Pi, math.Pi, func(p *StudPair, x float64) { p.Second = unit.Angle(x) }},
		"stiff length":            {0, 0.5, func(p *StudPair, x float64) { p.Stiff = unit.Length(x) }},
		"bend radius":             {1e-3, 3, func(p *StudPair, x float64) { p.Inside = unit.Length(x) }},
		"diameter":                {1e-3, 150e-3, func(p *StudPair, x float64) { p.Outside = unit.Length(x) }},
	} {
		try := func(x float64) error {
			p := pair
			b.set(&p, x)
			_, err := p.Check(1)
			return err
		}
		require.NoError(t, try(b.lo), says)
		require.NoError(t, try(b.hi), says)
		for _, x := range []float64{b.lo - 1e-3, b.hi + 1e-3, math.NaN(), math.Inf(1), math.Inf(-1)} {
			refused(t, try(x), says)
		}
	}
}

// walk follows a path and returns where it ends and which way it points.
func walk(p StudPair, b BendPath) (x, y, heading float64) {
	r := float64(p.Inside + p.Outside/2)
	heading = float64(p.First)
	ahead := func(l float64) { x += l * math.Cos(heading); y += l * math.Sin(heading) }
	turn := func(angle float64) {
		side := math.Copysign(r, angle)
		x += side * (math.Sin(heading+angle) - math.Sin(heading))
		y += side * (math.Cos(heading) - math.Cos(heading+angle))
		heading += angle
	}
	ahead(float64(p.Stiff))
	turn(float64(b.First))
	ahead(float64(b.Straight))
	turn(float64(b.Second))
	ahead(float64(p.Stiff))
	return x, y, heading
}

// The path found ends at the second stud against its lug; its parts add up; it is
// never shorter than the distance; exchanged studs and mirrored angles change
// nothing; where the free ends are 4 radii apart, a wider bend is never shorter.
func FuzzBendPath(f *testing.F) {
	f.Add(0.1, 0.2, 0.3, 0.4, 0.5)
	f.Add(0.5, 0.5, 0.5, 0.0, 0.1)
	f.Fuzz(func(t *testing.T, a, b, c, d, e float64) {
		p := StudPair{
			Apart: unit.Length(fold(a, 0.01, 3)), First: unit.Angle(fold(b, -math.Pi, math.Pi)), Second: unit.Angle(fold(c, -math.Pi, math.Pi)),
			Stiff: unit.Length(fold(d, 0, 0.2)), Inside: unit.Length(fold(e, 1e-3, 0.5)), Outside: 10 * mm,
		}
		got, err := p.Path()
		if err != nil {
			t.Fatal(err)
		}
		x, y, heading := walk(p, got)
		if math.Hypot(x-float64(p.Apart), y) > 1e-6 || math.Abs(math.Sin((heading+float64(p.Second))/2)) > 1e-6 {
			t.Fatalf("%+v: %+v ends at %v, %v, heading %v", p, got, x, y, heading)
		}
		r := float64(p.Inside + p.Outside/2)
		sum := 2*float64(p.Stiff) + float64(got.Straight) + r*(math.Abs(float64(got.First))+math.Abs(float64(got.Second)))
		if math.Abs(sum-float64(got.Least)) > 1e-8 || got.Least < p.Apart-1e-9 {
			t.Fatalf("%+v: %+v, parts %v", p, got, sum)
		}
		for _, same := range []StudPair{
			{p.Apart, p.Second, p.First, p.Stiff, p.Inside, p.Outside},
			{p.Apart, -p.First, -p.Second, p.Stiff, p.Inside, p.Outside},
		} {
			other, err := same.Path()
			if err != nil || math.Abs(float64(other.Least-got.Least)) > 1e-6*float64(got.Least)+1e-8 && !nearTie(same) {
				t.Fatalf("%+v: %v; %+v: %v", p, got.Least, same, other.Least)
			}
		}
		wider := p
		wider.Inside *= 1.1
		if s := float64(p.Stiff); float64(p.Apart)-2*s > 4.4*(r+float64(p.Inside)*0.1) {
			wide, err := wider.Path()
			if err != nil || wide.Least < got.Least-1e-9 {
				t.Fatalf("%+v: %v, wider %v, %v", p, got.Least, wide.Least, err)
			}
		}
	})
}

// nearTie is where last bits decide whether an arc is nothing or a whole turn.
func nearTie(p StudPair) bool {
	for _, shift := range []float64{-1e-7, 1e-7} {
		q := p
		q.First += unit.Angle(shift)
		a, errA := p.Path()
		b, errB := q.Path()
		if errA != nil || errB != nil || math.Abs(float64(a.Least-b.Least)) > 1e-4 {
			return true
		}
	}
	return false
}
