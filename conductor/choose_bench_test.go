package conductor

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/unit"
)

// BenchmarkChoose goes through the whole list of AWG with drop running and
// starting, ampacity, short-time current and terminals. The bare form is the same
// arithmetic written out for one wire, without checks of arguments and without
// the report, over the same list: from the smallest size until one passes.
func BenchmarkChoose(b *testing.B) {
	l, sizes := batteryCable(), AWGSizes()
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		x := unit.Current(187)
		var got Choice
		for b.Loop() {
			l.LeastAmpacity = x
			got, _ = l.ChooseSize(flexible, sizes)
			x += 1e-9
		}
		if got.Candidate.Wire.Size != AWG(1) {
			b.Fatal(got.Candidate.Wire.Size)
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		x := 187.0
		var got int
		for b.Loop() {
			got = bareChoice(x)
			x += 1e-9
		}
		if got != 1 {
			b.Fatal(got)
		}
	})
}

// bareChoice is the arithmetic of batteryCable.
func bareChoice(ampacity float64) int {
	const (
		rho, alpha     = 1e-6 / 58 * 1.05, 0.00393
		derating       = 0.85
		smallest, most = 8, -3
	)
	k := 226 * math.Sqrt(math.Log((234.5+250)/(234.5+105))) * 1e6
	table := [...]float64{
		445, 385, 330, 285, 245, 210, 180, 160, 0, 120, 0, 80, 0, 60, 0, 45, 0, 35, 0, 25, 0, 20,
	}
	for n := 40; n >= -3; n-- {
		d := 5 * math.Pow(92, (36-float64(n))/39) * 25.4e-6
		a := math.Pi / 4 * d * d
		loop := 2 * 2 * rho / a * (1 + alpha*(60-20))
		least := 400 * math.Sqrt(1) / k
		i := 0.0
		if n+3 < len(table) {
			i = table[n+3] * derating
		}
		if loop*150 <= 0.36 && loop*400 <= 1.2 && ampacity <= i && least <= a && n <= smallest && n >= most {
			return n
		}
	}
	return 99
}

func BenchmarkBendPath(b *testing.B) {
	p := StudPair{Apart: 0.5, First: quarter, Second: 0.3, Stiff: 30 * mm, Inside: 90 * mm, Outside: 20 * mm}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		var sum unit.Length
		for b.Loop() {
			got, _ := p.Path()
			sum += got.Least
			p.Second += 1e-9
		}
		if sum == 0 {
			b.Fatal(sum)
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		sum, second := 0.0, 0.3
		for b.Loop() {
			sum += barePath(0.5, math.Pi/2, second, 0.03, 0.1)
			second += 1e-9
		}
		if sum == 0 {
			b.Fatal(sum)
		}
	})
}

// barePath is the shortest of the four ways, its length alone.
func barePath(d, a, b, s, r float64) float64 {
	sa, ca := math.Sincos(a)
	sb, cb := math.Sincos(b)
	x, y := (d-s*cb-s*ca)/r, s*(sb-sa)/r
	whole := func(t float64) float64 {
		t = math.Mod(t, 2*math.Pi)
		if t < 0 {
			t += 2 * math.Pi
		}
		return t
	}
	least := math.Inf(1)
	for _, w := range [...][2]float64{{1, 1}, {-1, -1}, {1, -1}, {-1, 1}} {
		m, n := w[0], w[1]
		u, v := x+n*sb+m*sa, y+n*cb-m*ca
		c, h := math.Hypot(u, v), math.Atan2(v, u)
		q := c
		if m != n {
			if c < 2 {
				continue
			}
			q = math.Sqrt(c*c - 4)
			h += m * math.Atan2(2, q)
		}
		least = min(least, q+whole(m*(h-a))+whole(n*(-b-h)))
	}
	return 2*s + least*r
}

func BenchmarkDevice(b *testing.B) {
	points := StripFuse.Withstand()
	p := Protection{Running: 80, Ampacity: 230, Surge: 400, SurgeTime: 1, Ratings: StandardFuses, Withstand: points}
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		var sum unit.Current
		for b.Loop() {
			got, _ := p.Device()
			sum += got.Rating
			p.Running += 1e-9
		}
		if sum == 0 {
			b.Fatal(sum)
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		sum, running := 0.0, 80.0
		for b.Loop() {
			multiple := 1.0
			for _, w := range points {
				if float64(w.Time) >= 1 {
					multiple = max(multiple, w.Multiple)
				}
			}
			least := max(1.25*running, 400/multiple)
			for _, r := range fuseRatings {
				if r >= least && r <= 230 {
					sum += r
					break
				}
			}
			running += 1e-9
		}
		if sum == 0 {
			b.Fatal(sum)
		}
	})
}
