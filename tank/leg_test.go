package tank

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// The last bits of a way hold no half between them.
func TestWayOfOneBit(t *testing.T) {
	s, err := (Supply{Tank: demo, Pump: powerLaw(t, 200, 0.6, 2), Main: RisingMain{Lift: 20, Water: Water{Density: 1000}}}).pumping()
	require.NoError(t, err)
	w := way{pumping: &s, from: s.flow(0)}
	for from := range 40 {
		a := float64(from+1) / 20
		l := w.over(a, math.Nextafter(a, 9))
		assert.True(t, l.time > 0 && l.time < 1e-12, l)
	}
}

// A wild supply is anything that is accepted. Its input is linear in the flow, so
// that energy tells whether the water pumped is the integral of the flow.
func wildSupply(t *testing.T, r *rand.Rand) Supply {
	t.Helper()
	between := func(a, b float64) float64 { return a + r.Float64()*(b-a) }
	across := func(a, b float64) float64 { return a * math.Pow(b/a, r.Float64()) }
	in := between(5, 120)
	cutIn, cutOut := unit.Pressure(in)*PSI, unit.Pressure(min(150, in+across(1, 150-in)))*PSI
	var s Supply
	switch volume := unit.Volume(across(0.51, 1899)) * Litre; r.IntN(3) {
	case 0:
		s.Tank = Vessel{Volume: volume, Precharge: unit.Pressure(between(1, in)) * PSI, CutIn: cutIn, CutOut: cutOut}
	case 1:
		s.Tank = PlainTank{Volume: volume, CutIn: cutIn, CutOut: cutOut}
	case 2:
		s.Tank = Waterlogged{Air: unit.Volume(across(0.001, 1899)) * Litre, CutIn: cutIn, CutOut: cutOut}
	}
	head, q := min(999, float64(cutOut/PSI)*between(0.5, 2)+between(2, 100)), across(1e-5, 2e-3)
	points := []CurvePoint{{0, unit.Length(head)}}
	falls := 0.0
	for i := range 2 + r.IntN(8) {
		falls += across(1e-4, 1)
		points = append(points, CurvePoint{FlowRate(q * (float64(i) + between(0.1, 1))), unit.Length(falls)})
	}
	for i := range points[1:] {
		points[i+1].Head = unit.Length(head * max(0, 1-float64(points[i+1].Head)/falls))
	}
	var err error
	if r.IntN(2) == 0 {
		s.Pump, err = CurveFromDuty(CurvePoint{FlowRate(q), unit.Length(0.75 * head)})
	} else {
		s.Pump, err = CurveThrough(points)
	}
	require.NoError(t, err)
	s.Main = RisingMain{
		Lift:  unit.Length(between(-100, 100)),
		Water: Water{Density: 1000, Viscosity: 1e-3},
		Pipes: []Pipe{{Diameter: unit.Length(across(0.005, 0.1)), Length: unit.Length(across(0.5, 300)), Roughness: 2e-6}},
	}
	s.Input, err = InputThrough([]InputPoint{{0, linearBase}, {20e-3, linearBase + 20e-3*linearRise}})
	require.NoError(t, err)
	return s
}

const linearBase, linearRise = 100, 1e6 // W, J/m³

// What is followed adds up, stays in the tank, and does not ask where its pieces
// begin and end, near the demands that the pump can only just deliver as well.
func FuzzFollowAddsUp(f *testing.F) {
	for seed := range uint64(2000) {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, seed uint64) {
		r := rand.New(rand.NewPCG(seed, 1)) //nolint:gosec // the same every time
		s := wildSupply(t, r)
		p, err := s.pumping()
		require.NoError(t, err)
		vd, reserve := p.drawdown(1), p.reserve()
		low, high := p.flow(vd), p.flow(0)
		from := []Level{
			{Stored: unit.Volume(vd)}, {Running: true}, {Stored: unit.Volume(-reserve), Running: true}, {Stored: unit.Volume(vd * r.Float64())},
		}[r.IntN(4)]
		var draws, halves []Draw
		asked := 0.0
		for range 1 + r.IntN(5) {
			q := []float64{0, low, high, low + (high-low)*r.Float64(), math.Nextafter(low, 0), math.Nextafter(low, 1), high * 2 * r.Float64()}[r.IntN(7)]
			if q < float64(leastDemand) {
				q = 0
			}
			q = min(q, float64(mostFlow))
			left := math.Exp(r.Float64() * 15)
			draws = append(draws, Draw{For: unit.Time(left), Demand: FlowRate(q)})
			asked += q * left
			part := left * r.Float64()
			halves = append(halves, Draw{For: unit.Time(part), Demand: FlowRate(q)}, Draw{For: unit.Time(left - part), Demand: FlowRate(q)})
		}
		a, err := s.Follow(from, draws)
		if err != nil {
			require.ErrorIs(t, err, ErrBeyondCurve)
			return
		}
		scale := asked + vd + reserve
		assert.InDelta(t, asked, float64(a.Drawn+a.Unmet), 1e-9*scale)
		assert.InDelta(t, float64(a.End.Stored-from.Stored), float64(a.Pumped-a.Drawn), 1e-9*scale)
		power := linearBase*float64(a.PumpTime) + linearRise*float64(a.Pumped)
		assert.InDelta(t, power, float64(a.Energy), 1e-7*power+linearRise*1e-9*scale)
		assert.True(t, float64(a.End.Stored) <= vd && float64(a.End.Stored) >= -reserve, a)
		assert.True(t, a.Unmet >= 0 && a.Pumped >= 0 && a.Work >= 0 && a.LeastPressure >= 0, a)
		if a.Unmet > 0 {
			assert.InDelta(t, -reserve, float64(a.Least), 1e-12*scale, "water is short in an empty tank only")
		}
		b, err := s.Follow(from, halves)
		require.NoError(t, err)
		assert.InDelta(t, float64(a.PumpTime), float64(b.PumpTime), 1e-6*float64(a.PumpTime)+1e-6)
		assert.InDelta(t, float64(a.End.Stored), float64(b.End.Stored), 1e-6*scale)
		assert.InDelta(t, a.Starts, b.Starts, 1+1e-9*float64(a.Starts))
		// With the taps shut, the pump stops in the time of a fill.
		fill, err := s.Fill(0, Isothermal)
		if err != nil || fill.Time > Day || a.End.Stored < 0 {
			return
		}
		c, err := s.Follow(a.End, []Draw{{For: 2 * Day}})
		require.NoError(t, err)
		assert.True(t, !c.End.Running && c.PumpTime <= fill.Time*1.000001, c)
	})
}
