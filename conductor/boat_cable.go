package conductor

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"
)

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
