package conductor

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

func TestDevice(t *testing.T) {
	// 100 A all day on a cable of 150 A: 125 A and up, 150 A and down.
	p := Protection{Running: 100, Ampacity: 150}
	d := must[DeviceChoice](t)(p.Device())
	assert.Equal(t, DeviceChoice{Least: 125, Most: 150, Smallest: 125, Largest: 150, Rating: 125}, d)
	// An intermittent load may use the whole device.
	p.Intermittent = true
	d = must[DeviceChoice](t)(p.Device())
	assert.Equal(t, unit.Current(100), d.Rating)
	// The next size up and the boat's limit.
	p = Protection{Running: 100, Ampacity: 130, Limit: NextStandardUp}
	d = must[DeviceChoice](t)(p.Device())
	assert.Equal(t, unit.Current(150), d.Largest)
	p.Limit = BoatLimit
	d = must[DeviceChoice](t)(p.Device())
	assert.Equal(t, unit.Current(195), d.Most)
	assert.Equal(t, unit.Current(175), d.Largest)
	// Above 800 A the next size down.
	p = Protection{Running: 100, Ampacity: 850, Limit: NextStandardUp}
	d = must[DeviceChoice](t)(p.Device())
	assert.Equal(t, unit.Current(800), d.Most)
	// Only fuses have ratings of 1 to 10 A.
	p = Protection{Running: 4, Ampacity: 10, Ratings: StandardFuses}
	d = must[DeviceChoice](t)(p.Device())
	assert.Equal(t, unit.Current(6), d.Rating)
	p.Ratings = StandardBreakers
	_, err := p.Device()
	require.ErrorIs(t, err, ErrNoRating)
}

func TestDeviceInASurge(t *testing.T) {
	p := Protection{Running: 80, Ampacity: 230, Surge: 400, SurgeTime: 1, Ratings: StandardFuses}
	// Nothing known of the device: 400 A would hold for sure, the cable allows 225 A.
	d := must[DeviceChoice](t)(p.Device())
	assert.Equal(t, DeviceChoice{
		Least: 100, Most: 230, ForSurge: 400, Smallest: 100, Largest: 225, Rating: 225, Surge: SurgeUndecided,
	}, d)
	// A strip fuse stands twice its rating for a second.
	p.Withstand = StripFuse.Withstand()
	d = must[DeviceChoice](t)(p.Device())
	assert.Equal(t, unit.Current(200), d.Rating)
	assert.Equal(t, SurgeHolds, d.Surge)
	// A time-delay fuse five times, so that the load decides.
	p.Withstand = TimeDelayFuse.Withstand()
	d = must[DeviceChoice](t)(p.Device())
	assert.Equal(t, unit.Current(100), d.Rating)
	assert.Equal(t, unit.Current(80), d.ForSurge)
	// A surge that lasts longer than any point.
	p.SurgeTime = 11
	d = must[DeviceChoice](t)(p.Device())
	assert.Equal(t, SurgeUndecided, d.Surge)
}

func TestNoRating(t *testing.T) {
	_, err := Protection{Running: 100, Ampacity: 120}.Device()
	require.ErrorIs(t, err, ErrNoRating)
	require.NotErrorIs(t, err, ErrDomain)
	var none *NoRatingError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, NoRatingError{Least: 125, Most: 120, Next: 125}, *none)
	assert.ErrorContains(t, err, "at most 120 A")
}

func TestProtectionBounds(t *testing.T) {
	good := Protection{Running: 100, Ampacity: 4000, Surge: 400, SurgeTime: 1}
	try := func(set func(*Protection, float64)) func(float64) error {
		return func(x float64) error {
			p := good
			set(&p, x)
			_, err := p.Device()
			if errors.Is(err, ErrNoRating) {
				return nil
			}
			return err
		}
	}
	bounds(t, "running current", 1e-3, 4000, try(func(p *Protection, x float64) {
		p.Running, p.Surge, p.SurgeTime = unit.Current(x), 0, 0
	}))
	bounds(t, "ampacity", 1, 4000, try(func(p *Protection, x float64) { p.Ampacity = unit.Current(x) }))
	bounds(t, "surge", 100, 1e5, try(func(p *Protection, x float64) { p.Surge = unit.Current(x) }))
	bounds(t, "surge time", 1e-3, 600, try(func(p *Protection, x float64) { p.SurgeTime = unit.Time(x) }))
	p := good
	p.Limit = 3
	_, err := p.Device()
	refused(t, err, "cable limit")
	p = good
	p.Ratings = 2
	_, err = p.Device()
	refused(t, err, "list of ratings")
	p = good
	p.Withstand = []Withstand{{2, 1}, {0.5, 1}}
	_, err = p.Device()
	refused(t, err, "point 2")
	_, err = Protection{}.Device()
	refused(t, err, "running current")
}

func TestWithstand(t *testing.T) {
	for k := AnyDevice; k <= ThermalMagneticBreaker; k++ {
		points := k.Withstand()
		for n, p := range points {
			assert.True(t, p.ok())
			if n > 0 {
				assert.Greater(t, p.Multiple, points[n-1].Multiple)
				assert.Less(t, p.Time, points[n-1].Time)
			}
		}
		if len(points) > 0 {
			points[0].Multiple = 99
			assert.NotEqual(t, points, k.Withstand(), "the table is the package's own")
		}
	}
	assert.Empty(t, AnyDevice.Withstand())
	assert.Empty(t, DeviceKind(99).Withstand())
	bounds(t, "surge", 1e-3, 1e5, func(x float64) error {
		_, err := LeastRatingForSurge(nil, unit.Current(x), 1)
		return err
	})
	bounds(t, "surge time", 1e-3, 600, func(x float64) error {
		_, err := LeastRatingForSurge(nil, 1, unit.Time(x))
		return err
	})
	bounds(t, "multiple of the rating", 1, 20, func(x float64) error {
		_, err := LeastRatingForSurge([]Withstand{{x, 1}}, 1, 1)
		return err
	})
	// Both sides of a point.
	i := must[unit.Current](t)(LeastRatingForSurge(StripFuse.Withstand(), 700, 0.3))
	assert.InDelta(t, 200, float64(i), 1e-9)
	i = must[unit.Current](t)(LeastRatingForSurge(StripFuse.Withstand(), 700, 0.301))
	assert.InDelta(t, 350, float64(i), 1e-9)
}

// The least rating never falls with the time, and grows in proportion to the
// current.
func FuzzSurge(f *testing.F) {
	f.Add(uint8(2), 0.3, 0.4, 0.1)
	f.Fuzz(func(t *testing.T, kind uint8, a, b, c float64) {
		points := DeviceKind(kind % 5).Withstand()
		i, t1, t2 := unit.Current(fold(a, 1, 5e4)), unit.Time(fold(b, 1e-3, 30)), unit.Time(fold(c, 1e-3, 30))
		if t1 > t2 {
			t1, t2 = t2, t1
		}
		short, err := LeastRatingForSurge(points, i, t1)
		long, err2 := LeastRatingForSurge(points, i, t2)
		if err != nil || err2 != nil || short > long || long > i {
			t.Fatal(short, long, err, err2)
		}
		more, err := LeastRatingForSurge(points, 2*i, t2)
		if err != nil || math.Abs(float64(more/long)-2) > 1e-12 {
			t.Fatal(long, more, err)
		}
	})
}

// Whatever the load and the cable, a rating lies in the window and on the list,
// and it stands the surge where the verdict says so.
func FuzzDevice(f *testing.F) {
	f.Add(0.1, 0.5, 0.2, 0.3, uint8(3), uint8(1))
	f.Fuzz(func(t *testing.T, a, b, c, d float64, kind, flags uint8) {
		p := Protection{
			Running: unit.Current(fold(a, 0.1, 600)), Ampacity: unit.Current(fold(b, 1, 1000)),
			Limit: CableLimit(flags % 3), Ratings: StandardRatings(flags / 3 % 2), Intermittent: flags&64 != 0,
			Withstand: DeviceKind(kind % 4).Withstand(),
		}
		if flags&128 != 0 {
			p.Surge, p.SurgeTime = p.Running*unit.Current(fold(c, 1, 8)), unit.Time(fold(d, 1e-3, 20))
		}
		got, err := p.Device()
		if errors.Is(err, ErrNoRating) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		const slack = 1 + 1e-8
		if got.Rating < got.Smallest || got.Rating > got.Largest || got.Smallest*slack < got.Least || got.Largest > got.Most*slack {
			t.Fatalf("%+v: %+v", p, got)
		}
		if got.Surge == SurgeHolds && got.Rating*slack < got.ForSurge {
			t.Fatalf("%+v: %+v", p, got)
		}
		on := false
		for _, r := range p.Ratings.All() {
			on = on || r == got.Rating
		}
		if !on {
			t.Fatalf("%v is no standard rating", got.Rating)
		}
	})
}

func TestFarthestDevice(t *testing.T) {
	for _, p := range []DevicePlace{3, 255} {
		_, err := FarthestDevice(p)
		refused(t, err, "place of the device")
	}
}

func TestProtectionWords(t *testing.T) {
	for _, words := range [][]string{
		{NotAboveAmpacity.String(), NextStandardUp.String(), BoatLimit.String(), CableLimit(9).String()},
		{NoSurge.String(), SurgeHolds.String(), SurgeUndecided.String(), SurgeVerdict(9).String()},
		{AnyDevice.String(), TimeDelayFuse.String(), StripFuse.String(), ThermalMagneticBreaker.String(), DeviceKind(9).String()},
	} {
		seen := map[string]bool{}
		for _, w := range words {
			assert.NotEmpty(t, w)
			assert.False(t, seen[w], w)
			seen[w] = true
		}
	}
}
