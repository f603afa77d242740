package tank

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestColebrook(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/colebrook_reference.csv") {
		re, e := r.Float("reynolds"), r.Float("rel_roughness")
		f, flow, err := FrictionFactor(re, e)
		require.NoError(t, err)
		assert.Equal(t, Turbulent, flow)
		r.Printed("f_colebrook", f)
		swameeJain := 0.25 / math.Pow(math.Log10(e/3.7+5.74/math.Pow(re, 0.9)), 2)
		haaland := math.Pow(-1.8*math.Log10(math.Pow(e/3.7, 1.11)+6.9/re), -2)
		r.Printed("rel_err_swamee_jain", swameeJain/f-1)
		r.Printed("rel_err_haaland", haaland/f-1)
	}
}

const cubicFoot = float64(Foot) * float64(Foot) * float64(Foot)

// bookPipe reads the pipe and the liquid of a row, in feet or metres.
func bookPipe(r reftest.Row) (Pipe, Water) {
	w := Water{Density: 1000}
	p := Pipe{}
	switch r.Text("id") {
	case "FF3x":
		p.Diameter = unit.Length(r.Param("d", "m"))
		p.Length = unit.Length(r.Param("length", "m"))
		p.Roughness = unit.Length(r.Param("rough", "mm")) / 1000
		w.Viscosity = Viscosity(1000 * r.Param("nu", "m2/s"))
	case "FF2", "FF4":
		p.Diameter = unit.Length(r.Param("d", "ft")) * Foot
		p.Length = unit.Length(r.Param("length", "ft")) * Foot
		p.Roughness = unit.Length(r.Param("rough", "ft")) * Foot
		w.Viscosity = Viscosity(1000 * r.Param("nu", "ft2/s") * float64(Foot*Foot))
	case "FF6":
		p.Diameter = unit.Length(r.Param("d", "in")) * Foot / 12
		p.Length = 100
		p.Roughness = unit.Length(r.Param("rel_roughness", "")) * p.Diameter
		w.Viscosity = Viscosity(1000 * r.Param("nu", "ft2/s") * float64(Foot*Foot))
	default:
		p.Diameter = unit.Length(r.Param("d", "in")) * Foot / 12
		p.Length = 1
		if r.HasParam("length") {
			p.Length = unit.Length(r.Param("length", "ft")) * Foot
			p.Roughness = unit.Length(r.Param("rough", "ft")) * Foot
		}
		w.Density = Density(r.Param("rho", "lb/ft3")) * PoundPerCubicFoot
		w.Viscosity = Viscosity(r.Param("mu", "lb/(ft s)") * 0.45359237 / float64(Foot))
	}
	return p, w
}

// bookFlow reads the flow of a row, or makes it from the velocity.
func bookFlow(r reftest.Row, p Pipe) FlowRate {
	if r.HasParam("v") {
		d := float64(p.Diameter)
		return FlowRate(r.Param("v", "ft/s") * float64(Foot) * math.Pi / 4 * d * d)
	}
	if r.Text("id") == "FF3x" {
		return FlowRate(r.Param("flow", "m3/s"))
	}
	return FlowRate(r.Param("flow", "ft3/s") * cubicFoot)
}

func TestFrictionExamples(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/friction_examples.csv") {
		switch r.Text("quantity") {
		case "friction_factor", "friction_factor_laminar":
			e := 0.0
			if r.HasParam("rel_roughness") {
				e = r.Param("rel_roughness", "")
			}
			f, _, err := FrictionFactor(r.Param("reynolds", ""), e)
			require.NoError(t, err)
			r.Expected(f)
		case "velocity":
			r.Expected(velocity(r.Param("flow", "m3/s"), r.Param("d", "m")))
		case "velocity_from_head_loss":
			p, w := bookPipe(r)
			q, _, err := p.Flow(unit.Length(r.Param("head", "ft"))*Foot, w)
			require.NoError(t, err)
			r.Expected(velocity(float64(q), float64(p.Diameter)) / float64(Foot))
		case "discharge":
			p, w := bookPipe(r)
			q, flow, err := p.Flow(unit.Length(r.Param("head_per_length", ""))*p.Length, w)
			require.NoError(t, err)
			assert.Equal(t, Turbulent, flow)
			r.Expected(float64(q) / cubicFoot)
		default:
			p, w := bookPipe(r)
			q := bookFlow(r, p)
			l, err := p.Loss(q, w)
			require.NoError(t, err)
			poundSquareFoot := float64(PSI) / 144
			switch r.Text("quantity") {
			case "reynolds":
				r.Expected(l.Reynolds)
			case "pressure_drop":
				r.Expected(float64(l.Pressure) / poundSquareFoot)
			case "pumping_power":
				r.Expected(float64(l.Pressure) * float64(q))
			case "head_loss":
				if r.Text("unit") == "m" {
					r.Expected(float64(l.Head) * gravity / r.Param("g", "m/s2"))
				} else {
					r.Expected(float64(l.Head / Foot))
				}
			default:
				t.Fatal(r.Source(), "not checked")
			}
		}
	}
}

func TestFrictionTable(t *testing.T) {
	w := Water{Density: 998.3, Viscosity: 1.004e-6 * 998.3}
	for _, r := range reftest.Rows(t, "tank/pipe_friction_darcy_published.csv") {
		p := Pipe{Diameter: unit.Length(r.Float("id_m")), Length: 100, Roughness: 4.5e-5}
		l, err := p.Loss(FlowRate(r.Float("flow_m3_s")), w)
		require.NoError(t, err)
		r.Within("reynolds", l.Reynolds, 1e-5, "six digits")
		r.Within("f_colebrook", l.Factor, 1e-5, "six digits")
		r.Within("colebrook_pa_per_100m", float64(l.Pressure), 1e-5, "six digits")
		r.Within("published_pa_per_100m", float64(l.Pressure), 0.055, "the table's friction factors have three decimals, rounded up")
		assert.Equal(t, l.Reynolds < 4000, l.Regime == Transition)
	}
}

// A table that the trade copies as plastic pipe's is one of new steel.
func TestPumpManualTable(t *testing.T) {
	w := Water{Density: 999, Viscosity: 1.12213e-6 * 999}
	for _, r := range reftest.Rows(t, "tank/pipe_friction_pump_manual.csv") {
		p := Pipe{Diameter: unit.Length(r.Float("id_in")) * Inch, Length: 100 * Foot, Roughness: 0.00015 * Foot}
		l, err := p.Loss(FlowRate(r.Float("gpm"))*USGallonPerMinute, w)
		require.NoError(t, err)
		got := float64(l.Head / Foot)
		r.Within("reynolds_60degf", l.Reynolds, 5e-5, "five digits")
		if !r.Has("colebrook_ft") {
			require.NotEqual(t, Turbulent, l.Regime, r.Source())
			continue // where no formula holds, the table is no measure
		}
		r.Within("colebrook_ft", got, 1e-4, "five digits, four where little is lost")
		if r.Has("wrong") {
			r.Rejects("published_ft", got, 0.1)
			continue
		}
		r.Within("published_ft", got, 0.021+0.006/r.Float("published_ft"), "a table of two decimals")
	}
}

func TestRegimes(t *testing.T) {
	for re, want := range map[float64]Regime{1: Laminar, 2299.9: Laminar, 2300: Transition, 3999.9: Transition, 4000: Turbulent} {
		f, r, err := FrictionFactor(re, 0)
		require.NoError(t, err)
		assert.Equal(t, want, r)
		assert.GreaterOrEqual(t, f, 64/re)
	}
	assert.Equal(t, "laminar transition turbulent Regime(0)", fmt.Sprint(Laminar, " ", Transition, " ", Turbulent, " ", Regime(0)))
}

// demoPipe is 100 ft of 1 in steel, and cold its water.
var (
	demoPipe = Pipe{Diameter: 1.049 * Foot / 12, Length: 100 * Foot, Roughness: 4.5e-5}
	cold     = Water{Density: 999.7, Viscosity: 1.306e-3, Vapour: 1228}
)

func TestFrictionBounds(t *testing.T) {
	for _, x := range append([]float64{0, 0.99, 1.01e8}, notNumbers...) {
		_, _, err := FrictionFactor(x, 0)
		refused(t, err, "Reynolds number")
	}
	for _, x := range append([]float64{0.0501}, notNumbers...) {
		_, _, err := FrictionFactor(1e5, x)
		refused(t, err, "relative roughness")
	}
	for quantity, set := range map[string]func(p *Pipe, q *FlowRate, w *Water, x float64){
		"inner diameter": func(p *Pipe, _ *FlowRate, _ *Water, x float64) { p.Diameter = unit.Length(x) },
		"pipe length":    func(p *Pipe, _ *FlowRate, _ *Water, x float64) { p.Length = unit.Length(x) },
		"pipe flow":      func(_ *Pipe, q *FlowRate, _ *Water, x float64) { *q = FlowRate(x) },
		"density":        func(_ *Pipe, _ *FlowRate, w *Water, x float64) { w.Density = Density(x) },
		"viscosity":      func(_ *Pipe, _ *FlowRate, w *Water, x float64) { w.Viscosity = Viscosity(x) },
	} {
		for _, x := range append([]float64{0}, notNumbers...) {
			p, q, w := demoPipe, 10*USGallonPerMinute, cold
			set(&p, &q, &w, x)
			_, err := p.Loss(q, w)
			refused(t, err, quantity)
			if quantity != "pipe flow" {
				_, _, err = p.Flow(1, w)
				refused(t, err, quantity)
			}
		}
	}
	for _, x := range []float64{-1e-9, 0.0013355, notNumbers[0]} {
		p := demoPipe
		p.Roughness = unit.Length(x)
		_, err := p.Loss(10*USGallonPerMinute, cold)
		refused(t, err, "roughness")
	}
	// What a forgotten unit would give.
	_, err := Pipe{Diameter: 1.049, Length: 100}.Loss(10*USGallonPerMinute, cold)
	refused(t, err, "inner diameter")
	_, err = demoPipe.Loss(10, cold)
	refused(t, err, "pipe flow")
	_, err = demoPipe.Loss(10*USGallonPerMinute, Water{Density: 62.4, Viscosity: 1e-3})
	refused(t, err, "density")
	_, err = demoPipe.Loss(10*USGallonPerMinute, Water{Density: 999, Viscosity: 1})
	refused(t, err, "viscosity")
	_, err = demoPipe.Loss(0.02, cold)
	refused(t, err, "flow velocity")
	_, err = Pipe{Diameter: 0.39, Length: 1}.Loss(1e-6, Water{Density: 900, Viscosity: 0.04})
	refused(t, err, "Reynolds number")
	for _, x := range append([]float64{0, 1001}, notNumbers...) {
		_, _, err = demoPipe.Flow(unit.Length(x), cold)
		refused(t, err, "head")
	}
	_, _, err = Pipe{Diameter: 0.05, Length: 1}.Flow(1000, cold)
	refused(t, err, "flow velocity")
	_, _, err = Pipe{Diameter: 0.004, Length: 20e3}.Flow(1e-6, cold)
	refused(t, err, "pipe flow")
	for _, ends := range []Pipe{{Diameter: 0.004, Length: 0.01}, {Diameter: 0.4, Length: 20e3, Roughness: 0.02}} {
		_, err = ends.Loss(1e-5, cold)
		require.NoError(t, err)
	}
}

// A head within the jump of friction at Re 2300 gives the flow there.
func TestFlowInTheJump(t *testing.T) {
	p := Pipe{Diameter: 0.02, Length: 10}
	at2300 := FlowRate(2300 * float64(cold.Viscosity) / float64(cold.Density) * math.Pi / 4 * 0.02)
	below, err := p.Loss(at2300*0.999, cold)
	require.NoError(t, err)
	above, err := p.Loss(at2300*1.001, cold)
	require.NoError(t, err)
	require.Greater(t, float64(above.Head/below.Head), 1.6)
	q, r, err := p.Flow((below.Head+above.Head)/2, cold)
	require.NoError(t, err)
	assert.Equal(t, Transition, r)
	assert.InEpsilon(t, float64(at2300), float64(q), 1e-12)
}

// Colebrook solves its equation; friction rises with flow, roughness and
// length; head and flow are inverse.
func FuzzFriction(f *testing.F) {
	f.Add(0.0266, 30.0, 1e-4, 6e-4)
	f.Add(0.1, 1000.0, 0.05, 0.01)
	f.Add(0.02, 10.0, 0.0, 4e-5)
	f.Fuzz(func(t *testing.T, d, l, e, q float64) {
		p := Pipe{Diameter: unit.Length(d), Length: unit.Length(l), Roughness: unit.Length(e * d)}
		a, err := p.Loss(FlowRate(q), cold)
		finite(t, err, float64(a.Velocity), a.Reynolds, a.Factor, float64(a.Head), float64(a.Pressure))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		if a.Regime == Laminar { // Hagen and Poiseuille
			want := 128 * float64(cold.Viscosity) * l * q / (math.Pi * d * d * d * d)
			assert.InEpsilon(t, want, float64(a.Pressure), 1e-9)
		} else {
			x := 1 / math.Sqrt(a.Factor)
			assert.InDelta(t, 0, x+2*math.Log10(float64(p.Roughness)/d/3.7+2.51*x/a.Reynolds), 1e-12)
		}
		if more, err := p.Loss(FlowRate(1.01*q), cold); err == nil {
			assert.Greater(t, float64(more.Head), float64(a.Head))
		}
		twice := p
		twice.Length *= 2
		if b, err := twice.Loss(FlowRate(q), cold); err == nil {
			assert.InEpsilon(t, 2*float64(a.Head), float64(b.Head), 1e-12)
		}
		if back, r, err := p.Flow(a.Head, cold); err == nil {
			assert.InEpsilon(t, q, float64(back), 1e-9)
			if math.Abs(a.Reynolds-2300) > 1e-3 && math.Abs(a.Reynolds-4000) > 1e-3 {
				assert.Equal(t, a.Regime, r)
			}
		}
	})
}
