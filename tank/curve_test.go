package tank

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// powerLaw is the curve H0 - a·Q^m in ft and gal/min, through two of its
// points.
func powerLaw(t testing.TB, h0, a, m float64) Curve {
	t.Helper()
	run := math.Pow(h0/a, 1/m)
	at := func(q float64) CurvePoint {
		return CurvePoint{Flow: FlowRate(q) * USGallonPerMinute, Head: unit.Length(h0-a*math.Pow(q, m)) * Foot}
	}
	c, err := FitCurve(unit.Length(h0)*Foot, at(0.5*run), at(0.8*run))
	require.NoError(t, err)
	return c
}

func TestThreePointCurves(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/operating_points.csv") {
		quantity := r.Text("quantity")
		switch quantity {
		case "shutoff_head":
			c, err := CurveFromDuty(CurvePoint{
				Flow: FlowRate(r.Param("q_design", "gpm")) * USGallonPerMinute, Head: unit.Length(r.Param("h_design", "ft")) * Foot,
			})
			require.NoError(t, err)
			r.Expected(float64(c.ShutOff() / Foot))
			assert.InEpsilon(t, 20, float64(c.RunOut()/USGallonPerMinute), 1e-12, "twice the flow of the duty")
		case "curve_exponent", "curve_coefficient":
			point := func(i string) CurvePoint {
				return CurvePoint{
					Flow: FlowRate(r.Param("q"+i, "")) * USGallonPerMinute, Head: unit.Length(r.Param("h"+i, "")) * Foot,
				}
			}
			c, err := FitCurve(point("0").Head, point("1"), point("2"))
			require.NoError(t, err)
			// H0 - H(1 gal/min) is the coefficient; ten times the flow gives the exponent.
			loss := func(q FlowRate) float64 {
				h, err := c.Head(q * USGallonPerMinute)
				require.NoError(t, err)
				return float64((c.ShutOff() - h) / Foot)
			}
			if quantity == "curve_coefficient" {
				r.Expected(loss(1))
			} else {
				r.Expected(math.Log10(loss(10) / loss(1)))
			}
		}
	}
}

func TestAffinity(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/affinity.csv") {
		a, err := Affinity(r.Param("speed_ratio", ""))
		require.NoError(t, err)
		if r.Text("quantity") == "head_ratio" {
			r.Expected(a.Head)
		} else {
			r.Expected(a.Flow * r.Param("flow1", "L/s"))
		}
		assert.InEpsilon(t, a.Flow*a.Head, a.Power, 1e-15, "power is flow times head")
	}
	_, err := Affinity(math.NaN())
	refused(t, err, "speed ratio")
}

// Each point of a curve moves by the ratios.
func TestCurveAtSpeed(t *testing.T) {
	table, err := CurveThrough([]CurvePoint{{0, 70}, {0.2e-3, 66}, {0.5e-3, 50}, {0.8e-3, 20}})
	require.NoError(t, err)
	for _, c := range []Curve{powerLaw(t, 180, 0.6, 2), powerLaw(t, 235, 1.52648, 1.77923), table} {
		for _, r := range []float64{0.5, 0.9, 1.1} {
			slow, err := c.AtSpeed(r)
			require.NoError(t, err)
			a, err := Affinity(r)
			require.NoError(t, err)
			assert.InEpsilon(t, float64(c.ShutOff())*a.Head, float64(slow.ShutOff()), 1e-14)
			assert.InEpsilon(t, float64(c.RunOut())*a.Flow, float64(slow.RunOut()), 1e-14)
			for _, share := range []float64{0, 0.3, 0.7, 0.99} {
				q := c.RunOut() * FlowRate(share)
				h, err := c.Head(q)
				require.NoError(t, err)
				got, err := slow.Head(q * FlowRate(a.Flow))
				require.NoError(t, err)
				assert.InEpsilon(t, float64(h)*a.Head, float64(got), 1e-12)
				flow, err := slow.Flow(got)
				if share > 0 {
					require.NoError(t, err)
					assert.InEpsilon(t, float64(q)*a.Flow, float64(flow), 1e-9)
				} else {
					var off *ShutOffError
					require.ErrorAs(t, err, &off)
					assert.InEpsilon(t, float64(slow.ShutOff()), float64(off.ShutOff), 1e-15)
				}
			}
			back, err := slow.AtSpeed(1 / r)
			require.NoError(t, err)
			assert.InEpsilon(t, float64(c.ShutOff()), float64(back.ShutOff()), 1e-14)
		}
	}
	_, err = table.AtSpeed(0.1)
	refused(t, err, "speed ratio")
	_, err = Curve{}.AtSpeed(1)
	refused(t, err, "pump curve")
}

// A table goes through its points, and no head lies outside its neighbours'.
func TestCurveThrough(t *testing.T) {
	points := []CurvePoint{{0, 70}, {0.1e-3, 69.9}, {0.2e-3, 60}, {0.5e-3, 59}, {0.8e-3, 20}}
	c, err := CurveThrough(points)
	require.NoError(t, err)
	last := unit.Length(math.Inf(1))
	for i, p := range points {
		h, err := c.Head(p.Flow)
		require.NoError(t, err)
		assert.InDelta(t, float64(p.Head), float64(h), 1e-12)
		if i == 0 {
			continue
		}
		for _, share := range []FlowRate{0.01, 0.3, 0.6, 0.99} {
			h, err := c.Head(points[i-1].Flow + share*(p.Flow-points[i-1].Flow))
			require.NoError(t, err)
			assert.True(t, h < last && h >= p.Head, "falls from point to point")
			last = h
			q, err := c.Flow(h)
			require.NoError(t, err)
			back, err := c.Head(q)
			require.NoError(t, err)
			assert.InDelta(t, float64(h), float64(back), 1e-10)
		}
	}
	_, err = c.Flow(19)
	require.ErrorIs(t, err, ErrBeyondCurve)
	var off *ShutOffError
	_, err = c.Flow(70)
	require.ErrorAs(t, err, &off)
	assert.Contains(t, err.Error(), "tank: the pump delivers nothing: 70 m (229.7 ft) to lift against")
}

func TestCurveRefuses(t *testing.T) {
	good := []CurvePoint{{0, 70}, {0.5e-3, 50}}
	for name, points := range map[string][]CurvePoint{
		"number of a curve's points": good[:1],
		"first point of a curve":     {{0.1e-3, 70}, {0.5e-3, 50}},
		"point of a curve":           {{0, 70}, {0.5e-3, 70}},
		"flow of a curve's point":    {{0, 70}, {10, 50}},
		"head of a curve's point":    {{0, 70}, {0.5e-3, unit.Length(math.NaN())}},
	} {
		_, err := CurveThrough(points)
		refused(t, err, name)
	}
	p, q := CurvePoint{0.3e-3, 60}, CurvePoint{0.6e-3, 30}
	_, err := FitCurve(70, p, q)
	require.NoError(t, err)
	for name, f := range map[string]func() (Curve, error){
		"shut-off head":               func() (Curve, error) { return FitCurve(0, p, q) },
		"head of the second point":    func() (Curve, error) { return FitCurve(20, p, q) },
		"head of the first point":     func() (Curve, error) { return FitCurve(70, CurvePoint{p.Flow, 20}, q) },
		"flow of the first point":     func() (Curve, error) { return FitCurve(70, CurvePoint{q.Flow * 2, 60}, q) },
		"exponent through the points": func() (Curve, error) { return FitCurve(70, CurvePoint{q.Flow * 0.99, 69}, q) },
		"flow of a curve's point":     func() (Curve, error) { return FitCurve(70, CurvePoint{5, 60}, q) },
		"head of the duty":            func() (Curve, error) { return CurveFromDuty(CurvePoint{p.Flow, 0}) },
		"flow of the duty":            func() (Curve, error) { return CurveFromDuty(CurvePoint{5, 40}) },
	} {
		_, err := f()
		refused(t, err, name)
	}
	// Bounds of a duty, and of the number of points.
	for _, duty := range []CurvePoint{{9.9e-3, 1.01}, {1e-3, 749}} {
		_, err = CurveFromDuty(duty)
		require.NoError(t, err)
	}
	for _, duty := range []CurvePoint{{10.1e-3, 40}, {1e-3, 751}, {1e-3, 0.99}} {
		_, err = CurveFromDuty(duty)
		require.ErrorIs(t, err, ErrDomain)
	}
	many := make([]CurvePoint, 1001)
	for i := range many {
		many[i] = CurvePoint{FlowRate(i) * 1e-6, unit.Length(1000 - 0.5*float64(i))}
	}
	_, err = CurveThrough(many)
	refused(t, err, "number of a curve's points")
	_, err = CurveThrough(many[:1000])
	require.NoError(t, err)
	for _, x := range notNumbers {
		c, err := FitCurve(70, p, q)
		require.NoError(t, err)
		_, err = c.Head(FlowRate(x))
		refused(t, err, "pump flow")
		_, err = c.Flow(unit.Length(x))
		refused(t, err, "head")
		_, err = FitCurve(unit.Length(x), p, q)
		require.ErrorIs(t, err, ErrDomain)
		_, err = CurveFromDuty(CurvePoint{FlowRate(x), unit.Length(x)})
		require.ErrorIs(t, err, ErrDomain)
	}
}

func TestInput(t *testing.T) {
	in, err := InputThrough([]InputPoint{{0, 500}, {1e-3, 900}})
	require.NoError(t, err)
	p, err := in.Power(0.25e-3)
	require.NoError(t, err)
	assert.InDelta(t, 600, float64(p), 1e-9, "a straight line")
	p, err = in.Power(2e-3)
	require.NoError(t, err)
	assert.InDelta(t, 900, float64(p), 1e-9, "that of the last point")
	slow, err := in.AtSpeed(0.5)
	require.NoError(t, err)
	p, err = slow.Power(0.125e-3)
	require.NoError(t, err)
	assert.InDelta(t, 600.0/8, float64(p), 1e-9, "the cube of the speed")

	steady, err := InputThrough([]InputPoint{{0, 700}})
	require.NoError(t, err)
	p, err = steady.Power(1e-3)
	require.NoError(t, err)
	assert.InDelta(t, 700, float64(p), 0)
	half, err := steady.AtSpeed(0.5)
	require.NoError(t, err)
	p, err = half.Power(1e-3)
	require.NoError(t, err)
	assert.InDelta(t, 700.0/8, float64(p), 1e-12)
	_, err = half.AtSpeed(0.39)
	refused(t, err, "speed ratio")
	_, err = half.AtSpeed(0.41)
	require.NoError(t, err)
	_, err = steady.Power(mostFlow)
	require.NoError(t, err)
	_, err = InputThrough([]InputPoint{{0, 500}, {leastCurveFlow, 600}})
	require.NoError(t, err)
	_, err = InputThrough([]InputPoint{{0, 500}, {leastCurveFlow * 0.99, 600}})
	refused(t, err, "flow of an input point")

	// 1 L/s against 40 m at 1000 kg/m³ is 392 W in the water.
	c, err := FitCurve(60, CurvePoint{0.5e-3, 55}, CurvePoint{1e-3, 40})
	require.NoError(t, err)
	in, err = InputFromEfficiency(c, 1000, []EfficiencyAt{{0.5e-3, 0.3}, {1e-3, 0.4}})
	require.NoError(t, err)
	p, err = in.Power(1e-3)
	require.NoError(t, err)
	assert.InEpsilon(t, 9.80665*40/0.4, float64(p), 1e-12)

	for name, f := range map[string]func() (Input, error){
		"number of input points":  func() (Input, error) { return InputThrough(nil) },
		"input power":             func() (Input, error) { return InputThrough([]InputPoint{{0, 0}}) },
		"flow of an input point":  func() (Input, error) { return InputThrough([]InputPoint{{1e-3, 500}, {1e-3, 600}}) },
		"density":                 func() (Input, error) { return InputFromEfficiency(c, 1, []EfficiencyAt{{1e-3, 0.4}}) },
		"efficiency":              func() (Input, error) { return InputFromEfficiency(c, 1000, []EfficiencyAt{{1e-3, 40}}) },
		"pump curve":              func() (Input, error) { return InputFromEfficiency(Curve{}, 1000, nil) },
		"pump input":              func() (Input, error) { return Input{}.AtSpeed(1) },
		"speed ratio":             func() (Input, error) { return in.AtSpeed(50) },
		"flow of a curve's point": func() (Input, error) { return InputFromEfficiency(c, 1000, []EfficiencyAt{{0, 0.4}}) },
	} {
		_, err := f()
		refused(t, err, name)
	}
	_, err = Input{}.Power(1e-3)
	refused(t, err, "pump input")
	_, err = in.Power(-1)
	refused(t, err, "pump flow")
}

// Slopes of pump and pipe against differences of their heads.
func TestSlopes(t *testing.T) {
	table, err := CurveThrough([]CurvePoint{{0, 70}, {0.2e-3, 66}, {0.5e-3, 50}, {0.8e-3, 20}})
	require.NoError(t, err)
	slow, err := table.AtSpeed(0.8)
	require.NoError(t, err)
	parabola, err := CurveFromDuty(CurvePoint{0.5e-3, 40})
	require.NoError(t, err)
	slowParabola, err := parabola.AtSpeed(0.9)
	require.NoError(t, err)
	slowPower, err := powerLaw(t, 235, 1.52648, 1.77923).AtSpeed(0.9)
	require.NoError(t, err)
	water, err := WaterAt(Celsius(10))
	require.NoError(t, err)
	m := RisingMain{
		Water:  water,
		Pipes:  []Pipe{{Diameter: 0.0266, Length: 60, Roughness: 1.5e-6}, {Diameter: 0.04, Length: 20}},
		Losses: []HeadLoss{{Head: 3, At: 0.6e-3, Exponent: 1}, {Head: 2, At: 0.6e-3, Exponent: 1.852}},
	}
	for _, q := range []float64{1e-5, 5e-5, 8e-5, 1.4e-4, 3e-4, 6e-4} {
		const step = 1e-9
		for _, c := range []Curve{table, slow, parabola, slowParabola, slowPower, powerLaw(t, 235, 1.52648, 1.77923)} {
			assert.InEpsilon(t, (c.head(q+step)-c.head(q-step))/(2*step), c.headSlope(q), 1e-4, q)
		}
		assert.InEpsilon(t, (m.friction(q+step)-m.friction(q-step))/(2*step), m.frictionSlope(q), 1e-4, q)
	}
	assert.InEpsilon(t, m.friction(1e-9)/1e-9, m.frictionSlope(0), 1e-3, "laminar pipes and the well")
	// Outside the transition the head is that of [Pipe.Loss].
	for _, q := range []FlowRate{1e-5, 3e-4} {
		m.Losses = nil
		h, err := m.Head(q, 0)
		require.NoError(t, err)
		a, err := m.Pipes[0].Loss(q, water)
		require.NoError(t, err)
		b, err := m.Pipes[1].Loss(q, water)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(a.Head+b.Head), float64(h), 1e-12)
	}
}

// Curves in print are of the shape that three of their points give: each point
// lies within 5 % of the shut-off head.
func TestGenericPumps(t *testing.T) {
	curves := map[string][]CurvePoint{}
	for _, r := range reftest.Rows(t, "tank/pump_performance.csv") {
		p := CurvePoint{FlowRate(r.Float("flow_gpm")) * USGallonPerMinute, unit.Length(r.Float("head_ft")) * Foot}
		curves[r.Text("curve")] = append(curves[r.Text("curve")], p)
		if p.Flow == 0 {
			continue
		}
		w, err := WaterPower(CustomaryWater, p.Flow, p.Head)
		require.NoError(t, err)
		r.Digits("water_hp", float64(w/Horsepower), 1.5, "998.554 kg/m³ is 3960 to five digits")
	}
	require.Len(t, curves, 3)
	for name, points := range curves {
		fitted, err := FitCurve(points[0].Head, points[len(points)/2], points[len(points)-1])
		require.NoError(t, err)
		table, err := CurveThrough(points)
		require.NoError(t, err)
		for _, p := range points {
			h, err := fitted.Head(min(p.Flow, fitted.RunOut()))
			require.NoError(t, err)
			assert.InDelta(t, float64(p.Head), float64(h), 0.05*float64(points[0].Head), name)
			h, err = table.Head(p.Flow)
			require.NoError(t, err)
			assert.InDelta(t, float64(p.Head), float64(h), 1e-9, name)
		}
	}
}

// The ends of a curve agree to the last bit at any speed: no flow at the shut-off
// head, which does not wrap to the other end, and no head below nothing.
func TestCurveEndsAgree(t *testing.T) {
	points, err := CurveThrough([]CurvePoint{{0, 61.7}, {1e-3, 43.1}, {2e-3, 0}})
	require.NoError(t, err)
	fitted, err := FitCurve(61.7, CurvePoint{1e-3, 43.1}, CurvePoint{2e-3, 1})
	require.NoError(t, err)
	for _, c := range []Curve{points, fitted} {
		for r := 0.2; r < 2.5; r += 0.0137 {
			c, err := c.AtSpeed(r)
			require.NoError(t, err)
			h, err := c.Head(0)
			require.NoError(t, err)
			assert.Equal(t, h, c.ShutOff())
			var shut *ShutOffError
			_, err = c.Flow(c.ShutOff())
			require.ErrorAs(t, err, &shut)
			q, err := c.Flow(unit.Length(math.Nextafter(float64(c.ShutOff()), 0)))
			require.NoError(t, err)
			assert.Less(t, q, c.RunOut()/1000)
			end, err := c.Head(c.RunOut())
			require.NoError(t, err)
			assert.GreaterOrEqual(t, end, unit.Length(0))
		}
	}
	assert.Zero(t, Curve{}.ShutOff())
}
