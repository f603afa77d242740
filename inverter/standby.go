package inverter

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Standby is what an inverter takes with nothing running. In search mode it
// sleeps and wakes for a pulse to see whether a load asks for power; a small
// load, or a pump behind a pressure switch or controller, may not wake it:
// test before relying on it.
type Standby struct {
	Idle   unit.Power // dc draw awake without load, 0 to 25 kW
	Search unit.Power // dc draw in search mode, at most Idle; 0: switched off between runs
}

func (s Standby) validate() error {
	return errors.Join(
		pkg.Range("idle draw", float64(s.Idle), 0, mostIdle*mostRated, domain.Watt),
		pkg.Range("search draw", float64(s.Search), 0, max(0, float64(s.Idle)), domain.Watt),
	)
}

// IdleEnergy returns the energy that an idle draw takes over a time, P·t (J).
// It is a line of its own in every account: 20 W are 480 Wh a day, more than
// twice what twelve one-minute runs of a 1 kW pump take. Valid for 0 to 25 kW
// and up to 400 days.
//
// Definition: energy is power times time.
func IdleEnergy(idle unit.Power, t unit.Time) (unit.Energy, error) {
	return Standby{Idle: idle}.Energy(t, 0)
}

// Energy returns the energy taken over an outage of which the inverter is
// awake for one part and in search mode, or off, for the rest,
//
//	E = P_idle·t_awake + P_search·t_asleep
//
// Hours under load belong to neither: their idle draw is in [Loss].
//
// Definition: energy is power times time.
func (s Standby) Energy(awake, asleep unit.Time) (unit.Energy, error) {
	if err := errors.Join(s.validate(), span("time awake", awake), span("time asleep", asleep)); err != nil {
		return 0, err
	}
	return unit.Energy(float64(s.Idle)*float64(awake) + float64(s.Search)*float64(asleep)), nil
}

// IdleDraw returns the idle draw of an inverter from the dc current that a
// meter shows with nothing connected, P = V·I (W). Valid for 5 V to 1 kV and
// 0 to 100 A.
//
// Definition: dc power is volts times amperes.
func IdleDraw(v unit.Voltage, i unit.Current) (unit.Power, error) {
	err := errors.Join(dcVoltage("dc voltage", v), pkg.Range("idle current", float64(i), 0, 100, domain.Ampere))
	if err != nil {
		return 0, err
	}
	return unit.Power(float64(v) * float64(i)), nil
}
