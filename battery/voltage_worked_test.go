package battery

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// voltageSets are the published sets of small cells.
func voltageSets(t testing.TB) map[string]Tremblay {
	t.Helper()
	sets := map[string]Tremblay{}
	for _, row := range reftest.Rows(t, "battery/voltage_parameters.csv") {
		set := Tremblay{
			Constant: unit.Voltage(row.Float("e0_v")), Resistance: unit.Resistance(row.Float("r_ohm")),
			Polarization: unit.Resistance(row.Float("k_ohm")), Amplitude: unit.Voltage(row.Float("a_v")),
			Zone: unit.Charge(3/row.Float("b_per_ah")) * AmpereHour, Capacity: unit.Charge(row.Float("q_ah")) * AmpereHour,
		}
		require.NoError(t, set.Validate(), row.Source())
		sets[row.Text("set")] = set
	}
	require.Len(t, sets, 4)
	return sets
}

// shepherdSet is a set made up for a 12 V block of 100 Ah.
var shepherdSet = Shepherd{
	Constant: 12.3, Polarization: 0.006, Capacity: 100 * AmpereHour, Resistance: 0.008, Amplitude: 0.45, Decay: 12,
}

func paramAh(row reftest.Row, name string) unit.Charge {
	return unit.Charge(row.Param(name, "Ah")) * AmpereHour
}

func paramVolts(row reftest.Row, name string) unit.Voltage { return unit.Voltage(row.Param(name, "V")) }

func TestVoltageWorked(t *testing.T) {
	sets := voltageSets(t)
	for _, row := range reftest.Rows(t, "battery/voltage_worked.csv") {
		set := sets[row.Text("set")]
		var fit Tremblay
		if row.HasParam("Vfull") {
			fit = must[Tremblay](t)(CurvePoints{
				Current: rowCurrentOf(row), Capacity: paramAh(row, "Q"), Resistance: unit.Resistance(row.Param("R", "ohm")),
				Full: paramVolts(row, "Vfull"), ZoneEnd: paramVolts(row, "Vexp"), ZoneCharge: paramAh(row, "Qexp"),
				PlateauEnd: paramVolts(row, "Vnom"), PlateauCharge: paramAh(row, "Qnom"),
			}.Tremblay())
		}
		var load LoadPoint
		if row.HasParam("P") {
			load = must[LoadPoint](t)(PointAtPower(paramVolts(row, "Voc"), unit.Resistance(row.Param("R", "ohm")), unit.Power(row.Param("P", "W"))))
		}
		switch kind := row.Text("kind"); kind {
		case "set B":
			row.Expected(float64(3 / (fit.Zone / AmpereHour)))
		case "set A":
			row.Expected(float64(fit.Amplitude))
		case "set K":
			row.Expected(float64(fit.Polarization))
		case "set E0":
			row.Expected(float64(fit.Constant))
		case "discharge":
			row.Expected(float64(must[unit.Voltage](t)(set.Voltage(paramAh(row, "it"), rowCurrentOf(row)))))
		case "charge":
			row.Expected(float64(must[unit.Voltage](t)(set.ChargeVoltage(paramAh(row, "it"), rowCurrentOf(row)))))
		case "charge as printed":
			row.Rejects("expected", float64(must[unit.Voltage](t)(set.ChargeVoltage(paramAh(row, "it"), rowCurrentOf(row)))), 1e-3)
		case "shepherd":
			s := Shepherd{
				Constant: paramVolts(row, "Es"), Polarization: unit.Resistance(row.Param("K", "ohm")), Capacity: paramAh(row, "Q"),
				Resistance: unit.Resistance(row.Param("N", "ohm")), Amplitude: paramVolts(row, "A"), Decay: row.Param("B", ""),
			}
			assert.Equal(t, shepherdSet, s)
			row.Expected(float64(must[unit.Voltage](t)(s.Voltage(paramAh(row, "it"), rowCurrentOf(row)))))
		case "current at power":
			row.Expected(float64(load.Current))
		case "voltage at power":
			row.Expected(float64(load.Voltage))
		case "largest power":
			row.Expected(float64(must[unit.Power](t)(PowerAtCollapse(paramVolts(row, "Voc"), unit.Resistance(row.Param("R", "ohm"))))))
		case "error of P over Voc":
			row.Expected(float64(load.Power)/row.Param("Voc", "V")/float64(load.Current) - 1)
		default:
			t.Fatal(kind)
		}
	}
}

func rowCurrentOf(row reftest.Row) unit.Current { return unit.Current(row.Param("i", "A")) }

// The sign that the paper prints has a pole at 90 % of charge, on both sides of
// which the voltage runs away; the one used here rises steadily to full.
func TestChargePole(t *testing.T) {
	set := voltageSets(t)["Li-ion"]
	printed := func(q, i float64) float64 { // Ah and A
		c := float64(set.Capacity / AmpereHour)
		return tremblayClosed(&set, q*3600) + (float64(set.Resistance)+float64(set.Polarization)*c/(q-0.1*c))*i
	}
	assert.InDelta(t, 3.38187, printed(1.15, 1.15), 5e-6, "the wrong figure of row V34")
	assert.Greater(t, printed(0.2301, 1.15), 100.0)
	assert.Less(t, printed(0.2299, 1.15), -100.0)
	last := 0.0
	for q := 2.0; q >= 0; q -= 0.01 {
		v := must[unit.Voltage](t)(set.ChargeVoltage(unit.Charge(max(0, q))*AmpereHour, 1.15))
		require.Greater(t, float64(v), last, "%v Ah", q)
		last = float64(v)
	}
}

func TestTremblayState(t *testing.T) {
	set := voltageSets(t)["lead-acid"]
	set.Response = 30
	state := set.Full()
	for _, row := range reftest.Rows(t, "battery/tremblay_ode.csv") {
		i := unit.Current(row.Float("current_a"))
		state = must[TremblayState](t)(set.After(state, i, unit.Time(row.Float("time_s"))))
		row.Printed("drawn_ah", ampereHours(state.Drawn))
		row.Printed("exponential_v", float64(state.Exponential))
		row.Printed("filtered_a", float64(state.Filtered))
		row.Printed("terminal_v", float64(must[unit.Voltage](t)(set.Terminal(state, i))))
	}
}

// On discharge from full the state is the closed curve; a step in two halves is
// one step; a rest recovers by what the filtered current held down.
func TestTremblayStateLaws(t *testing.T) {
	set := voltageSets(t)["lead-acid"]
	state := must[TremblayState](t)(set.After(set.Full(), 0.6, 1800))
	v := must[unit.Voltage](t)(set.Terminal(state, 0.6))
	want := must[unit.Voltage](t)(set.Voltage(0.3*AmpereHour, 0.6))
	assert.InDelta(t, float64(want), float64(v), 1e-13)

	set.Response = 30
	one := must[TremblayState](t)(set.After(set.Full(), 0.6, 100))
	two := must[TremblayState](t)(set.After(must[TremblayState](t)(set.After(set.Full(), 0.6, 30)), 0.6, 70))
	assert.InDelta(t, float64(one.Exponential), float64(two.Exponential), 1e-14)
	assert.InDelta(t, float64(one.Filtered), float64(two.Filtered), 1e-14)
	assert.InDelta(t, float64(one.Drawn), float64(two.Drawn), 1e-12)

	last := 0.0
	for _, rest := range []unit.Time{0, 1, 10, 60, 600} {
		s := must[TremblayState](t)(set.After(one, 0, rest))
		v := float64(must[unit.Voltage](t)(set.Terminal(s, 0)))
		require.Greater(t, v, last)
		require.InDelta(t, float64(one.Drawn), float64(s.Drawn), 0)
		last = v
	}

	// Charged back, the battery is full again, but no further.
	full := must[TremblayState](t)(set.After(one, -0.6, 100))
	assert.InDelta(t, 0, float64(full.Drawn), 1e-9)
	full = must[TremblayState](t)(set.After(one, -0.6, 100*(1+1e-14)))
	assert.Zero(t, full.Drawn)
	_, err := set.After(one, -0.6, 101)
	refused(t, err)
	_, err = set.After(one, 0.6, -1)
	refused(t, err)
	_, err = set.After(one, 0.6, 2*Hour)
	refused(t, err)
}

func TestCurveBounds(t *testing.T) {
	set := voltageSets(t)["lead-acid"]
	for _, x := range junk {
		if x != 0 && x != 1e-3 && x != math.SmallestNonzeroFloat64 {
			_, err := shepherdSet.Voltage(unit.Charge(x)*AmpereHour, 5)
			refused(t, err, "%v", x)
			_, err = set.Voltage(0, unit.Current(x))
			refused(t, err, "%v", x)
			_, err = set.ChargeVoltage(unit.Charge(x)*AmpereHour, 0.1)
			refused(t, err, "%v", x)
			if x != -1 {
				_, err = set.After(set.Full(), unit.Current(x), 1)
				refused(t, err, "%v", x)
				_, err = set.Terminal(set.Full(), unit.Current(x))
				refused(t, err, "%v", x)
			}
			_, err = set.After(set.Full(), 0.1, unit.Time(x))
			refused(t, err, "%v", x)
			bad := set.Full()
			bad.Exponential = unit.Voltage(x)
			_, err = set.After(bad, 0.1, 1)
			refused(t, err, "%v", x)
		}
		if x != 1e-3 {
			_, err := shepherdSet.DrawnAt(unit.Current(x), 11)
			refused(t, err, "%v", x)
			_, err = set.DrawnAt(1, unit.Voltage(x))
			refused(t, err, "%v", x)
		}
		bad := shepherdSet
		if bad.Constant = unit.Voltage(x); x != 0 {
			_, err := bad.Voltage(0, 1)
			refused(t, err, "%v", x)
		}
	}
	for _, f := range []func() error{
		Shepherd{}.Validate, Tremblay{}.Validate, CurvePoints{}.Validate,
		func() error { _, err := Shepherd{}.Voltage(0, 1); return err },
		func() error { _, err := Tremblay{}.Voltage(0, 1); return err },
		func() error { _, err := Tremblay{}.ChargeVoltage(0, 1); return err },
		func() error { _, err := Tremblay{}.Terminal(TremblayState{}, 1); return err },
		func() error { _, err := Tremblay{}.After(TremblayState{}, 1, 1); return err },
		func() error { _, err := CurvePoints{}.Tremblay(); return err },
		func() error { _, err := shepherdSet.Voltage(shepherdSet.Capacity, 1); return err },
	} {
		refused(t, f())
	}
	for name, change := range map[string]func(*Tremblay){
		"constant":     func(x *Tremblay) { x.Constant = 0.49 },
		"resistance":   func(x *Tremblay) { x.Resistance = 10.1 },
		"polarization": func(x *Tremblay) { x.Polarization = 0 },
		"capacity":     func(x *Tremblay) { x.Capacity = 1.2 },
		"amplitude":    func(x *Tremblay) { x.Amplitude = -0.01 },
		"zone":         func(x *Tremblay) { x.Zone = 1.1 * x.Capacity },
		"response":     func(x *Tremblay) { x.Response = 1.1 * Hour },
	} {
		x := set
		change(&x)
		refused(t, x.Validate(), name)
		_, err := x.Voltage(0, 1)
		refused(t, err, name)
	}
	_, err := shepherdSet.Voltage(99.9999999*AmpereHour, 100)
	require.ErrorIs(t, err, ErrExhausted)
	_, err = set.Voltage(set.Capacity*(1-1e-8), 100)
	require.ErrorIs(t, err, ErrExhausted)
	_, err = set.Terminal(TremblayState{Drawn: set.Capacity * (1 - 1e-8)}, 100)
	require.ErrorIs(t, err, ErrExhausted)
	_, err = set.ChargeVoltage(set.Capacity*(1-1e-8), 0)
	require.ErrorIs(t, err, ErrExhausted)
}

func TestDrawnAt(t *testing.T) {
	set := voltageSets(t)["lead-acid"]
	for _, i := range []unit.Current{1, 5, 20, 100} {
		q := must[unit.Charge](t)(shepherdSet.DrawnAt(i, 10.5))
		v := must[unit.Voltage](t)(shepherdSet.Voltage(q, i))
		assert.InDelta(t, 10.5, float64(v), 1e-9)
		q = must[unit.Charge](t)(set.DrawnAt(i/20, 10.5))
		v = must[unit.Voltage](t)(set.Voltage(q, i/20))
		assert.InDelta(t, 10.5, float64(v), 1e-9)
	}
	assert.Zero(t, must[unit.Charge](t)(shepherdSet.DrawnAt(20, 13)), "below it from the start")
	faint := shepherdSet
	faint.Polarization = leastPolarization
	q := must[unit.Charge](t)(faint.DrawnAt(0.001, 10.5))
	assert.InDelta(t, 100, ampereHours(q), 1e-6, "to the end of the curve")
}

func FuzzShepherdFalls(f *testing.F) {
	f.Add(10.0, 5.0, 3.0, 11.0)
	f.Fuzz(func(t *testing.T, ah, i, more, cut float64) {
		v, err := shepherdSet.Voltage(unit.Charge(ah)*AmpereHour, unit.Current(i))
		if err != nil || !(more >= 0 && more < 1e4) {
			return
		}
		if u, err := shepherdSet.Voltage(unit.Charge(ah+more)*AmpereHour, unit.Current(i)); err == nil {
			require.LessOrEqual(t, float64(u), float64(v)+1e-12)
		}
		if u, err := shepherdSet.Voltage(unit.Charge(ah)*AmpereHour, unit.Current(i+more)); err == nil {
			require.LessOrEqual(t, float64(u), float64(v)+1e-12)
		}
		q, err := shepherdSet.DrawnAt(unit.Current(i), unit.Voltage(cut))
		if err != nil {
			return
		}
		if p, err := shepherdSet.DrawnAt(unit.Current(i+more), unit.Voltage(cut)); err == nil {
			require.LessOrEqual(t, float64(p), float64(q)*(1+1e-9)+1e-6)
		}
	})
}

// The set of three points goes through them, and points read off a set give it
// back.
func FuzzCurvePoints(f *testing.F) {
	f.Add(7.0, 1.3, 6.25, 1.3, 1.2816, 0.0014, 0.111)
	f.Add(100.0, 5.0, 80.0, 10.0, 12.4, 0.001, 0.5)
	f.Fuzz(func(t *testing.T, q, qe, qn, i, e0, k, a float64) {
		set := Tremblay{
			Constant: unit.Voltage(e0), Resistance: 0.002, Polarization: unit.Resistance(k), Capacity: unit.Charge(q) * AmpereHour,
			Amplitude: unit.Voltage(a), Zone: unit.Charge(qe) * AmpereHour,
		}
		if set.Validate() != nil || !(k >= 1e-5 && a >= 1e-3 && i <= q) {
			return
		}
		ve, err := set.Voltage(set.Zone, unit.Current(i))
		vn, err2 := set.Voltage(unit.Charge(qn)*AmpereHour, unit.Current(i))
		if err != nil || err2 != nil {
			return
		}
		p := CurvePoints{
			Current: unit.Current(i), Capacity: set.Capacity, Resistance: set.Resistance,
			Full: set.Constant + set.Amplitude - unit.Voltage(0.002*i), ZoneEnd: ve, ZoneCharge: set.Zone,
			PlateauEnd: vn, PlateauCharge: unit.Charge(qn) * AmpereHour,
		}
		back, err := p.Tremblay()
		if err != nil {
			return
		}
		if x, err := back.Voltage(p.ZoneCharge, p.Current); err == nil {
			require.InDelta(t, float64(ve), float64(x), 1e-9*e0)
		}
		if x, err := back.Voltage(p.PlateauCharge, p.Current); err == nil {
			require.InDelta(t, float64(vn), float64(x), 1e-9*e0)
		}
		if ampereHours(p.PlateauCharge) > 2*qe {
			require.InDelta(t, a, float64(back.Amplitude), 1e-6*e0)
			require.InDelta(t, e0, float64(back.Constant), 1e-6*e0)
		}
	})
}

func TestCurvePointsRefused(t *testing.T) {
	good := CurvePoints{
		Current: 1.3, Capacity: 7 * AmpereHour, Resistance: 0.002, Full: 1.39, ZoneEnd: 1.28, ZoneCharge: 1.3 * AmpereHour,
		PlateauEnd: 1.18, PlateauCharge: 6.25 * AmpereHour,
	}
	require.NoError(t, good.Validate())
	for name, change := range map[string]func(*CurvePoints){
		"rising voltage":  func(p *CurvePoints) { p.ZoneEnd = 1.4 },
		"rising plateau":  func(p *CurvePoints) { p.PlateauEnd = 1.29 },
		"charges swapped": func(p *CurvePoints) { p.PlateauCharge = 1.2 * AmpereHour },
		"beyond capacity": func(p *CurvePoints) { p.PlateauCharge = 7 * AmpereHour },
		"level plateau":   func(p *CurvePoints) { p.PlateauEnd = p.ZoneEnd }, // asks for a negative K
		"current":         func(p *CurvePoints) { p.Current = 0 },
		"milliohms":       func(p *CurvePoints) { p.Resistance = 20 },
		"too close": func(p *CurvePoints) {
			p.Current, p.ZoneCharge, p.PlateauCharge = 1000, 0.1*AmpereHour, 0.112*AmpereHour
		},
	} {
		p := good
		change(&p)
		_, err := p.Tremblay()
		refused(t, err, name)
	}
}
