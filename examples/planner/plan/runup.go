package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// Full speed is this share of the synchronous one; a start should be over before
// a start capacitor or an overload protection suffers.
//
// Common practice: start capacitors are to be out within 3 to 5 s.
const (
	fullSpeed    = 90.0 // (%)
	longestStart = 3.0  // (s)
	// shortestStart is three cycles, below which quasi-steady times say nothing:
	// they leave out that the flux has to build up.
	shortestStart = 0.05
)

// A corner is one end of what is known of a load's run-up.
type corner struct {
	result motor.RunUpResult
	reach  float64 // speed reached over the synchronous one (%)
}

// A runUp is how a load comes up to speed at the bad and the good end of what is
// known: motors of its kind from the least to the greatest locked-rotor current,
// wires, inertia and load torque.
type runUp struct {
	bad, good corner
	source    string // the motors it rests on
}

// showRunUp follows the start of a load from rest: whether its motor comes up to
// speed on what inverter and wires leave it.
func (m *maker) showRunUp(s *Section, i int) error {
	l := &m.loads[i]
	motors, why := l.typicalMotors()
	if why != "" {
		s.note("%s: whether it comes up to speed is not computed: %s.", l.Name, why)
		return nil
	}
	u, err := m.runUp(i, motors)
	if err != nil {
		return m.fault(l.table, err)
	}
	basis := worst(l.startBasis, RuleOfThumb)
	inertia, rest, full := turned(motors)
	numbers := fmt.Sprintf("I_lr = %s A; wires %s Ω; J = %s kg·m²; T_load = %s N·m at rest, %s N·m at speed; V_0 = %s V, held to the current of the surge rating less what else runs",
		span(l.start.Current.Low, l.start.Current.High), span(real(l.path[0]), real(l.path[1])),
		brief(inertia.Low, inertia.High), brief(rest.Low, rest.High), brief(full.Low, full.High), num(m.supply))
	const formula = "J·dω/dt = T(ω, V) - T_load(ω), T = V²·t(ω) of the motor's equivalent circuit, the start switch opening at 75 % of synchronous speed"
	bad, good := u.bad.result, u.good.result
	if good.FullSpeed > 0 {
		low, high := good.FullSpeed, max(good.FullSpeed, bad.FullSpeed)
		also := "to 90 % of synchronous speed"
		if bad.FullSpeed == 0 {
			also += "; at the bad end never"
		}
		if low < shortestStart {
			also += "; three cycles stand for any shorter start, which the model does not resolve"
			low, high = shortestStart, max(high, shortestStart)
		}
		s.add(Figure{
			Key: l.key + ".runup_s", Label: l.Name + ": time to come up to speed", Unit: "s",
			Low: float64(low), High: float64(high), Basis: basis, Also: also,
			Formula: formula, Numbers: numbers, Source: u.source + "; scaling by V²/P is common practice",
			Shortcut: &Shortcut{Rule: "a start lasts a second", Value: 1, Why: "It is inertia over the torque that is left, which falls with the square of the voltage."},
		})
	}
	s.add(Figure{
		Key: l.key + ".runup_motor_v", Label: l.Name + ": least voltage at the motor on its way up", Unit: "V",
		Low: float64(min(bad.LeastVoltage, good.LeastVoltage)), High: float64(max(bad.LeastVoltage, good.LeastVoltage)), Basis: basis,
		Formula: "V = V_0·|Z/(Z + Z_wires)|, at most I_lim·|Z|", Numbers: numbers, Source: "voltage divider; the motor's impedance from its equivalent circuit",
	})
	m.check(Check{
		ID: l.key + ".start_runup", Title: l.Name + ": comes up to speed", Unit: "%", AtLeast: true, Setting: true,
		Low: min(u.bad.reach, u.good.reach), High: max(u.bad.reach, u.good.reach), Limit: fullSpeed, Basis: basis,
		Message: u.message(), Source: "equation of motion with the equivalent circuits of published motors; load torque and inertia by common practice",
	})
	if good.FullSpeed > 0 {
		m.check(Check{
			ID: l.key + ".start_time", Title: l.Name + ": up to speed in good time", Unit: "s", Advice: true,
			Low: float64(good.FullSpeed), High: float64(max(good.FullSpeed, bad.FullSpeed)), Limit: longestStart, Basis: basis,
			Message: "A start that drags on heats windings and start capacitor, and may trip the overload protection before the motor is up.",
			Source:  "common practice: start capacitors out within 3 to 5 s",
		})
	}
	return nil
}

// message says how the two ends come out.
func (u runUp) message() string {
	good, bad := u.good.text(), u.bad.text()
	switch {
	case u.bad.result.Outcome == motor.Starts:
		return fmt.Sprintf("It starts: %s to %s.", good, bad)
	case u.good.result.Outcome == motor.Starts:
		return fmt.Sprintf("Marginal: at the good end of what is known it starts (%s), at the bad end it %s. %s", good, bad, danger)
	}
	return fmt.Sprintf("It does not start: it %s, and at the good end of what is known %s. %s", bad, good, danger)
}

// danger is what a start that fails does.
const danger = "A motor that hums or crawls draws its starting current until something trips or burns: switch it off."

// text says how one end comes out.
func (c corner) text() string {
	r := &c.result
	rpm := num(math.Round(float64(r.Speed / motor.RPM)))
	switch r.Outcome {
	case motor.Starts:
		return fmt.Sprintf("up in %s s with at least %s V at the motor", num(round3(float64(r.FullSpeed))), num(r.LeastVoltage))
	case motor.StandsStill:
		return r.Outcome.String()
	}
	return fmt.Sprintf("%v, at %s rpm", r.Outcome, rpm)
}

// runUp runs the corners.
func (m *maker) runUp(i int, motors []typicalMotor) (runUp, error) {
	l := &m.loads[i]
	allowed, _, err := m.inv.surge.Allowed(l.duration.High)
	if err != nil {
		return runUp{}, err
	}
	_, others := m.together(i)
	var all []corner
	var sources []string
	for _, kind := range motors {
		sources = append(sources, kind.source)
		for end := range 2 { // bad, good
			left := allowed - others.High
			if end == 1 {
				left = allowed - others.Low
			}
			// On its own voltage the motor of less current has less torque; held to
			// a current, that of more.
			for _, current := range []unit.Current{l.start.Current.Low, l.start.Current.High} {
				c, err := kind.circuit.WithLockedRotorCurrent(current)
				if err != nil {
					return runUp{}, err
				}
				r := motor.RunUp{
					Circuit: c, Load: kind.load[end], Inertia: kind.inertia[end], Feeder: l.path[1-end], Settle: 0.5,
					Source: motor.Line{
						Voltage: m.supply, Frequency: kind.frequency, Phases: 1,
						Limit: max(0.05, unit.Current(float64(left)/float64(m.supply))),
					},
				}
				result, err := r.QuasiSteady()
				if err != nil {
					return runUp{}, err
				}
				all = append(all, corner{result: result, reach: 100 * float64(result.Speed/kind.synchronous)})
			}
		}
	}
	order := func(a, b corner) int {
		switch {
		case a.worse(b):
			return -1
		case b.worse(a):
			return 1
		}
		return 0
	}
	return runUp{bad: slices.MinFunc(all, order), good: slices.MaxFunc(all, order), source: strings.Join(sources, "; ")}, nil
}

// worse reports whether a corner ends worse than another: below full speed, or
// later there.
func (c corner) worse(than corner) bool {
	a, b := c.result.FullSpeed, than.result.FullSpeed
	switch {
	case a > 0 && b > 0:
		return a > b
	case a == 0 && b == 0:
		return c.reach < than.reach
	}
	return a == 0
}
