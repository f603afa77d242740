package motor

import (
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Opened returns the circuit with its capacitor failed open or its switch not
// closing.
//
// Definition: the auxiliary winding carries no current.
func (c StartCircuit) Opened() StartCircuit {
	c.Open = true
	return c
}

// Shorted returns the circuit with its capacitor failed short: the winding is
// left with the resistance alone. The switch or relay in it may not survive
// that.
//
// Definition: the capacitance of the circuit is none.
func (c StartCircuit) Shorted() StartCircuit {
	c.Capacitance = 0
	return c
}

// Aged returns the circuit with a share of its capacitance left, as a dried
// out electrolytic has or a part that was too small to begin with. Electrolytic
// start capacitors are marked with a span of about −0 +20 %.
//
// Valid for a share of 0.01 to 1; outside, err wraps [ErrDomain]. A lost
// capacitor is [StartCircuit.Opened].
//
// Definition: C' = left·C. Common practice: the marked span.
func (c StartCircuit) Aged(left float64) (StartCircuit, error) {
	if err := pkg.Range("share of the capacitance that is left", left, 0.01, 1, domain.One); err != nil {
		return StartCircuit{}, err
	}
	c.Capacitance *= unit.Capacitance(left)
	return c, nil
}

// A FaultyStart lays a start circuit at fault beside the healthy one.
type FaultyStart struct {
	// Healthy and Faulty are the two states with the rotor held.
	Healthy, Faulty Standstill
	// Torque is the starting torque at fault over the healthy one: 0 for a
	// motor that hums, negative for one that turns backwards. A motor whose
	// load needs a share of the healthy torque to break away does not start
	// below that share.
	Torque float64
	// Current and Power are line current and watts at fault over the healthy
	// ones. A motor that hangs draws them until protection trips.
	Current, Power float64
}

// CompareStarts returns what becomes of a start when its circuit is not what
// it should be, at one voltage V (V, rms):
//
//	T'/T = (I_m·I_a·sin α)' / (I_m·I_a·sin α)
//
// and the ratios of line currents and watts, all with the rotor held. A motor
// with an open capacitor takes less current than a healthy one but takes it
// for as long as it hangs: less is no sign of health.
//
// The bounds are those of [LockedWindings.Standstill]. A circuit without
// torque in the place of the healthy one is an error that wraps [ErrDomain].
//
// Source: as [LockedWindings.Standstill].
func (w LockedWindings) CompareStarts(voltage unit.Voltage, healthy, faulty StartCircuit) (FaultyStart, error) {
	h, err := w.Standstill(voltage, healthy)
	if err != nil {
		return FaultyStart{}, err
	}
	f, err := w.Standstill(voltage, faulty)
	if err != nil {
		return FaultyStart{}, err
	}
	if h.Rotation == Hums {
		return FaultyStart{}, pkg.Invalid("healthy start circuit", "without starting torque", "one with")
	}
	return FaultyStart{
		Healthy: h, Faulty: f,
		Torque:  f.TorqueIndex / h.TorqueIndex,
		Current: cmplx.Abs(f.Line) / cmplx.Abs(h.Line),
		Power:   float64(f.Real / h.Real),
	}, nil
}
