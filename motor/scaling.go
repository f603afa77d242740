package motor

import (
	"errors"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// CurrentRatio returns how the locked-rotor current changes with voltage and
// frequency,
//
//	I'/I = v/f
//
// with v the voltage and f the frequency, each as a ratio to the rated one.
// The running current does the opposite: at 90 % voltage and the same load it
// rises by about 11 %. Below rated voltage less saturation makes the real
// locked-rotor current fall a little faster than v.
//
// Valid for v 0.1 to 1.3 and f 0.8 to 1.25, where reactance dominates;
// outside, err wraps [ErrDomain]. Small motors of large resistance follow v
// well and f less.
//
// Source: C. I. Hubert, Electric Machines, 2nd edition, chapter 5.
func CurrentRatio(v, f float64) (float64, error) {
	if !goodRatios(v, f) {
		return 0, badRatios(v, f)
	}
	return v / f, nil
}

// TorqueRatio returns how the torque at a given slip, such as the
// locked-rotor torque, changes with voltage and frequency,
//
//	T'/T = (v/f)²
//
// with the symbols and the validity of [CurrentRatio].
//
// Source: C. I. Hubert, Electric Machines, 2nd edition, section 5 and example
// 5.8.
func TorqueRatio(v, f float64) (float64, error) {
	if !goodRatios(v, f) {
		return 0, badRatios(v, f)
	}
	return (v / f) * (v / f), nil
}

// SlipRatio returns how the running slip changes with voltage and frequency
// at the same load torque,
//
//	s'/s = f/v²
//
// with the symbols and the validity of [CurrentRatio]; both slips must be
// small. Speed is (1 − s) times the synchronous speed, which follows f.
//
// Source: C. I. Hubert, Electric Machines, 2nd edition, example 5.6.
func SlipRatio(v, f float64) (float64, error) {
	if !goodRatios(v, f) {
		return 0, badRatios(v, f)
	}
	return f / (v * v), nil
}

func goodRatios(v, f float64) bool {
	return within(v, leastVoltageRatio, greatestVoltageRatio) && within(f, leastFrequencyRatio, greatestFrequencyRatio)
}

func badRatios(v, f float64) error {
	return errors.Join(
		pkg.Range("voltage over rated voltage", v, leastVoltageRatio, greatestVoltageRatio, domain.One),
		pkg.Range("frequency over rated frequency", f, leastFrequencyRatio, greatestFrequencyRatio, domain.One),
	)
}

// Bounds of the ratios: a bare 115 or 60 is none.
const (
	leastVoltageRatio      = 0.1
	greatestVoltageRatio   = 1.3
	leastFrequencyRatio    = 0.8
	greatestFrequencyRatio = 1.25
	leastLockedPF          = 0.05
)

// At returns the start demand at another voltage: the current follows the
// voltage, volt-amperes and watts its square. Valid for 0.1 to 1.3 times
// d.Voltage; outside, err wraps [ErrDomain].
//
// Source: as [CurrentRatio].
func (d StartDemand) At(v unit.Voltage) (StartDemand, error) {
	ratio := float64(v / d.Voltage)
	if err := pkg.Range("voltage over rated voltage", ratio, leastVoltageRatio, greatestVoltageRatio, domain.One); err != nil {
		return StartDemand{}, err
	}
	d.Voltage = v
	square := Exactly(ratio * ratio)
	d.Current = times[unit.Current, float64, unit.Current](d.Current, Exactly(ratio))
	d.Apparent = times[ApparentPower, float64, ApparentPower](d.Apparent, square)
	d.Real = times[unit.Power, float64, unit.Power](d.Real, square)
	return d, nil
}

// LockedRotorImpedance returns the impedance (Ω) of one phase, line to
// neutral, that the motor shows with its rotor held,
//
//	Z = √m·V/(m·I) · (cos φ + j sin φ)
//
// with V the line voltage (V, rms), I the line current (A, rms), cos φ the
// power factor, lagging, and m the phases: V/I for one phase, V/(√3·I) for
// three. Put in series with source and conductors it gives the dip and what
// is left at the motor; see [VoltageRatio].
//
// Valid for 10 V to 15 kV, 0.05 A to 20 kA and cos φ from 0.05 to 1; outside,
// err wraps [ErrDomain].
//
// Source: definition of impedance and power factor, IEC 60050-131-12-43 and
// 131-11-46.
func LockedRotorImpedance(voltage unit.Voltage, current unit.Current, phases int, powerFactor float64) (complex128, error) {
	if !(goodVoltage(voltage) && goodCurrent(current) && goodPhases(phases) && within(powerFactor, leastLockedPF, 1)) {
		return 0, errors.Join(
			checkVoltage(voltage), checkCurrent("locked-rotor current", current), checkPhases(phases),
			pkg.Range("locked-rotor power factor", powerFactor, leastLockedPF, 1, domain.One),
		)
	}
	z := float64(voltage) / (lineFactor(phases) * float64(current))
	return complex(z*powerFactor, z*math.Sqrt(1-powerFactor*powerFactor)), nil
}

// Impedances returns the four corners of the locked-rotor impedance (Ω, one
// phase, line to neutral) that the demand allows: least current with least
// and greatest power factor, then greatest current with both. Which of them
// is worst depends on the source: resistance in a cable bites most at a power
// factor near 1, reactance at a low one.
//
// For an unbounded demand err is [ErrUnbounded]. A current of 0, which
// [Nameplate.Start] never gives, has no impedance and is refused with the
// rest that [LockedRotorImpedance] refuses.
//
// Source: as [LockedRotorImpedance].
func (d StartDemand) Impedances() ([4]complex128, error) {
	var z [4]complex128
	if d.Unbounded {
		return z, ErrUnbounded
	}
	i, pf := d.Current, d.PowerFactor
	for k, corner := range [...]struct {
		i  unit.Current
		pf float64
	}{{i.Low, pf.Low}, {i.Low, pf.High}, {i.High, pf.Low}, {i.High, pf.High}} {
		var err error
		if z[k], err = LockedRotorImpedance(d.Voltage, corner.i, d.Phases, corner.pf); err != nil {
			return [4]complex128{}, err
		}
	}
	return z, nil
}

// VoltageRatio returns the voltage at the motor over the open-circuit voltage
// of its source,
//
//	V_m/V_0 = |Z_m / (Z_m + Z_s)|
//
// with Z_m the motor's locked-rotor impedance (Ω) and Z_s that of source and
// conductors (Ω), both of one phase, line to neutral; for one phase Z_s counts
// both conductors. Current and, squared, torque at the start fall with it. To
// subtract I·|Z_s| from V instead overstates the dip, since the current falls
// too.
//
// Valid for resistances of 0 or more, and for |Z_m| and |Z_m + Z_s| from 1 µΩ
// to 1 MΩ; outside, and where a capacitive source resonates with the motor,
// err wraps [ErrDomain].
//
// Source: voltage divider, any text on alternating-current circuits.
func VoltageRatio(motor, source complex128) (float64, error) {
	a, b := cmplx.Abs(motor), cmplx.Abs(motor+source)
	if real(motor) >= 0 && real(source) >= 0 && within(a, leastOhms, mostOhms) && within(b, leastOhms, mostOhms) {
		return a / b, nil
	}
	return 0, badDivider(motor, source)
}

const (
	leastOhms = 1e-6
	mostOhms  = 1e6
)

// badDivider says what is wrong with the arguments of VoltageRatio.
func badDivider(motor, source complex128) error {
	return errors.Join(
		pkg.Range("motor resistance", real(motor), 0, mostOhms, domain.Ohm),
		pkg.Range("source resistance", real(source), 0, mostOhms, domain.Ohm),
		pkg.Range("motor impedance", cmplx.Abs(motor), leastOhms, mostOhms, domain.Ohm),
		pkg.Range("impedance of motor and source together", cmplx.Abs(motor+source), leastOhms, mostOhms, domain.Ohm),
	)
}
