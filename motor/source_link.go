package motor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Linked is what a [Source] may be besides: an inverter whose output comes from
// a capacitor, the dc link, that something weaker than a short start charges.
// [RunUp.Dynamic] follows the voltage of the link then. Its types are gonum's
// and Go's alone.
type Linked interface {
	// Link returns the capacitance of the dc link (10 µF to 10 F), its voltage
	// when full, with which the start begins (10 V to 2 kV), the conductance
	// through which it is charged (10 mS to 100 kS, and a time constant with the
	// capacitance of at least 10 µs) and the greatest power that charges it (20 W
	// to 10 MW, or +Inf).
	Link() (capacitance unit.Capacitance, full unit.Voltage, conductance unit.Conductance, limit unit.Power)
}

// dcLink is a dc link in SI units.
type dcLink struct {
	capacitance float64 // (F); 0: none
	full        float64 // (V)
	conductance float64 // (S)
	limit       float64 // (W)
}

// linkOf returns the dc link of a source, the zero dcLink where it has none.
func linkOf(s Source) (dcLink, error) {
	linked, ok := s.(Linked)
	if !ok {
		return dcLink{}, nil
	}
	c, full, g, limit := linked.Link()
	l := dcLink{float64(c), float64(full), float64(g), float64(limit)}
	err := errors.Join(
		pkg.Range("capacitance of the dc link", l.capacitance, 10e-6, 10, domain.Farad),
		pkg.Range("voltage of the dc link", l.full, 10, 2000, domain.Volt),
		pkg.Range("charging conductance of the dc link", l.conductance, 10e-3, 100e3, domain.Siemens),
		pkg.Range("time constant of the dc link", l.capacitance/l.conductance, 10e-6, 1000, domain.Second),
	)
	if !math.IsInf(l.limit, 1) {
		err = errors.Join(err, pkg.Range("charging power of the dc link", l.limit, 20, 10e6, domain.Watt))
	}
	return l, err
}

// charge is the current (A) into the link at a voltage.
func (l *dcLink) charge(v float64) float64 {
	i := math.Max(l.conductance*(l.full-v), 0)
	if v > 0 {
		i = math.Min(i, l.limit/v)
	}
	return i
}

// drained is the share of the full voltage below which the diodes of the bridge
// take the output current over from the link, by and by, so that it ends at 0 and
// no lower.
const drained = 0.01

// clip returns what of a voltage u a link at v lets through, and its share of v,
// which is that of the output current which the link gives.
func (l *dcLink) clip(u, v float64) (clipped, share float64) {
	most := 1.0
	if low := drained * l.full; v < low {
		most = math.Max(v, 0) / low
	}
	if math.Abs(u) < most*v {
		return u, u / v
	}
	return math.Copysign(most*v, u), math.Copysign(most, u)
}
