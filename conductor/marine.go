package conductor

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// MarineK is the K of the marine voltage-drop formula. It is the resistivity of
// solid copper at 29 °C; at 75 °C copper has 12.6 and at 105 °C 13.8, and a
// strand 2 % more: see [KTemperature].
//
// Source: ABYC E-11, voltage-drop formula.
const MarineK = 10.75 * OhmCircularMilPerFoot

// A MarineRun is a dc circuit as boat practice counts it: by the length of the
// wire out and back, where the rest of this package counts one way.
type MarineRun struct {
	OutAndBack unit.Length  // of the wire, from source to load and back again
	Current    unit.Current // of the load
	Allowed    unit.Voltage // E, the drop itself: 3 % of the system for what is critical, 10 % for the rest
	K          Resistivity  // usually [MarineK]
}

// Area returns the least area of metal by the circular-mil method,
//
//	CM = K·I·L/E
//
// with K in Ω·cmil/ft, I in amperes, L (ft) out and back and E in volts. With
// [MarineK] a cable that runs at its 105 °C rating drops 29 % more than was
// allowed; use the resistivity of the temperature at hand where that counts.
//
// Valid for 2 cm to 40 km, 1 mA to 100 kA, 1 mV to 35 kV and 1 nΩ·m to 1 µΩ·m;
// otherwise err wraps [ErrDomain].
//
// Source: ABYC E-11, voltage-drop formula.
func (r MarineRun) Area() (unit.Area, error) {
	if !r.ok() {
		return 0, r.check()
	}
	return unit.Area(float64(r.K) * float64(r.Current) * float64(r.OutAndBack) / float64(r.Allowed)), nil
}

// Drop returns the drop in a conductor of the area CM, the same formula solved
// for E,
//
//	E = K·I·L/CM
//
// The field Allowed is not read. Valid as [MarineRun.Area] and for 0.005 to
// 2000 mm²; otherwise err wraps [ErrDomain].
//
// Source: ABYC E-11, voltage-drop formula.
func (r MarineRun) Drop(a unit.Area) (unit.Voltage, error) {
	r.Allowed = 1
	if err := errors.Join(r.check(), checkArea(a)); err != nil {
		return 0, err
	}
	return unit.Voltage(float64(r.K) * float64(r.Current) * float64(r.OutAndBack) / float64(a)), nil
}

// SmallestAWG returns the smallest gauge of boat cable, 18 AWG to 4/0 without 3
// AWG, whose AWG area is at least that of [MarineRun.Area]. Ampacity is not
// looked at: see [BoatCable.Ampacity].
//
// Where 4/0 AWG is too small, err is an [AreaError], which is [ErrNoSize].
//
// Source: ABYC E-11, voltage-drop formula, with the areas of NEC chapter 9,
// table 8.
func (r MarineRun) SmallestAWG() (Size, error) { return r.smallest(false) }

// SmallestSAE returns the smallest gauge of cable made to the vehicle standard,
// which has 3 to 11 % less metal than the gauge says: [MarineRun.SmallestAWG]
// with the areas of [SAEArea]. Printed boat charts are made this way.
//
// Where 4/0 is too small, err is an [AreaError], which is [ErrNoSize].
//
// Source: ABYC E-11, voltage-drop formula and least areas; SAE J1127, J1128.
func (r MarineRun) SmallestSAE() (Size, error) { return r.smallest(true) }

func (r MarineRun) smallest(sae bool) (Size, error) {
	a, err := r.Area()
	if err != nil {
		return Size{}, err
	}
	want := float64(a / CircularMil)
	for i := range boatCable {
		b := &boatCable[i]
		has := b.awg
		if sae {
			has = b.sae
		}
		if b.sae > 0 && has >= want {
			return b.size, nil
		}
	}
	return Size{}, &AreaError{Area: a}
}

// An AreaError says that no size of boat cable has the area that a drop asks
// for. It is [ErrNoSize].
type AreaError struct {
	Area unit.Area // asked for
}

// Error gives the figures in words.
//
// Definition: the fields of the error.
func (e *AreaError) Error() string {
	return fmt.Sprintf("%v: %.1f mm² asked for, more than 4/0 AWG has; lay cables in parallel or shorten the run",
		ErrNoSize, float64(e.Area/SquareMillimetre))
}

// Is reports whether target is [ErrNoSize].
//
// Definition: every AreaError is the answer that no size suffices.
func (e *AreaError) Is(target error) bool { return target == ErrNoSize }

// KTemperature returns the temperature at which solid metal has the
// resistivity K,
//
//	T = 20 + (K/ρ20 − 1)/α20
//
// in °C, ρ20 and α20 as in [Metal.Resistivity]: what a printed K stands for.
// [MarineK] of copper is 29.3 °C. A K that holds 2 % of lay, such as 12.9, must
// be divided by 1.02 first.
//
// Valid where the result is −60 to 300 °C; otherwise err wraps [ErrDomain].
//
// Source: IEC 60028; IEC 60889.
func KTemperature(m Metal, k Resistivity) (unit.Temperature, error) {
	if err := m.check(); err != nil {
		return 0, err
	}
	rho, alpha := m.at20()
	t := celsius20 + (float64(k)/rho-1)/alpha
	if !(t >= minTemperature && t <= maxTemperature) {
		at := func(t float64) float64 { return rho * (1 + alpha*(t-celsius20)) }
		return 0, pkg.Range("resistivity", float64(k), at(minTemperature), at(maxTemperature), ohmMetre)
	}
	return unit.Temperature(t), nil
}

func (r MarineRun) ok() bool {
	return r.OutAndBack >= 2*minLength && r.OutAndBack <= 2*maxLength && r.Current >= 1e-3 && r.Current <= maxCurrent &&
		r.Allowed >= minDrop && r.Allowed <= maxDrop && r.K >= 1e-9 && r.K <= 1e-6
}

func (r MarineRun) check() error {
	return errors.Join(
		pkg.Range("length out and back", float64(r.OutAndBack), 2*minLength, 2*maxLength, domain.Metre),
		pkg.Range("current", float64(r.Current), 1e-3, maxCurrent, domain.Ampere),
		DropLimit{Allowed: r.Allowed}.checkAllowed(),
		pkg.Range("resistivity", float64(r.K), 1e-9, 1e-6, ohmMetre))
}
