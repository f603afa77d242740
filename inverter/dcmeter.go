package inverter

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// DCReadings are volts at the inverter's input and the amperes of a dc clamp or
// shunt, each with its spread. A clamp for ac shows nothing there.
type DCReadings struct {
	Voltage Range[unit.Voltage] // 5 V to 1 kV
	Current Range[unit.Current] // mean, 0 to 10 kA
}

func (d DCReadings) check() error {
	return errors.Join(
		checkSpan("dc voltage", d.Voltage, leastVolt, mostVolt, domain.Volt),
		checkSpan("dc current", d.Current, 0, 10e3, domain.Ampere),
	)
}

// Power returns V·I (W), end by end. The current pulsates at twice the line
// frequency, which a mean leaves out: the error is that of voltage ripple times
// current ripple, within a few percent ([RippleFactor]).
//
// Definition: P = V·I of direct quantities.
func (d DCReadings) Power() (Range[unit.Power], error) {
	if err := d.check(); err != nil {
		return Range[unit.Power]{}, err
	}
	return Range[unit.Power]{
		Low:  unit.Power(float64(d.Voltage.Low) * float64(d.Current.Low)),
		High: unit.Power(float64(d.Voltage.High) * float64(d.Current.High)),
	}, nil
}

// Efficiency returns the inverter's efficiency at the readings, real power out
// over dc power in, at the worst on either side. More out than in, beyond the
// spread, is [ErrContradiction]; volt-amperes in place of watts do that, see
// [ReadingRatio]. Valid for 0 to 1 MW out and more than 0 in.
//
// Definition: η = P_ac/(V_dc·I_dc).
func (d DCReadings) Efficiency(ac Range[unit.Power]) (Range[float64], error) {
	in, err := d.Power()
	if err := errors.Join(err, checkSpan("ac power", ac, 0, mostPower, domain.Watt)); err != nil {
		return Range[float64]{}, err
	}
	if in.High < 1e-3 {
		return Range[float64]{}, pkg.Range("dc power", float64(in.High), 1e-3, mostDC, domain.Watt)
	}
	if ac.Low > in.High {
		return Range[float64]{}, ErrContradiction
	}
	eta := Range[float64]{Low: float64(ac.Low / in.High), High: 1}
	if ac.High < in.Low {
		eta.High = float64(ac.High / in.Low)
	}
	return eta, nil
}

// ErrTooClose says that two readings differ by no more than the meters' spread,
// so that nothing follows from the difference: load the source more.
var ErrTooClose = errors.New("inverter: the two currents do not differ by more than the meter's accuracy")

// A Sag is a source as two readings show it: what stands at its terminals
// without load, and what holds it down.
type Sag struct {
	Resistance  Range[unit.Resistance] // battery, and all cable up to where the volts were read
	OpenCircuit Range[unit.Voltage]    // extrapolated to no load; after minutes of load below the rested voltage
}

// Sag returns the source's resistance from readings at a light and a heavy
// load,
//
//	R = (V_light - V_heavy)/(I_heavy - I_light),  V_oc = V_light + R·I_light
//
// at the worst on either side. If the same meter took both, its share error
// cancels in part and the range is wider than need be. Currents closer than
// their spread are [ErrTooClose], a voltage that rises with load is
// [ErrContradiction], and a heavy load that is the lighter one wraps [ErrDomain]. Readings seconds apart: later the battery's own voltage
// has fallen, which shows as resistance.
//
// Source: Ohm's law; IEC 60896-21, 6.3, takes two currents too (recalled).
func (d DCReadings) Sag(heavy DCReadings) (Sag, error) {
	if err := errors.Join(d.check(), heavy.check()); err != nil {
		return Sag{}, err
	}
	least, most := float64(heavy.Current.Low-d.Current.High), float64(heavy.Current.High-d.Current.Low)
	if most < 0 {
		return Sag{}, pkg.Range("current of the heavy load", float64(heavy.Current.High), float64(d.Current.Low), 10e3, domain.Ampere)
	}
	if least <= 1e-6*most {
		return Sag{}, ErrTooClose
	}
	fall, deepest := float64(d.Voltage.Low-heavy.Voltage.High), float64(d.Voltage.High-heavy.Voltage.Low)
	if deepest < 0 {
		return Sag{}, ErrContradiction
	}
	r := Range[unit.Resistance]{Low: unit.Resistance(max(0, fall) / most), High: unit.Resistance(deepest / least)}
	return Sag{r, Range[unit.Voltage]{
		Low:  d.Voltage.Low + unit.Voltage(float64(r.Low)*float64(d.Current.Low)),
		High: d.Voltage.High + unit.Voltage(float64(r.High)*float64(d.Current.High)),
	}}, nil
}
