package inverter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func BenchmarkLimitedUnder(b *testing.B) {
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		l, sum, i := limited12V, 0.0, 0
		for b.Loop() {
			v, _, _ := l.Under(complex(14400/loads[i&15], 2), 0.5)
			sum += float64(v)
			i++
		}
		sink = sum
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		p0, lin, quad, pr := bareIdle, bareLinear, bareQuadratic, bareRated
		voc, r, limit, rating, most, floor, sum, i := bareVoc, bareR, 28.0, 3000.0/120, 3500.0, 9.5, 0.0, 0
		for b.Loop() {
			re, im := 14400/loads[i&15], 2.0
			z := math.Hypot(re, im)
			v := min(120, limit*z, rating*z)
			k, a := (1+lin)*re/(z*z), quad/(pr*z*z)
			if m := min(most, floor*(voc-floor)/r); p0+(k+a*v*v)*v*v > m {
				c := m - p0
				v = math.Sqrt(2 * c / (k + math.Sqrt(k*k+4*a*c)))
			}
			sum += v
			i++
		}
		sink = sum
	})
}

func TestNoAllocationsDCSide(t *testing.T) {
	var err error
	for name, f := range map[string]func(){
		"Under": func() { _, _, err = limited12V.Under(10+2i, 0.5) },
	} {
		assert.Zero(t, testing.AllocsPerRun(100, f), name)
		assert.NoError(t, err, name)
	}
}
