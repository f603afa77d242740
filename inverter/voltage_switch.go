package inverter

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A VoltageSwitch is a low-voltage cut-off that comes back by itself.
//
// Common practice for 12 V: off at 10.5 V, on again at 12.0 to 12.6 V.
type VoltageSwitch struct {
	CutOff    CutOff
	Reconnect unit.Voltage // on again at or above it, the running cut-off to 1 kV
	Wait      unit.Time    // time at or above Reconnect before it comes on, up to 1 h; 0: at once
}

// Validate returns nil for thresholds in the ranges stated beside them, and
// otherwise an error that names each fault.
//
// Definition: as [VoltageSwitch].
func (c VoltageSwitch) Validate() error {
	return errors.Join(
		c.CutOff.Validate(),
		pkg.Range("reconnect voltage", float64(c.Reconnect), float64(c.CutOff.Running), mostVolt, domain.Volt),
		pkg.Range("reconnect delay", float64(c.Wait), 0, mostSurge, domain.Second),
	)
}

// A SwitchState is where a [VoltageSwitch] stands. The zero value is on, with
// the voltage in order.
type SwitchState struct {
	Off bool
	// For is how long the voltage has been on the way to the other state: below
	// the running cut-off while on, at or above Reconnect while off.
	For unit.Time
}

// Next returns the state after the dc voltage v (V) has stood for a time dt (s).
// Where the state changes, within is how long after the beginning of dt; else it
// is dt. On, it goes off at once below the start cut-off, and where the voltage
// has been below the running cut-off for longer than the cut-off waits; off, it
// comes on where the voltage has been at or above Reconnect for Wait. A voltage
// that turns back in between starts the clock anew. Between the two thresholds
// it stays as it is. Valid for 0 V to 1 kV and 0 to 400 days; otherwise err wraps
// [ErrDomain].
//
// Definition: a switch with hysteresis and delays.
func (c VoltageSwitch) Next(s SwitchState, v unit.Voltage, dt unit.Time) (next SwitchState, within unit.Time, err error) {
	err = errors.Join(
		c.Validate(), span("time", dt), span("time so far", s.For),
		pkg.Range("dc voltage", float64(v), 0, mostVolt, domain.Volt),
	)
	if err != nil {
		return s, 0, err
	}
	floor, _ := c.CutOff.floor()
	switch {
	case s.Off && v >= c.Reconnect:
		if left := max(0, c.Wait-s.For); left <= dt {
			return SwitchState{}, left, nil
		}
		return SwitchState{Off: true, For: s.For + dt}, dt, nil
	case s.Off:
		return SwitchState{Off: true}, dt, nil
	case v < floor:
		return SwitchState{Off: true}, 0, nil
	case v < c.CutOff.Running:
		if left := max(0, c.CutOff.Allowed-s.For); left < dt {
			return SwitchState{Off: true}, left, nil
		}
		return SwitchState{For: s.For + dt}, dt, nil
	}
	return SwitchState{}, dt, nil
}

// Hunts reports whether a load of a constant dc power (W) that does not switch
// off with the inverter makes it go on and off without end: the load brings the
// source below the running cut-off or to collapse, and without it the source
// recovers to Reconnect. A battery at rest recovers slowly, so that the state
// may come some minutes later. Every time is a start for a motor.
//
// Source: the models of [Source] and [CutOff].
func (c VoltageSwitch) Hunts(s Source, dc unit.Power) (bool, error) {
	if err := c.Validate(); err != nil {
		return false, err
	}
	p, err := s.Operate(dc)
	if err != nil && !errors.Is(err, ErrCollapse) {
		return false, err
	}
	return (err != nil || p.Voltage < c.CutOff.Running) && s.OpenCircuit >= c.Reconnect, nil
}
