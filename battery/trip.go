package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"
)

// A Trip is the state of charge under which a load takes the voltage below a
// cut-off.
type Trip struct {
	// Below is that state of charge, 0 with Never and 1 with Always: at it and
	// above it the load holds.
	Below float64
	// By is [RunCutOff], or [RunCollapse] where the voltage collapses before it
	// comes down to the cut-off. The zero value with Never.
	By RunEnd

	Never  bool // holds even on an empty battery
	Always bool // trips even on a full one
}

// TripAtPower returns the state of charge under which a load of constant dc
// power trips a cut-off: the S at which
//
//	Voc(S) = Vc + P·R(S)/Vc
//
// or, where P·R > Vc², at which Voc² = 4·P·R, the collapse. Voc is the rest
// voltage (V), R the resistance (Ω), Vc the cut-off (V) and P all the dc power
// at that moment (W): for the start of a motor, that of the start and of
// everything else that runs. A cut-off with a delay longer than the start does
// not trip; take the running power then.
//
// The voltages of a model are at rest before the load: a battery that has just
// been under another one is a little lower still.
//
// Valid for 1 mW to 100 MW and 0.5 to 1500 V; otherwise, and for the zero
// model, err wraps [ErrDomain].
//
// Source: [PointAtPower], solved for the open-circuit voltage.
func (m VoltageModel) TripAtPower(p unit.Power, cutOff unit.Voltage) (Trip, error) {
	if !(m.voltageLines != nil && p >= leastRunPower && p <= mostPointPower && cutOff >= leastCurveVoltage && cutOff <= mostCurveVoltage) {
		return Trip{}, errors.Join(m.check(), checkLoadPower(p, leastRunPower), checkCurveVoltage("cut-off voltage", cutOff))
	}
	power, vc := float64(p), float64(cutOff)
	k, by := m.lowestAtPower(power, vc)
	switch k {
	case 0:
		return Trip{Never: true}, nil
	case len(m.soc):
		return Trip{Below: 1, By: by, Always: true}, nil
	}
	va, vb := m.open[k-1], m.open[k]
	ra, rb := m.res[k-1], m.res[k]
	// What the open-circuit voltage has to spare over the cut-off, a straight
	// line in x: negative at 0 and, where the cut-off comes first, not at 1.
	ga, gb := va-vc-power*ra/vc, vb-vc-power*rb/vc
	x, by := min(1, ga/(ga-gb)), RunCutOff
	if !(power*(ra+(rb-ra)*x) <= vc*vc) {
		x, by = parabolaRoot(va*va-4*power*ra, vb*vb-4*power*rb, vb-va), RunCollapse
	}
	return Trip{Below: m.soc[k-1] + (m.soc[k]-m.soc[k-1])*x, By: by}, nil
}

// holdsPower reports whether a load holds at a point of the model, and what
// stops it if not. Where P·R > Vc² the voltage is above Vc at every operating
// point.
func (m *voltageLines) holdsPower(k int, p, vc float64) (bool, RunEnd) {
	open, pr := m.open[k], p*m.res[k]
	switch {
	case open*open < 4*pr:
		return false, RunCollapse
	case pr < vc*vc && open < vc+pr/vc:
		return false, RunCutOff
	}
	return true, 0
}

// lowestAtPower returns the first point at which the load holds, and what
// stops it at the full battery if there is none. The points that hold are all
// above those that do not, as the voltage does not fall with the charge and
// the resistance does not rise.
func (m *voltageLines) lowestAtPower(p, vc float64) (int, RunEnd) {
	n := len(m.soc)
	if ok, by := m.holdsPower(n-1, p, vc); !ok {
		return n, by
	}
	lo, hi := 0, n-1
	for lo < hi {
		mid := (lo + hi) / 2
		if ok, _ := m.holdsPower(mid, p, vc); ok {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return lo, 0
}

// parabolaRoot returns where Voc² - 4·P·R, which goes from da < 0 at 0 to
// db ≥ 0 at 1 with slope² the coefficient of its square, is zero. It rises all
// the way: b is 2·Voc·slope and what the resistance adds, both not negative.
func parabolaRoot(da, db, slope float64) float64 {
	a := slope * slope
	b := db - da - a
	return min(1, -2*da/(b+math.Sqrt(b*b-4*a*da)))
}

// TripAtCurrent returns the state of charge under which a constant current
// trips a cut-off: the S at which
//
//	Voc(S) - I·R(S) = Vc
//
// in the symbols of [VoltageModel.TripAtPower] and with I the current (A).
// There is no collapse: the current flows whatever the voltage.
//
// Valid for 1 mA to 100 kA and 0.5 to 1500 V; otherwise, and for the zero
// model, err wraps [ErrDomain].
//
// Source: Kirchhoff's voltage law.
func (m VoltageModel) TripAtCurrent(i unit.Current, cutOff unit.Voltage) (Trip, error) {
	if !(m.voltageLines != nil && i >= leastCurrent && i <= mostCurrent && cutOff >= leastCurveVoltage && cutOff <= mostCurveVoltage) {
		return Trip{}, errors.Join(m.check(), checkCurrent("current", i), checkCurveVoltage("cut-off voltage", cutOff))
	}
	amps, vc := float64(i), float64(cutOff)
	lo, hi := 0, len(m.soc)-1
	if m.open[hi]-amps*m.res[hi] < vc {
		return Trip{Below: 1, By: RunCutOff, Always: true}, nil
	}
	for lo < hi {
		if mid := (lo + hi) / 2; m.open[mid]-amps*m.res[mid] >= vc {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	if hi == 0 {
		return Trip{Never: true}, nil
	}
	ga, gb := m.open[hi-1]-amps*m.res[hi-1]-vc, m.open[hi]-amps*m.res[hi]-vc
	return Trip{Below: m.soc[hi-1] + (m.soc[hi]-m.soc[hi-1])*ga/(ga-gb), By: RunCutOff}, nil
}
