package plan

import (
	"errors"
	"fmt"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

// A Well is what the pump works against, and the pump's own curve. With it the
// pump's flow follows from the pressure in the tank.
type Well struct {
	WaterLevel  Value[unit.Length]      `toml:"water_level" json:"water_level,omitzero" least:"any"`
	Pump        []FlowHead              `toml:"pump" json:"pump,omitempty"`
	Drawdown    FlowHead                `toml:"drawdown" json:"drawdown,omitzero"`
	Pipe        []WaterPipe             `toml:"pipe" json:"pipe,omitempty"`
	Temperature Value[unit.Temperature] `toml:"temperature" json:"temperature,omitzero" least:"any"`
}

// A FlowHead is a head at a flow, typed as "38 m at 15 L/min".
type FlowHead struct {
	Head Value[unit.Length]   `toml:"-" least:"zero"`
	Flow Value[tank.FlowRate] `toml:"-" least:"zero"`
	Text string               `toml:"-"`
}

// UnmarshalText reads "38 m at 15 L/min".
func (p *FlowHead) UnmarshalText(text []byte) error {
	p.Text = strings.TrimSpace(string(text))
	return readPair(p.Text, " at ", `"38 m at 15 L/min"`, &p.Head, &p.Flow)
}

// MarshalText returns the pair as it was typed.
func (p FlowHead) MarshalText() ([]byte, error) { return []byte(p.Text), nil }

// IsZero reports whether the pair was not given, for omitzero in JSON.
func (p FlowHead) IsZero() bool { return p.Text == "" }

// A WaterPipe is a length of pipe between well and tank, smooth as plastic.
type WaterPipe struct {
	Inside Value[unit.Length] `toml:"inside" json:"inside,omitzero"`
	Length Value[unit.Length] `toml:"length" json:"length,omitzero"`
}

// given reports whether the table has anything, and complete whether it tells
// enough for the flow to follow from the pressure.
func (w *Well) given() bool {
	return w.WaterLevel.Given() || len(w.Pump) > 0 || !w.Drawdown.IsZero() || len(w.Pipe) > 0 || w.Temperature.Given()
}

// readWell turns the [well] table into supplies at the ends of what is known:
// the least water first.
func (m *maker) readWell() error {
	s, w := &m.site.Well, &m.water
	if !s.given() {
		return nil
	}
	if !w.given || !s.WaterLevel.Given() || len(s.Pump) < 2 {
		return m.site.at("well", errors.New("want the [tank] as well as water_level and two or more points of the pump in [well], or no [well]"))
	}
	points := make([]tank.CurvePoint, len(s.Pump))
	for i, p := range s.Pump {
		points[i] = tank.CurvePoint{Flow: p.Flow.Mid(), Head: p.Head.Mid()}
		w.wellBasis = worst(w.wellBasis, p.Head.Basis, p.Flow.Basis)
	}
	curve, err := tank.CurveThrough(points)
	if err != nil {
		return m.fault("well.pump", err)
	}
	t := s.Temperature.or(tank.Celsius(10))
	if !s.Temperature.Given() {
		m.assume("well.temperature: 10 °C")
	}
	w.wellBasis = worst(w.wellBasis, s.WaterLevel.Basis, w.basis)
	for _, good := range []int{0, 1} {
		// Cold water is the thicker.
		water, err := tank.WaterAt(pick(t, good))
		if err != nil {
			return m.fault("well", err)
		}
		main := tank.RisingMain{Lift: pick(s.WaterLevel, 1-good), Water: water}
		for i, p := range s.Pipe {
			if !p.Inside.Given() || !p.Length.Given() {
				return m.site.at(fmt.Sprintf("well.pipe[%d]", i), errors.New("want inside and length"))
			}
			main.Pipes = append(main.Pipes, tank.Pipe{Diameter: pick(p.Inside, good), Length: pick(p.Length, 1-good), Roughness: smooth})
			w.wellBasis = worst(w.wellBasis, p.Inside.Basis, p.Length.Basis)
		}
		if d := s.Drawdown; !d.IsZero() {
			main.Losses = []tank.HeadLoss{{Head: pick(d.Head, 1-good), At: pick(d.Flow, good), Exponent: 1}}
			w.wellBasis = worst(w.wellBasis, d.Head.Basis, d.Flow.Basis)
		}
		for _, v := range w.ends() {
			supply := tank.Supply{Tank: v, Pump: curve, Main: main}
			if err := supply.Validate(); err != nil && !errors.Is(err, tank.ErrPrechargeAboveCutIn) {
				return m.fault("well", err)
			}
			w.supplies = append(w.supplies, supply)
		}
	}
	return nil
}

// smooth is the roughness of drawn plastic pipe.
const smooth = unit.Length(1.5e-6)

// ends are the vessels with the least and the greatest drawdown, and the middle
// one; fewer where the precharge is above cut-in.
func (w *water) ends() []tank.Vessel {
	var least, most tank.Vessel
	var low, high unit.Volume
	for _, v := range w.vessel {
		d, err := v.Drawdown()
		if err != nil {
			continue
		}
		if low == 0 || d < low {
			least, low = v, d
		}
		if d > high {
			most, high = v, d
		}
	}
	switch {
	case high == 0:
		return nil
	case low == high:
		return []tank.Vessel{most}
	}
	return []tank.Vessel{least, most}
}

// showWell adds where pump and well meet, and checks that the pump reaches
// cut-out.
func (m *maker) showWell(s *Section) error {
	w, pump := &m.water, m.water.pump
	if len(w.supplies) == 0 || pump == nil {
		return nil
	}
	var held, flow, water motor.Range[float64]
	limit := 0.0
	ends := w.ends()
	for i, supply := range w.supplies {
		v := ends[i%len(ends)]
		shut, err := supply.ShutOffPressure()
		if err != nil {
			return m.fault("well", err)
		}
		held = widen(held, i, float64(shut/tank.PSI))
		limit = max(limit, float64(v.CutOut/tank.PSI))
		mid := (v.CutIn + v.CutOut) / 2
		at, err := supply.At(mid)
		var none *tank.ShutOffError
		switch {
		case errors.As(err, &none):
			flow, water = widen(flow, i, 0), widen(water, i, 0)
		case err != nil:
			return m.fault("well", err)
		default:
			flow, water = widen(flow, i, float64(at.Flow/tank.LitrePerMinute)), widen(water, i, float64(at.Water))
		}
	}
	m.check(Check{
		ID: pump.key + ".cut_out", Title: pump.Name + ": holds more than cut-out with the taps shut", Unit: "psi", AtLeast: true,
		Low: held.Low, High: held.High, Limit: limit, Basis: w.wellBasis,
		Message: "A pump that cannot reach cut-out never stops, and empties the battery. Lower both switch settings, or ask for a pump with more head; 5 to 10 psi to spare is the custom.",
		Source:  "shut-off head less lift, times ρ·g",
	})
	f := Figure{
		Key: pump.key + ".flow_at_mid_lpm", Label: pump.Name + ": flow by its curve at the middle pressure", Unit: "L/min", Low: flow.Low, High: flow.High, Basis: w.wellBasis,
		Also:    in(flow.Low*float64(tank.LitrePerMinute), flow.High*float64(tank.LitrePerMinute), float64(tank.USGallonPerMinute), "gal/min"),
		Formula: "H(Q) = z + p/(ρ·g) + friction(Q)", Numbers: m.wellText(), Source: "pump curve as stated; Darcy and Weisbach with Colebrook's factor",
	}
	if pump.Flow.Given() {
		f.Shortcut = shortcut(float64(pump.Flow.Mid()/tank.LitrePerMinute), "the flow as stated", "The curve is that of a new pump at full speed; a measured flow that is well below it tells of wear, a clogged screen or low voltage.")
	}
	s.add(f)
	m.showEfficiency(s, water)
	return nil
}

// showEfficiency adds what of the watts ends up in the water, which tells of
// watts, flow or curve that do not belong together.
func (m *maker) showEfficiency(s *Section, water motor.Range[float64]) {
	w, pump := &m.water, m.water.pump
	if water.High == 0 {
		return
	}
	e := motor.Range[float64]{Low: 100 * water.Low / float64(pump.run.Real.High), High: 100 * water.High / float64(pump.run.Real.Low)}
	s.add(Figure{
		Key: pump.key + ".wire_to_water_percent", Label: pump.Name + ": efficiency from wire to water", Unit: "%", Low: e.Low, High: e.High,
		Basis: worst(w.wellBasis, pump.runBasis), Formula: "η = ρ·g·Q·H/P at the middle pressure", Source: "definition of efficiency; usual spans are common practice",
		Numbers: fmt.Sprintf("%s W in the water, %s W drawn", brief(water.Low, water.High), span(pump.run.Real.Low, pump.run.Real.High)),
		Also:    "jet pumps 10 to 25 %, submersible ones 25 to 40 %",
	})
	if e.Low > 60 {
		s.note("%s: more than 60 %% from wire to water is more than small pumps have. Watts, level and curve do not belong together; one of them is of another pump.", pump.Name)
	}
}

func (m *maker) wellText() string {
	s := m.site.Well
	parts := []string{fmt.Sprintf("z = %s m", span(s.WaterLevel.Low, s.WaterLevel.High))}
	for _, p := range s.Pump {
		parts = append(parts, p.Text)
	}
	if !s.Drawdown.IsZero() {
		parts = append(parts, "drawdown "+s.Drawdown.Text)
	}
	for _, p := range s.Pipe {
		parts = append(parts, p.Length.Text+" of "+p.Inside.Text+" inside")
	}
	return strings.Join(parts, ", ")
}

// widen takes a figure into a range; the first one begins it.
func widen(r motor.Range[float64], i int, x float64) motor.Range[float64] {
	if i == 0 {
		return motor.Exactly(x)
	}
	return hull(r, motor.Exactly(x))
}
