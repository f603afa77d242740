package inverter

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A CutOff is an inverter's low-voltage cut-off at its dc terminals. A steady
// load is held against one threshold and the dip of a motor start, which lasts
// about a second, against another: a start may trip a cut-off although the
// battery is full, and it may pass below the running threshold if that waits.
//
// Common practice for 12 V: trip at 10.5 V (1.75 V a cell), seen from 9.5 to
// 11 V. Thresholds differ by up to 1.5 V between units: read them off, or
// measure.
type CutOff struct {
	Running unit.Voltage // trips when the voltage stays below it, 5 V to 1 kV
	Start   unit.Voltage // trips at once below it, at most Running; 0: not stated, taken as Running
	Allowed unit.Time    // time below Running before it trips, up to 60 s; 0: it does not wait
}

// ok is validate without the words, for the hot path.
func (c CutOff) ok() bool {
	return c.Running >= leastVolt && c.Running <= mostVolt && c.Allowed >= 0 && c.Allowed <= 60 &&
		(c.Start == 0 || c.Start >= leastVolt && c.Start <= c.Running)
}

// Validate returns nil for thresholds in the ranges stated beside them, and
// otherwise an error that names each fault.
//
// Definition: as [CutOff].
func (c CutOff) Validate() error {
	if c.ok() {
		return nil
	}
	err := errors.Join(
		dcVoltage("running cut-off", c.Running),
		pkg.Range("cut-off delay", float64(c.Allowed), 0, 60, domain.Second),
	)
	if c.Start == 0 {
		return err
	}
	return errors.Join(err, pkg.Range("start cut-off", float64(c.Start), leastVolt, float64(c.Running), domain.Volt))
}

// Limit returns the lowest voltage that a load of the given duration may bring
// about, and which threshold that is: Start for a dip no longer than Allowed,
// Running for anything longer. The link is [CutOffDelay] where a threshold for
// the start exists but the dip outlasts the delay. Valid for 0 to 400 days.
//
// Definition: as [CutOff].
func (c CutOff) Limit(duration unit.Time) (unit.Voltage, Link, error) {
	if err := errors.Join(c.Validate(), span("duration", duration)); err != nil {
		return 0, 0, err
	}
	v, link := c.limit(duration)
	return v, link, nil
}

func (c CutOff) limit(duration unit.Time) (unit.Voltage, Link) {
	switch {
	case c.Start == 0 || c.Start == c.Running:
		return c.Running, RunningCutOff
	case duration <= c.Allowed:
		return c.Start, StartCutOff
	}
	return c.Running, CutOffDelay
}

// floor returns the lowest voltage that is allowed at all.
func (c CutOff) floor() (unit.Voltage, Link) {
	if c.Start == 0 {
		return c.Running, RunningCutOff
	}
	return c.Start, StartCutOff
}

// A CutOffCheck lays the voltages of a steady load and of a start beside the
// two thresholds.
type CutOffCheck struct {
	RunningMargin unit.Voltage // voltage under steady load less its threshold; negative: trips
	StartMargin   unit.Voltage // voltage in the dip less its threshold; negative: trips
	StartLimit    unit.Voltage // threshold that binds in the dip
	GaveWay       Link         // RunningCutOff, StartCutOff or CutOffDelay, the one further below; 0: neither
}

// Check lays the voltage under steady load and the lowest voltage of a start,
// both at the inverter's terminals (V), beside the thresholds. Margins are
// voltage less threshold. Valid for 0 V to 1 kV.
//
// Definition: as [CutOff].
func (c CutOff) Check(running, dip unit.Voltage, duration unit.Time) (CutOffCheck, error) {
	limit, link, err := c.Limit(duration)
	err = errors.Join(
		err,
		pkg.Range("running voltage", float64(running), 0, mostVolt, domain.Volt),
		pkg.Range("start voltage", float64(dip), 0, mostVolt, domain.Volt),
	)
	if err != nil {
		return CutOffCheck{}, err
	}
	r := CutOffCheck{RunningMargin: running - c.Running, StartMargin: dip - limit, StartLimit: limit}
	switch {
	case r.RunningMargin < 0 && r.RunningMargin <= r.StartMargin:
		r.GaveWay = RunningCutOff
	case r.StartMargin < 0:
		r.GaveWay = link
	}
	return r, nil
}
