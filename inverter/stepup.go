package inverter

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A MismatchError says that a motor is not wired for the voltage it is to run
// on, as a 240 V pump on a 120 V inverter.
type MismatchError struct {
	Source, Rated unit.Voltage // of the source, and of the motor as it is wired
	Torque        float64      // what is left of its torque, (V/V_r)²
}

// grossly is the ratio of torques beyond which a motor does not last: that of 240
// or 230 V against 208 V is below, that of 240 V against 120 V beyond.
const grossly = 2.0

// Error names both voltages and what becomes of the motor.
func (e *MismatchError) Error() string {
	fate := "it hums, does not come up to speed and burns out"
	switch {
	case e.Source > e.Rated && e.Torque > grossly:
		fate = "its iron saturates and its winding burns out"
	case e.Source > e.Rated:
		fate = "its iron saturates and it runs hot"
	case e.Torque > 1/grossly:
		fate = "it may not start its load and runs hot"
	}
	return fmt.Sprintf("inverter: a motor wired for %.0f on a source of %.0f has %.3g times its torque: %s", e.Rated, e.Source, e.Torque, fate)
}

// MatchVoltage returns nil where a motor is wired for the voltage of its source,
// within 10 % either way, and otherwise a [*MismatchError]: half the voltage
// leaves a quarter of the torque. A motor of two voltages is reconnected; for
// one of 240 V alone there are a source of 240 V, a stacked pair
// ([SplitPhase]) and a transformer ([StepUp]). Valid for 50 V to 1 kV.
//
// Source: NEMA MG 1-2016, 12.44, for the 10 %; torque as the square of voltage
// from the equivalent circuit.
func MatchVoltage(source, rated unit.Voltage) error {
	err := errors.Join(
		pkg.Range("source voltage", float64(source), leastAC, mostAC, domain.Volt),
		pkg.Range("rated voltage", float64(rated), leastAC, mostAC, domain.Volt),
	)
	if err != nil {
		return err
	}
	if k := float64(source / rated); k < 0.9 || k > 1.1 {
		return &MismatchError{source, rated, k * k}
	}
	return nil
}

// A StepUp is a transformer between an inverter of one voltage and a load of a
// higher one.
type StepUp struct {
	Source unit.Voltage  // 100 to 260 V
	Load   unit.Voltage  // above Source, at most 500 V
	Rating ApparentPower // that may pass through it, 10 VA to 1 MVA
	Auto   bool          // one winding for both sides, which does not isolate
	Loss   float64       // standing loss over Rating, 0 to 0.1; 0.01 to 0.03 as a rule
	Inrush float64       // first peak of the magnetising current over the peak of rated current, 0 to 40; often 8 to 15, more for toroids
}

// Validate returns nil if all fields are in range, and otherwise an error that
// names each fault.
//
// Definition: the ranges stand beside the fields.
func (t StepUp) Validate() error {
	err := errors.Join(
		pkg.Range("source voltage", float64(t.Source), 100, 260, domain.Volt),
		pkg.Range("rating", float64(t.Rating), leastContinuous, mostPower, domain.VoltAmpere),
		pkg.Range("standing loss", t.Loss, 0, 0.1, domain.Percent),
		pkg.Range("inrush", t.Inrush, 0, 40, domain.One),
	)
	if err == nil {
		err = pkg.Range("load voltage", float64(t.Load), float64(t.Source), 500, domain.Volt)
	}
	if err == nil && t.Load == t.Source {
		err = pkg.Invalid("load voltage", fmt.Sprintf("%g V", float64(t.Load)), "more than that of the source")
	}
	return err
}

// A StepUpUse is what a load through the transformer takes of the inverter.
type StepUpUse struct {
	Load     unit.Current  // rms, at the load's voltage
	Source   unit.Current  // rms, at the inverter
	Taken    PowerTriangle // from the inverter, standing loss with it
	Share    float64       // of the transformer's rating; above 1 it is overloaded
	Frame    ApparentPower // size of two-winding transformer with as much iron and copper as the rating needs
	Standing unit.Power    // taken with nothing running, for as long as it is switched on
	Inrush   unit.Current  // crest when switched on at the worst instant; limited by the source, which may trip
}

// Feed returns what a load takes of the inverter through the transformer,
//
//	I_s = |P + P_0 + jQ|/V_s,  frame = S_r·(1 - V_s/V_l) of an autotransformer
//
// with P_0 the standing loss (W): at twice the voltage the inverter sees twice
// the amperes. Its own voltage drop, 2 to 5 % at rating and several times that
// at a start, and its magnetising current are left out. Of the load Real and
// Reactive are read. Valid for loads of 0 to 1 MW.
//
// Source: ideal transformer with a shunt loss.
func (t StepUp) Feed(load PowerTriangle) (StepUpUse, error) {
	if err := errors.Join(t.Validate(), load.check("load")); err != nil {
		return StepUpUse{}, err
	}
	rating, ratio := float64(t.Rating), float64(t.Source/t.Load)
	u := StepUpUse{Standing: unit.Power(t.Loss * rating), Frame: t.Rating}
	if t.Auto {
		u.Frame = ApparentPower(rating * (1 - ratio))
	}
	s := together(load)
	u.Load = unit.Current(float64(s.Apparent) / float64(t.Load))
	u.Share = float64(s.Apparent) / rating
	u.Taken = together(load, PowerTriangle{Real: u.Standing})
	u.Source = unit.Current(float64(u.Taken.Apparent) / float64(t.Source))
	u.Inrush = unit.Current(t.Inrush * math.Sqrt2 * rating / float64(t.Source))
	return u, nil
}
