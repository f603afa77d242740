package inverter

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"
)

// ErrTrip is what every [TripError] is, by [errors.Is].
var ErrTrip = errors.New("inverter: trips")

// A TripError says that an inverter switches off. It is an answer, not an
// argument error.
type TripError struct {
	Limit  Link         // by which limit
	After  unit.Time    // since the load was switched on
	Output unit.Voltage // ac, the last before it trips (rms)
	Input  unit.Voltage // dc, the last before it trips
}

// Error says which limit, when and at what voltages.
func (e *TripError) Error() string {
	return fmt.Sprintf("inverter: trips by its %s after %.3g s, at %.1f V ac and %.2f V dc",
		e.Limit, float64(e.After), float64(e.Output), float64(e.Input))
}

// Is reports whether target is [ErrTrip].
func (e *TripError) Is(target error) bool { return target == ErrTrip }

// input lowers the voltage to what the dc side allows, fills in the rest of the
// state and returns by what the inverter trips, if it does.
func (l Limited) input(s *LimitedState, load complex128, z float64, after unit.Time) (trip Link) {
	floor, link := l.CutOff.floor()
	if 2*floor < l.Source.OpenCircuit {
		link = Collapse
	}
	v, p0 := float64(s.Voltage), float64(l.Loss.Idle)
	b := (1 + l.Loss.Linear) * max(0, real(load)) / (z * z)
	a := l.Loss.Quadratic / (float64(l.Loss.Rated) * z * z)
	dc := p0 + (b+a*v*v)*v*v
	if most := float64(l.DCPower); most != 0 && dc > most {
		dc, s.Voltage, s.Limit = most, held(a, b, most-p0), DCPowerLimit
	}
	running := float64(l.Source.largest(l.CutOff.Running))
	if dc > running || l.Source.OpenCircuit < l.CutOff.Running {
		if after > l.CutOff.Allowed {
			trip = RunningCutOff
			if l.CutOff.Allowed > 0 {
				trip = CutOffDelay
			}
		}
	}
	if most := float64(l.Source.largest(floor)); dc > most {
		dc, s.Voltage, s.Limit = most, held(a, b, most-p0), link
	}
	switch { // does not even idle
	case l.Source.OpenCircuit < floor:
		trip = link
	case dc < p0:
		trip = s.Limit
	}
	v = float64(s.Voltage)
	s.Current, s.Apparent = unit.Current(v/z), ApparentPower(v*v/z)
	s.Real = unit.Power(v * v * real(load) / (z * z))
	s.DC = l.Source.atMost(unit.Power(dc))
	return trip
}

// held is the voltage at which a dc side takes c (W) for the load: the root of
// a·V⁴ + b·V² = c, 0 if c is negative. a and b are not both zero, or the load
// would ask nothing of the dc side.
func held(a, b, c float64) unit.Voltage {
	if c <= 0 {
		return 0
	}
	return unit.Voltage(math.Sqrt(2 * c / (b + math.Sqrt(b*b+4*a*c))))
}

// atMost is the operating point at a power that the last bits may have put
// above collapse.
func (s Source) atMost(dc unit.Power) Point {
	if p, ok := s.point(dc); ok {
		return p
	}
	v := s.OpenCircuit / 2
	return Point{dc, unit.Current(float64(v) / float64(s.Resistance())), v}
}
