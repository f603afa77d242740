package motor

import (
	"errors"

	"ridethrough.example/internal/domain"
)

// StarterRatios are the figures of a start over those of the same motor
// started at full voltage, with the rotor held.
type StarterRatios struct {
	// Motor is the current in the motor's own lines, 0 to 1.
	Motor float64
	// Line is the current taken from the source, 0 to 1.
	Line float64
	// Torque is the starting torque; a drive can give more than 1.
	Torque float64
}

// TorquePerAmpere returns the starting torque per ampere of the source over
// that at full voltage. Series resistance and voltage ramps lose by it,
// transformers and wye-delta keep it, a drive gains.
//
// Definition: Torque/Line, 0 where Line is 0.
func (r StarterRatios) TorquePerAmpere() float64 {
	if r.Line == 0 {
		return 0
	}
	return r.Torque / r.Line
}

// AutotransformerStart returns the ratios on the tap a of an autotransformer,
//
//	I_motor = a    I_line = a²    T = a²
//
// with a the tap's voltage over the line's. Magnetizing current and losses of
// the transformer come on top. The usual taps are 0.65 and 0.80; submersible
// pumps want at least 0.55.
//
// Valid for 0.3 to 1; outside, err wraps [ErrDomain].
//
// Source: C. I. Hubert, Electric Machines, 2nd edition, example 5.18; I. L.
// Kosow, Electric Machinery and Transformers, 2nd edition, example 9-16.
// Common practice: the taps.
func AutotransformerStart(tap float64) (StarterRatios, error) {
	if !within(tap, 0.3, 1) {
		return StarterRatios{}, pkg.Range("tap over line voltage", tap, 0.3, 1, domain.One)
	}
	return StarterRatios{Motor: tap, Line: tap * tap, Torque: tap * tap}, nil
}

// AutotransformerTaps returns the usual taps over the line voltage.
//
// Common practice: application manuals of submersible motors.
func AutotransformerTaps() [2]float64 { return [2]float64{0.65, 0.80} }

// SubmersibleLeastTap is the least voltage, over the line's, on which the
// trade starts a submersible pump.
const SubmersibleLeastTap = 0.55

// WyeDeltaStart returns the ratios of a motor that runs in delta and is
// started in wye,
//
//	I_motor = 1/√3 in each winding    I_line = 1/3    T = 1/3
//
// Motor is the winding's current, since the motor's line is the source's. On
// the change to delta the current rises again, for a moment above that of
// full voltage where the change is open. It needs all six leads; see
// [StarterCase.Judge].
//
// Source: circuit theory: a winding at 1/√3 of its voltage, and line over
// winding current of √3 in delta and 1 in wye.
func WyeDeltaStart() StarterRatios {
	return StarterRatios{Motor: 1 / sqrt3, Line: 1.0 / 3, Torque: 1.0 / 3}
}

// SeriesStart returns the ratios with an impedance Z_s in each line of a motor
// that shows Z with its rotor held,
//
//	v = |Z/(Z + Z_s)|    I = v    T = v²
//
// [SeriesResistor] and [SeriesReactor] size Z_s for a wanted current. As the
// motor gains speed its share of the voltage rises by itself. The bounds are
// those of [VoltageRatio].
//
// Source: C. I. Hubert, Electric Machines, 2nd edition, examples 5.20 and
// 5.21.
func SeriesStart(motor, series complex128) (StarterRatios, error) {
	v, err := VoltageRatio(motor, series)
	if err != nil {
		return StarterRatios{}, err
	}
	return StarterRatios{Motor: v, Line: v, Torque: v * v}, nil
}

// VoltageRampStart returns the ratios at the moment when a soft starter lets
// the share v of the line voltage through,
//
//	I = v    T = v²
//
// It starts nothing that full voltage would not, and lengthens the start.
//
// Valid for v from 0.1 to 1; outside, err wraps [ErrDomain]. Chopped voltage
// holds harmonics, which add current and no torque.
//
// Source: as [CurrentRatio] and [TorqueRatio] at rated frequency.
func VoltageRampStart(v float64) (StarterRatios, error) {
	if !within(v, leastVoltageRatio, 1) {
		return StarterRatios{}, pkg.Range("voltage over line voltage", v, leastVoltageRatio, 1, domain.One)
	}
	return StarterRatios{Motor: v, Line: v, Torque: v * v}, nil
}

// DriveStart returns the ratios on a variable-frequency drive that holds V/f
// and so gives rated torque at about rated current,
//
//	I = I_rated/I_lr    T = T_rated/T_lr
//
// for a motor whose locked-rotor current and torque at full voltage are the
// given multiples of the rated ones. Line is set to the same as Motor, which
// is its upper end: the source delivers the power of a slow shaft and the
// losses, far less than the motor's amperes suggest.
//
// Valid for a current of 1.5 to 15 and a torque of 0.2 to 5 times the rated
// ones; outside, err wraps [ErrDomain].
//
// Source: flux is proportional to V/f, any text on drives. Common practice:
// rated current for rated torque.
func DriveStart(lockedCurrent, lockedTorque float64) (StarterRatios, error) {
	if !(within(lockedCurrent, 1.5, 15) && within(lockedTorque, 0.2, 5)) {
		return StarterRatios{}, errors.Join(
			pkg.Range("locked-rotor over rated current", lockedCurrent, 1.5, 15, domain.One),
			pkg.Range("locked-rotor over rated torque", lockedTorque, 0.2, 5, domain.One),
		)
	}
	return StarterRatios{Motor: 1 / lockedCurrent, Line: 1 / lockedCurrent, Torque: 1 / lockedTorque}, nil
}
