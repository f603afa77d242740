package numeric

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/reftest"
)

func TestMain(m *testing.M) { reftest.Main(m) }

// functions are those of testdata/numeric/roots.csv.
var functions = map[string]func(float64) float64{
	"x^3-2x-5": func(x float64) float64 { return x*x*x - 2*x - 5 },
	"cos x-x":  func(x float64) float64 { return math.Cos(x) - x },
	"x e^x-1":  func(x float64) float64 { return x*math.Exp(x) - 1 },
	"x^2-2":    func(x float64) float64 { return x*x - 2 },
	"x^2-x-1":  func(x float64) float64 { return x*x - x - 1 },
	"sin x":    math.Sin,
	"e^x-10":   func(x float64) float64 { return math.Exp(x) - 10 },
	"x tan x-1": func(x float64) float64 {
		return x*math.Sin(x) - math.Cos(x)
	},
	"J0": math.J0,
}

func TestRoots(t *testing.T) {
	for _, row := range reftest.Rows(t, "numeric/roots.csv") {
		f, ok := functions[row.Text("function")]
		require.True(t, ok, row.Source())
		lo, hi := row.Float("from"), row.Float("to")
		x, err := Root(f, lo, hi, 0)
		require.NoError(t, err, row.Source())
		row.Printed("root", x)
		back, err := Root(f, hi, lo, 0)
		require.NoError(t, err, row.Source())
		assert.InEpsilon(t, x, back, 1e-14, "the interval turned round")
	}
}

// counted counts the evaluations of f, which bounds the steps.
func counted(t *testing.T, f func(float64) float64) func(float64) float64 {
	t.Helper()
	n := 0
	return func(x float64) float64 {
		if n++; n > 4000 {
			t.Fatal("does not end")
		}
		return f(x)
	}
}

func TestRootFlatAndSteep(t *testing.T) {
	for name, tt := range map[string]struct {
		f          func(float64) float64
		a, b, root float64
		within     float64
	}{
		"ninth power": {func(x float64) float64 { return math.Pow(x-0.3, 9) }, -1, 2, 0.3, 1e-9},
		"step":        {func(x float64) float64 { return math.Copysign(1, x-0.7) }, 0, 1, 0.7, 1e-9},
		"pole":        {func(x float64) float64 { return 1 / (x - 0.4) }, 0, 1, 0.4, 1e-9},
		"cube root":   {func(x float64) float64 { return math.Cbrt(x - 0.1) }, -3, 5, 0.1, 1e-9},
		"infinite ends": {
			func(x float64) float64 { return math.Log(x) - math.Log(1-x) }, 0, 1, 0.5, 1e-9,
		},
		"tiny":       {func(x float64) float64 { return x - 1e-200 }, 0, 1, 1e-200, 1e-9},
		"huge":       {func(x float64) float64 { return x - 1e200 }, 0, 1e300, 1e200, 1e187},
		"under flow": {func(x float64) float64 { return 1e-300 * (x - 0.25) }, 0, 1, 0.25, 1e-9},
	} {
		x, err := Root(counted(t, tt.f), tt.a, tt.b, 1e-10)
		require.NoError(t, err, name)
		assert.InDelta(t, tt.root, x, tt.within, name)
	}
}

func TestRootAtTheEnds(t *testing.T) {
	f := func(x float64) float64 { return x - 2 }
	for _, ends := range [][2]float64{{2, 5}, {-1, 2}, {2, 2}, {5, 2}, {2, -1}} {
		x, err := Root(counted(t, f), ends[0], ends[1], 1e-9)
		require.NoError(t, err, ends)
		assert.InDelta(t, 2, x, 0, ends)
	}
	zero := func(float64) float64 { return 0 }
	_, err := Root(counted(t, zero), 0, 1, 0)
	require.NoError(t, err, "zero everywhere")
	minus := func(x float64) float64 { return math.Copysign(0, -1) * (1 + x*x) }
	_, err = Root(counted(t, minus), 0, 1, 0)
	require.NoError(t, err, "minus zero everywhere")
}

func TestRootRefuses(t *testing.T) {
	nan := math.NaN()
	line := func(x float64) float64 { return x - 2 }
	for name, tt := range map[string]struct {
		f    func(float64) float64
		a, b float64
	}{
		"no sign change": {func(x float64) float64 { return x*x + 1 }, -1, 1},
		"both negative":  {line, -1, 1},
		"NaN everywhere": {func(float64) float64 { return nan }, 0, 1},
		"NaN at one end": {math.Log, -1, 2},
		"NaN inside": {func(x float64) float64 {
			if x > 0.2 && x < 0.9 {
				return nan
			}
			return x - 0.5
		}, 0, 1},
		"end is NaN":         {line, nan, 5},
		"end is infinite":    {line, 0, math.Inf(1)},
		"ends are infinite":  {line, math.Inf(-1), math.Inf(1)},
		"one infinite twice": {line, math.Inf(1), math.Inf(1)},
		"length overflows":   {line, -math.MaxFloat64, math.MaxFloat64},
	} {
		x, err := Root(counted(t, tt.f), tt.a, tt.b, 1e-9)
		require.ErrorIs(t, err, ErrBracket, name)
		assert.Zero(t, x, name)
	}
}

func TestRootTolerance(t *testing.T) {
	f := func(x float64) float64 { return x*x - 2 }
	for _, tol := range []float64{0, 1e-15, 1e-6, 1e-2, 1, -1, math.NaN()} {
		x, err := Root(counted(t, f), 0, 2, tol)
		require.NoError(t, err, tol)
		assert.InDelta(t, math.Sqrt2, x, math.Max(1e-15, tol)*(1+1e-9), tol)
	}
	x, err := Root(counted(t, f), 0, 2, math.Inf(1))
	require.NoError(t, err)
	assert.True(t, x >= 0 && x <= 2)
}

// The root of a cubic with three known roots lies within the tolerance of one
// of them, and inside the interval.
func FuzzRoot(f *testing.F) {
	f.Add(0.0, 1.0, 2.0, -5.0, 1.5)
	f.Add(3.0, 3.0, 3.0, 0.0, 10.0)
	f.Fuzz(func(t *testing.T, r, s, q, a, b float64) {
		for _, x := range []float64{r, s, q, a, b} {
			if !(math.Abs(x) <= 1e6) {
				return
			}
		}
		g := func(x float64) float64 { return (x - r) * (x - s) * (x - q) }
		x, err := Root(counted(t, g), a, b, 1e-7)
		if err != nil {
			if (g(a) < 0) != (g(b) < 0) {
				t.Errorf("%v to %v: %v", a, b, err)
			}
			return
		}
		if !(x >= math.Min(a, b) && x <= math.Max(a, b)) {
			t.Errorf("%v outside %v to %v", x, a, b)
		}
		near := math.Min(math.Abs(x-r), math.Min(math.Abs(x-s), math.Abs(x-q)))
		if g(x) != 0 && !(near <= 1e-7+1e-15*math.Abs(x)+1e-9) {
			t.Errorf("%v is %v off", x, near)
		}
	})
}

func BenchmarkRoot(b *testing.B) {
	c := 2.0
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			x, err := Root(func(x float64) float64 { return x*x - c }, 0, 2, 1e-9)
			if err != nil {
				b.Fatal(x, err)
			}
			c = 1 + x/2
		}
	})
	b.Run("bare", func(b *testing.B) {
		for b.Loop() {
			c = 1 + math.Sqrt(c)/2
		}
	})
}

func TestRootAllocatesNothing(t *testing.T) {
	c := 2.0
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		x, err := Root(func(x float64) float64 { return x*x - c }, 0, 2, 1e-9)
		if err != nil {
			t.Error(err)
		}
		c = 1 + x/2
	}))
}
