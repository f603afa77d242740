package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A CurvePoints is what is read off one published discharge curve at constant
// current, to make a [Tremblay] of. The zero value is invalid.
type CurvePoints struct {
	Current    unit.Current    // of the curve, 1 mA to 100 kA
	Capacity   unit.Charge     // Q, where the curve falls to its end, 0.1 Ah to 100 kAh
	Resistance unit.Resistance // R, from the data sheet, 1 µΩ to 10 Ω

	Full          unit.Voltage // at the first moment, before the curve bends
	ZoneEnd       unit.Voltage // where the exponential zone ends
	ZoneCharge    unit.Charge  // Qexp, drawn by then
	PlateauEnd    unit.Voltage // where the nominal zone ends, before the knee
	PlateauCharge unit.Charge  // Qnom, drawn by then
}

// Validate returns everything that is wrong with the points, as an
// [ErrDomain], or nil. The voltages must fall from point to point, the charges
// rise: Qexp from 1/10000 to 0.9 of Q, Qnom from 1.1·Qexp to 0.999 of Q.
//
// Definition: the bounds of [CurvePoints].
func (p CurvePoints) Validate() error {
	const name = "voltage at the end of the "
	q := float64(p.Capacity)
	return errors.Join(
		checkCurrent("current of the curve", p.Current),
		checkCurveCapacity(p.Capacity),
		checkResistance("resistance", p.Resistance),
		checkCurveVoltage("voltage when full", p.Full),
		pkg.Range(name+"exponential zone", float64(p.ZoneEnd), float64(leastCurveVoltage), float64(p.Full), domain.Volt),
		pkg.Range(name+"nominal zone", float64(p.PlateauEnd), float64(leastCurveVoltage), float64(p.ZoneEnd), domain.Volt),
		pkg.Range("charge of the exponential zone", float64(p.ZoneCharge), 1e-4*q, 0.9*q, domain.AmpereHour),
		pkg.Range("charge of the nominal zone", float64(p.PlateauCharge), 1.1*float64(p.ZoneCharge), 0.999*q, domain.AmpereHour),
	)
}

// Tremblay returns the set whose curve goes through the three points,
//
//	B = 3/Qexp
//	Vfull - Vexp = A·(1 - exp(-3)) + K·Q/(Q-Qexp)·(Qexp + i)
//	Vfull - Vnom = A·(1 - exp(-B·Qnom)) + K·Q/(Q-Qnom)·(Qnom + i)
//	E0 = Vfull + R·i - A
//
// where the second and third are two linear equations for A (V) and K (V/Ah,
// the same number in Ω), V is in V, Q in Ah, i in A and R in Ω. At the first
// moment the filtered current is still zero, so that K does not act on the
// full voltage; the curve of [Tremblay.Voltage], which has it settled, lies
// K·i below that point. Response is left zero.
//
// Points outside their bounds are an [ErrDomain], and so are points that no
// set of [Tremblay] fits, such as a plateau that would ask for a negative K.
//
// Source: O. Tremblay, L.-A. Dessaint, World Electric Vehicle Journal 3
// (2009), parameter extraction.
func (p CurvePoints) Tremblay() (Tremblay, error) {
	if err := p.Validate(); err != nil {
		return Tremblay{}, err
	}
	q, i := float64(p.Capacity/AmpereHour), float64(p.Current)
	qe, qn := float64(p.ZoneCharge/AmpereHour), float64(p.PlateauCharge/AmpereHour)
	ae, an := q/(q-qe)*(qe+i), q/(q-qn)*(qn+i)
	ee, en := -math.Expm1(-3), -math.Expm1(-3*qn/qe)
	de, dn := float64(p.Full-p.ZoneEnd), float64(p.Full-p.PlateauEnd)
	det := ee*an - en*ae
	if !(det > 1e-6*ee*an) {
		return Tremblay{}, pkg.Invalid("points of the discharge curve", "too close together",
			"a nominal zone well beyond the exponential zone")
	}
	a, k := (de*an-dn*ae)/det, (ee*dn-en*de)/det
	t := Tremblay{
		Constant:     p.Full + unit.Voltage(float64(p.Resistance)*i-a),
		Resistance:   p.Resistance,
		Polarization: unit.Resistance(k),
		Capacity:     p.Capacity,
		Amplitude:    unit.Voltage(a),
		Zone:         p.ZoneCharge,
	}
	if err := t.Validate(); err != nil {
		return Tremblay{}, err
	}
	return t, nil
}
