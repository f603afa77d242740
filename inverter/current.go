package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ShortcutCurrent returns I = P_dc/V (A) for a dc power and a voltage that is
// taken as given. It is the trade's shortcut for [Source.Operate]: it knows
// nothing of the sag that the current itself brings, and is right only if V is
// the voltage under load. Valid for 0 to 10 MW and 5 V to 1 kV.
//
// Common practice: watts over volts.
func ShortcutCurrent(dc unit.Power, v unit.Voltage) (unit.Current, error) {
	err := errors.Join(pkg.Range("dc power", float64(dc), 0, mostDC, domain.Watt), dcVoltage("dc voltage", v))
	if err != nil {
		return 0, err
	}
	return unit.Current(float64(dc) / float64(v)), nil
}

// InputCurrent returns the continuous dc current of an inverter at the lowest
// voltage at which it still runs,
//
//	I = P / (V_low·η)
//
// where P is the ac output (W) and η a flat efficiency. It is the current for
// which conductors and overcurrent devices are chosen. Valid for 0 to 1 MW,
// 5 V to 1 kV and η from 0.5 to 1; otherwise err wraps [ErrDomain].
//
// Source: NEC 690.8(A) to 2014; article 706 since, as 706.20 (2017)
// and 706.30 (2020 and 2023; both numbers recalled).
func InputCurrent(ac unit.Power, lowest unit.Voltage, efficiency float64) (unit.Current, error) {
	err := errors.Join(
		acPower(ac),
		dcVoltage("dc voltage", lowest),
		pkg.Range("efficiency", efficiency, 0.5, 1, domain.One),
	)
	if err != nil {
		return 0, err
	}
	return unit.Current(float64(ac) / (float64(lowest) * efficiency)), nil
}

// continuous is the least rating over a continuous current.
const continuous = 1.25

// LeastRating returns the least rating of conductor and overcurrent device for
// a continuous current, 1.25·I (A). The device must besides carry a start, be
// no larger than the cable's ampacity allows, and interrupt what the battery
// feeds into a fault. Valid for 0 to 100 kA.
//
// Source: NEC 690.8(B) to 2014; article 706 since, as 706.20 (2017)
// and 706.30 (2020 and 2023; both numbers recalled).
func LeastRating(i unit.Current) (unit.Current, error) {
	if err := pkg.Range("dc current", float64(i), 0, 100e3, domain.Ampere); err != nil {
		return 0, err
	}
	return continuous * i, nil
}

// RippleFactor returns rms over average of the dc current where nothing in a
// single-phase inverter stores energy, so that its input follows the
// pulsating output power,
//
//	i = I·[1 - cos(2ωt - φ)/cos φ],  I_rms/I = √(1 + 1/(2·pf²))
//
// for a load of power factor pf = cos φ, 0.05 to 1. Cable, fuse and battery
// resistance heat with its square. A link capacitor brings it nearer to 1.
//
// Source: instantaneous power of a sinusoidal load.
func RippleFactor(pf float64) (float64, error) {
	if err := pkg.Range("power factor", pf, 0.05, 1, domain.One); err != nil {
		return 0, err
	}
	return math.Sqrt(1 + 1/(2*pf*pf)), nil
}
