package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Limited is a single-phase inverter with all that limits it, as the source
// of a load: it regulates its output until one of its limits acts, and then
// lowers the voltage until the load stays within the limit. It has the methods
// that a start simulation asks of a source, with gonum's and Go's types alone.
//
// It keeps no state. Times count from the switching on of the load, and a limit
// that holds for a time is taken as in use from then on.
type Limited struct {
	Voltage    unit.Voltage    // V_0, regulated, no load, 50 to 600 V (rms)
	Frequency  unit.Frequency  // 10 to 400 Hz
	Resistance unit.Resistance // R_o of the output, by which the voltage droops, 0 to 10 Ω; its heat is in Loss
	Current    unit.Current    // greatest output current (rms), 50 mA to 20 kA; 0: none but the surge rating
	Surge      Surge           // apparent power and times, read as currents at V_0; the zero Surge: no limit
	DCPower    unit.Power      // greatest dc power, 20 W to 10 MW; 0: none
	Loss       Loss            // from ac to dc
	Source     Source          // battery, cable and contacts
	CutOff     CutOff          // low-voltage cut-off
	// Trips says that the inverter switches off at a limit instead of lowering
	// its voltage.
	Trips bool
}

// unlimited reports whether there is no surge rating.
func (l Limited) unlimited() bool { return l.Surge.Continuous == 0 && len(l.Surge.Points) == 0 }

// ok is validate without the words, for the hot path.
func (l Limited) ok() bool {
	return l.Voltage >= 50 && l.Voltage <= 600 && l.Frequency >= 10 && l.Frequency <= 400 &&
		l.Resistance >= 0 && l.Resistance <= 10 &&
		(l.Current == 0 || l.Current >= 0.05 && l.Current <= 20e3) &&
		(l.DCPower == 0 || l.DCPower >= leastRated && l.DCPower <= mostDC) &&
		(l.unlimited() || l.Surge.ok()) && l.Loss.ok() && l.Source.ok() && l.CutOff.ok()
}

// Validate returns nil if all fields are in the ranges stated beside them, and
// otherwise an error that names each fault.
//
// Definition: as [Limited].
func (l Limited) Validate() error {
	if l.ok() {
		return nil
	}
	err := errors.Join(
		pkg.Range("output voltage", float64(l.Voltage), 50, 600, domain.Volt),
		pkg.Range("frequency", float64(l.Frequency), 10, 400, domain.Hertz),
		pkg.Range("output resistance", float64(l.Resistance), 0, 10, domain.Ohm),
	)
	if l.Current != 0 {
		err = errors.Join(err, pkg.Range("current limit", float64(l.Current), 0.05, 20e3, domain.Ampere))
	}
	if l.DCPower != 0 {
		err = errors.Join(err, pkg.Range("dc power limit", float64(l.DCPower), leastRated, mostDC, domain.Watt))
	}
	if !l.unlimited() {
		err = errors.Join(err, l.Surge.Validate())
	}
	return errors.Join(err, l.Loss.Validate(), l.Source.Validate(), l.CutOff.Validate())
}

// A LimitedState is the state of a [Limited] under a load.
type LimitedState struct {
	Voltage  unit.Voltage  // ac, at the output (rms)
	Current  unit.Current  // ac (rms)
	Apparent ApparentPower // of the load
	Real     unit.Power    // of the load
	DC       Point         // on the dc side
	Limit    Link          // which limit lowers the voltage; 0: none
}

// Linear returns what the inverter is from one instant to the next: open-circuit
// voltage (rms), output resistance (Ω) and the greatest current (A, rms), which
// is the lower of the current limit and the highest surge rating over V_0; +Inf
// if there is neither. The dc side is not in it.
//
// Definition: Thévenin's equivalent, with a limit of current.
func (l Limited) Linear() (open unit.Voltage, series complex128, limit unit.Current) {
	limit = unit.Current(math.Inf(1))
	if l.Current != 0 {
		limit = l.Current
	}
	if !l.unlimited() {
		s, _ := l.Surge.allowed(0)
		limit = min(limit, unit.Current(float64(s)/float64(l.Voltage)))
	}
	return l.Voltage, complex(float64(l.Resistance), 0), limit
}

// Under returns output voltage (rms) and frequency with a load of the impedance
// Z (Ω) across the output, some time after it was switched on (s). Everything
// else of that state, and what err may be, is in [Limited.State].
//
// Source: as [Limited.State].
func (l Limited) Under(load complex128, after unit.Time) (unit.Voltage, unit.Frequency, error) {
	s, err := l.State(load, after)
	if err != nil {
		return 0, 0, err
	}
	return s.Voltage, l.Frequency, nil
}

// State returns the state under a load of the impedance Z (Ω), some time after
// it was switched on. The voltage is the least of
//
//	V = V_0·|Z/(Z + R_o)|                      regulated
//	V = I_lim·|Z|                              current limit
//	V = (S(t)/V_0)·|Z|                         surge rating S for the time t
//	V² = 2·c/[b + √(b² + 4·a·c)]               dc side
//
// where the last solves P_0 + b·V² + a·V⁴ = P_max for the loss model of
// [Loss.DCPowerAt], with b = (1 + v)·Re Z/|Z|², a = r/(P_r·|Z|²) and
// c = P_max - P_0. P_max (W) is the lower of DCPower and of what the source
// delivers at the start cut-off (the running one if there is none, or collapse
// if that comes first). A load that gives real power back gives none to the
// battery.
//
// err is a [TripError] where the load brings the input below the running
// cut-off and the cut-off's delay is over, where the idle draw alone is more
// than the dc side gives, and, with Trips, where any limit acts. So a lower
// current limit can save a start that the cut-off would end.
//
// Sinusoidal; of a limit that clips peaks the rms current is higher than its
// peak over √2, see [LimitStart]. Valid for |Z| from 1 mΩ to 1 GΩ, of a load that
// gives power back with |Z + R_o| at least |Z|/2, and 0 to 400 days; otherwise err
// wraps [ErrDomain].
//
// Source: Ohm's law; the models of [Loss], [Surge], [Source] and [CutOff].
func (l Limited) State(load complex128, after unit.Time) (LimitedState, error) {
	z := math.Hypot(real(load), imag(load))
	if !l.ok() || !(z >= 1e-3 && z <= 1e9) || !(after >= 0 && after <= mostTime) {
		return LimitedState{}, errors.Join(l.Validate(),
			pkg.Range("magnitude of the load", z, 1e-3, 1e9, domain.Ohm), span("time", after))
	}
	// A load of -R_o would raise the voltage without end.
	if loop := math.Hypot(real(load)+float64(l.Resistance), imag(load)); !(loop >= z/2) {
		return LimitedState{}, pkg.Range("magnitude of a load that gives power back and the output resistance", loop, z/2, 1e9, domain.Ohm)
	}
	s := l.output(load, z, after)
	trip := l.input(&s, load, z, after)
	if trip == 0 && l.Trips {
		trip = s.Limit
	}
	if trip != 0 {
		return LimitedState{}, &TripError{Limit: trip, After: after, Output: s.Voltage, Input: s.DC.Voltage}
	}
	return s, nil
}

// output is the voltage that the ac side allows.
func (l Limited) output(load complex128, z float64, after unit.Time) LimitedState {
	v0 := float64(l.Voltage)
	s := LimitedState{Voltage: unit.Voltage(v0 * z / math.Hypot(real(load)+float64(l.Resistance), imag(load)))}
	if held := unit.Voltage(float64(l.Current) * z); l.Current != 0 && held < s.Voltage {
		s.Voltage, s.Limit = held, CurrentLimit
	}
	if !l.unlimited() {
		allowed, link := l.Surge.allowed(after)
		if held := unit.Voltage(float64(allowed) / v0 * z); held < s.Voltage {
			s.Voltage, s.Limit = held, link
		}
	}
	return s
}
