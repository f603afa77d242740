package tank

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestPipeSizes(t *testing.T) {
	kinds := map[string]PipeKind{}
	for k := SteelSchedule40; k <= PEXSDR9; k++ {
		kinds[k.String()] = k
	}
	rows := 0
	for _, r := range reftest.Rows(t, "tank/pipe_inner_diameters.csv") {
		p, err := kinds[r.Text("kind")].Size(unit.Length(r.Float("nominal_in")) * Inch)
		require.NoError(t, err, r.Source())
		r.Within("id_in", float64(p.Inside/Inch), 1e-9, "exact in thousandths of an inch")
		r.Within("wall_in", float64(p.Wall/Inch), 1e-9, "exact in thousandths of an inch")
		if r.Has("od_in") {
			r.Within("od_in", float64(p.Outside/Inch), 1e-9, "exact in thousandths of an inch")
		} else {
			assert.Zero(t, p.Outside)
		}
		assert.Equal(t, r.Text("verified") == "page", p.Seen)
		rows++
	}
	sizes := 0
	for _, s := range pipeSizes {
		sizes += len(s)
	}
	assert.Equal(t, rows, sizes)
}

func TestSurfaces(t *testing.T) {
	surfaces := map[string]Surface{
		"plastic": Plastic, "drawn tubing": DrawnTubing, "new steel": NewSteel, "galvanized iron": GalvanizedIron,
		"new cast iron": NewCastIron, "cast iron 10 years": CastIron10Years, "cast iron 20 years": CastIron20Years,
		"cast iron 40 years": CastIron40Years, "asphalted iron": AsphaltedIron,
	}
	for _, r := range reftest.Rows(t, "tank/roughness_and_c.csv") {
		s := surfaces[r.Text("surface")]
		if r.Text("quantity") == "C" {
			c, err := s.Coefficient()
			require.NoError(t, err)
			r.Printed("low", c.Low)
			if r.Text("low") != r.Text("high") {
				r.Printed("high", c.High)
			} else {
				assert.InEpsilon(t, c.Low, c.High, 1e-15)
			}
			continue
		}
		e, err := s.Roughness()
		require.NoError(t, err)
		r.Within("low", float64(e), 1e-9, "as printed")
	}
	for _, s := range []Surface{0, AsphaltedIron, 200} {
		_, err := s.Coefficient()
		refused(t, err, "surface")
	}
	for _, s := range []Surface{0, CastIron10Years, CastIron40Years, 200} {
		_, err := s.Roughness()
		refused(t, err, "surface")
	}
}

func TestPipeBounds(t *testing.T) {
	for _, k := range []PipeKind{0, 7, 200} {
		_, err := k.Size(Inch)
		refused(t, err, "pipe kind")
	}
	for _, x := range append([]float64{0, 1, 0.3, float64(6 * Inch)}, notNumbers...) {
		_, err := SteelSchedule40.Size(unit.Length(x))
		refused(t, err, "nominal size")
	}
	_, err := PEXSDR9.Size(2 * Inch)
	require.EqualError(t, err, "tank: nominal size 2 in (0.0508 m), want a size of PEX SDR 9")
	for _, x := range append([]float64{1001}, notNumbers...) {
		_, err := MinorLoss(x, 1)
		refused(t, err, "loss coefficient K")
	}
	for _, x := range append([]float64{20.1}, notNumbers...) {
		_, err := MinorLoss(1, unit.Velocity(x))
		refused(t, err, "flow velocity")
	}
	for _, k := range []float64{0, 1000} {
		_, err := MinorLoss(k, 20)
		require.NoError(t, err)
	}
}

// A fitting of K costs what K·D/f of its pipe costs.
func FuzzMinorLoss(f *testing.F) {
	f.Add(1.5, 6e-4)
	f.Fuzz(func(t *testing.T, k, q float64) {
		l, err := demoPipe.Loss(FlowRate(q), cold)
		if err != nil {
			return
		}
		h, err := MinorLoss(k, l.Velocity)
		finite(t, err, float64(h))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		run := demoPipe
		run.Length = unit.Length(k/l.Factor) * run.Diameter
		if same, err := run.Loss(FlowRate(q), cold); err == nil {
			assert.InEpsilon(t, float64(same.Head), float64(h), 1e-9)
		}
	})
}
