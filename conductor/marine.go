package conductor

import (
	"errors"
	"fmt"
	"strconv"

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

// boatRow holds one size of boat cable.
type boatRow struct {
	size     Size
	outside  float64 // (A), 105 °C insulation outside engine spaces
	sae, awg float64 // (cmil); sae 0 where no figure is known
}

// Source: ABYC E-11, table of allowable current, and SAE J1127/J1128; AWG areas
// of NEC chapter 9, table 8.
var boatCable = [...]boatRow{
	{Size{gauge, 18}, 20, 1537, 1620},
	{Size{gauge, 16}, 25, 2336, 2580},
	{Size{gauge, 14}, 35, 3702, 4110},
	{Size{gauge, 12}, 45, 5833, 6530},
	{Size{gauge, 10}, 60, 9343, 10380},
	{Size{gauge, 8}, 80, 14810, 16510},
	{Size{gauge, 6}, 120, 24538, 26240},
	{Size{gauge, 4}, 160, 37360, 41740},
	{Size{gauge, 3}, 180, 0, 52620},
	{Size{gauge, 2}, 210, 62450, 66360},
	{Size{gauge, 1}, 245, 77790, 83690},
	{Size{gauge, 0}, 285, 98980, 105600},
	{Size{gauge, -1}, 330, 125100, 133100},
	{Size{gauge, -2}, 385, 158600, 167800},
	{Size{gauge, -3}, 445, 205500, 211600},
}

func boatSize(s Size) (*boatRow, error) {
	for i := range boatCable {
		if r := &boatCable[i]; r.size == s {
			return r, nil
		}
	}
	return nil, s.refuse("a size of boat cable: 18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1 AWG or 1/0 to 4/0 AWG")
}

// SAEArea returns the least area of metal that the vehicle standards give a
// cable of a gauge, 3 to 11 % less than [Size.Area]: a "10 gauge" battery or
// primary wire is not 10 AWG. For the drop put it into [MarineRun.Drop].
//
// Valid for 18 AWG to 4/0 AWG without 3 AWG, for which no figure is known;
// otherwise err wraps [ErrDomain].
//
// Source: SAE J1127 (battery cable) and J1128 (low-tension primary cable), as
// ABYC E-11 takes them over.
func SAEArea(s Size) (unit.Area, error) {
	r, err := boatSize(s)
	if err != nil {
		return 0, err
	}
	if r.sae == 0 {
		return 0, s.refuse("a size with an area in SAE J1127 or J1128")
	}
	return unit.Area(r.sae) * CircularMil, nil
}

// A BoatCable is a copper conductor with insulation for 105 °C in a system
// below 50 V.
type BoatCable struct {
	Size Size // 18 AWG to 4/0 AWG
	// EngineSpace: the cable runs through one, where 50 °C are expected.
	EngineSpace bool
	// Bundled conductors that carry current, this one among them. The two of
	// one dc circuit alone count as not bundled: put 1 or 2.
	Bundled int
}

// Ampacity returns the allowable current of a boat cable,
//
//	I = Itable · Fengine · Fbundle
//
// where Itable (A) is the table of 30 °C, Fengine is 0.85 in an engine space
// (about √(55/75)) and Fbundle 0.70 for 3 conductors, 0.60 for 4 to 6, 0.50 for
// 7 to 24 and 0.40 for 25 and more. The figures are 1.4 to 1.7 times those of
// NEC table 310.16 for 90 °C: hotter insulation, single conductors in air. Never
// mix the two, and see that fuse holders and lugs stand the temperature.
//
// Valid for 18 AWG to 4/0 AWG and 1 to 1000 conductors; otherwise err wraps
// [ErrDomain].
//
// Source: ABYC E-11, table of allowable current, 105 °C; 33 CFR 183.425.
func (b BoatCable) Ampacity() (unit.Current, error) {
	r, err := boatSize(b.Size)
	f := bundleFactor(b.Bundled)
	if f == 0 {
		err = errors.Join(err, pkg.Invalid("number of bundled conductors", strconv.Itoa(b.Bundled), "1 to 1000"))
	}
	if err != nil {
		return 0, err
	}
	i := r.outside * f
	if b.EngineSpace {
		i *= engineSpace
	}
	return unit.Current(i), nil
}

const engineSpace = 0.85

// bundleFactor is 0 for a number that is none.
func bundleFactor(n int) float64 {
	switch {
	case n < 1 || n > 1000:
		return 0
	case n < 3:
		return 1
	case n == 3:
		return 0.7
	case n <= 6:
		return 0.6
	case n <= 24:
		return 0.5
	default:
		return 0.4
	}
}
