package motor

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Two figures of a plate, each rounded, are allowed to differ by this much.
//
// Common practice: NEMA MG 1 allows efficiency and current their own
// tolerances; no standard states one for the plate as a whole.
const (
	ratingTolerance = 0.15 // efficiency × power factor against output/(V·A)
	letterTolerance = 0.05 // locked-rotor current against the code letter
)

// Validate reports everything that is wrong with the plate: figures out of
// range (a bare 0.5 for 0.5 hp is half a watt) and figures that contradict
// each other, as [ContradictionError]:
//
//   - a service-factor current below the full-load current
//   - a locked-rotor current below a running current
//   - a locked-rotor current more than 5 % outside the code letter's range
//   - a running current more than 5 % above the end of the code letter's range
//   - an output above the volt-amperes that the running current brings in
//   - efficiency × power factor off output/volt-amperes by more than 15 %, or
//     either of them alone below it by more than 15 %
//   - one phase with the type three-phase, or the reverse
//
// Ranges are those of the fields' comments, and 0.05 A to 20 kA.
//
// Common practice: the two tolerances. Definition: the rest; conservation of
// energy, and NEMA MG 1 10.37.2 for the letter.
func (n Nameplate) Validate() error { return validate(&n) }

// validate is Validate without the copy. A good plate costs comparisons alone;
// faults asks the same again to put it into words.
func validate(n *Nameplate) error {
	noCurrent := n.FullLoadCurrent == 0 && n.ServiceFactorCurrent == 0 && n.LockedRotorCurrent == 0
	if goodVoltage(n.Voltage) && goodPhases(n.Phases) && typeAgrees(n.Type, n.Phases) &&
		(n.Output == 0 || goodOutput(n.Output)) &&
		(n.Code == 0 || n.Code.index() >= 0) &&
		(n.ServiceFactor == 0 || within(n.ServiceFactor, 1, greatestServiceFactor)) &&
		(n.Efficiency == 0 || goodEfficiency(n.Efficiency)) &&
		(n.PowerFactor == 0 || goodPowerFactor(n.PowerFactor)) &&
		(noCurrent || goodCurrents(n.FullLoadCurrent, n.ServiceFactorCurrent, n.LockedRotorCurrent) &&
			(n.Code == 0 || checkLetter(n) == nil) && checkPower(n) == nil) {
		return nil
	}
	return faults(n)
}

// goodCurrents reports whether each current is plausible or 0 and none is
// below one that it must reach.
func goodCurrents(full, service, locked unit.Current) bool {
	return (full == 0 || goodCurrent(full)) &&
		(service == 0 || goodCurrent(service) && service >= full) &&
		(locked == 0 || goodCurrent(locked) && locked >= full && locked >= service)
}

const greatestServiceFactor = 2

// faults says what validate found: contradictions are sought where each
// figure by itself is in range.
func faults(n *Nameplate) error {
	if err := rangeFaults(n); err != nil {
		return err
	}
	return errors.Join(checkCurrents(n), checkLetter(n), checkPower(n), checkType(n.Type, n.Phases))
}

// rangeFaults names the figures that are out of range.
func rangeFaults(n *Nameplate) error {
	err := errors.Join(checkVoltage(n.Voltage), checkPhases(n.Phases))
	if n.Output != 0 {
		err = errors.Join(err, checkOutput(n.Output))
	}
	if n.FullLoadCurrent != 0 {
		err = errors.Join(err, checkCurrent("full-load current", n.FullLoadCurrent))
	}
	if n.ServiceFactorCurrent != 0 {
		err = errors.Join(err, checkCurrent("service-factor current", n.ServiceFactorCurrent))
	}
	if n.LockedRotorCurrent != 0 {
		err = errors.Join(err, checkCurrent("locked-rotor current", n.LockedRotorCurrent))
	}
	if n.ServiceFactor != 0 {
		err = errors.Join(err, pkg.Range("service factor", n.ServiceFactor, 1, greatestServiceFactor, domain.One))
	}
	if n.Efficiency != 0 {
		err = errors.Join(err, checkEfficiency(n.Efficiency))
	}
	if n.PowerFactor != 0 {
		err = errors.Join(err, checkPowerFactor(n.PowerFactor))
	}
	if n.Code != 0 && n.Code.index() < 0 {
		err = errors.Join(err, badLetter(n.Code))
	}
	return err
}

func checkCurrents(n *Nameplate) error {
	if n.ServiceFactorCurrent != 0 && n.ServiceFactorCurrent < n.FullLoadCurrent {
		return contradiction("service-factor current %.4g is below full-load current %.4g", n.ServiceFactorCurrent, n.FullLoadCurrent)
	}
	if run := max(n.FullLoadCurrent, n.ServiceFactorCurrent); n.LockedRotorCurrent != 0 && n.LockedRotorCurrent < run {
		return contradiction("locked-rotor current %.4g is below running current %.4g", n.LockedRotorCurrent, run)
	}
	return nil
}

func checkLetter(n *Nameplate) error {
	i := n.Code.index()
	if i < 0 || n.Output == 0 {
		return nil
	}
	perK := ampsPerKVAPerHP(n.Voltage, n.Phases, n.Output)
	least, most := codeFloor[i]*(1-letterTolerance), codeFloor[i+1]*(1+letterTolerance)
	if locked := n.LockedRotorCurrent; locked != 0 && !within(float64(locked), least*perK, most*perK) {
		k := float64(locked) / perK
		return contradiction("locked-rotor current %.4g is %.3g kVA/hp, letter %v, but the plate says %v", locked, k, letterOf(k), n.Code)
	}
	if run := max(n.FullLoadCurrent, n.ServiceFactorCurrent); float64(run) > most*perK {
		return contradiction("running current %.4g is above the locked-rotor current of code letter %v, at most %.4g",
			run, n.Code, unit.Current(codeFloor[i+1]*perK))
	}
	return nil
}

func checkPower(n *Nameplate) error {
	i, p := float64(n.FullLoadCurrent), float64(n.Output)
	if i == 0 {
		i, p = float64(n.ServiceFactorCurrent), p*max(n.ServiceFactor, 1)
	}
	if i == 0 || p == 0 {
		return nil
	}
	s := lineFactor(n.Phases) * float64(n.Voltage) * i
	ratio := p / s
	switch {
	case ratio >= 1:
		return contradiction("output %.4g is not below the %.4g that go in", unit.Power(p), ApparentPower(s))
	case n.Efficiency != 0 && n.Efficiency < ratio*(1-ratingTolerance):
		return contradiction("efficiency %.3g is below output/volt-amperes %.3g", n.Efficiency, ratio)
	case n.PowerFactor != 0 && n.PowerFactor < ratio*(1-ratingTolerance):
		return contradiction("power factor %.3g is below output/volt-amperes %.3g", n.PowerFactor, ratio)
	}
	product := n.Efficiency * n.PowerFactor
	if product == 0 || product >= ratio*(1-ratingTolerance) && product <= ratio*(1+ratingTolerance) {
		return nil
	}
	return contradiction("efficiency × power factor %.3g against output/volt-amperes %.3g", product, ratio)
}

func typeAgrees(t Type, phases int) bool {
	return t.known() == UnknownType || (t == ThreePhase) == (phases == 3)
}

func checkType(t Type, phases int) error {
	if typeAgrees(t, phases) {
		return nil
	}
	return contradiction("type %v with %d phases", t, phases)
}

// contradiction is called where a contradiction was found, and only there:
// it allocates.
func contradiction(form string, args ...any) error {
	return &ContradictionError{What: fmt.Sprintf(form, args...)}
}
