package conductor

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// An AircraftWire is a row of the aircraft wire table: tinned copper strand in
// a bundle, for 70 °C ambient at 60 000 ft with 33 wires and more in the bundle
// (24 to 10 AWG) or 9 (8 AWG and larger). The currents do not compare with those
// of building wire.
type AircraftWire struct {
	Size          Size                // 24 AWG to 4/0 AWG
	Rated105C     unit.Current        // of wire for 105 °C
	Rated150C     unit.Current        // of wire for 150 °C
	Rated200C     unit.Current        // of wire for 200 °C
	MaxResistance ResistancePerLength // of one conductor at 20 °C
	Area          unit.Area           // nominal
}

// aircraftRow holds a row in the units of print.
type aircraftRow struct {
	size                   Size
	at105, at150, at200    float64 // (A)
	ohmPerKilofoot20, cmil float64
}

// Source: AC 43.13-1B change 1 (2001), table 11-9.
var aircraftWires = [...]aircraftRow{
	{Size{gauge, 24}, 2.5, 4, 5, 28.40, 475},
	{Size{gauge, 22}, 3, 5, 6, 16.20, 755},
	{Size{gauge, 20}, 4, 7, 9, 9.88, 1216},
	{Size{gauge, 18}, 6, 9, 12, 6.23, 1900},
	{Size{gauge, 16}, 7, 11, 14, 4.81, 2426},
	{Size{gauge, 14}, 10, 14, 18, 3.06, 3831},
	{Size{gauge, 12}, 13, 19, 25, 2.02, 5874},
	{Size{gauge, 10}, 17, 26, 32, 1.26, 9354},
	{Size{gauge, 8}, 38, 57, 71, 0.70, 16983},
	{Size{gauge, 6}, 50, 76, 97, 0.44, 26818},
	{Size{gauge, 4}, 68, 103, 133, 0.28, 42615},
	{Size{gauge, 2}, 95, 141, 179, 0.18, 66500},
	{Size{gauge, 1}, 113, 166, 210, 0.15, 81700},
	{Size{gauge, 0}, 128, 192, 243, 0.12, 104500},
	{Size{gauge, -1}, 147, 222, 285, 0.09, 133000},
	{Size{gauge, -2}, 172, 262, 335, 0.07, 166500},
	{Size{gauge, -3}, 204, 310, 395, 0.06, 210900},
}

// AircraftWires returns the table, smallest wire first.
//
// Source: AC 43.13-1B change 1 (2001), table 11-9.
func AircraftWires() []AircraftWire {
	rows := make([]AircraftWire, len(aircraftWires))
	for i := range aircraftWires {
		rows[i] = aircraftWires[i].row()
	}
	return rows
}

// AircraftWireOf returns the row of one size. The largest resistance is 12 to
// 30 % above that of ideal copper of the area, for tin, lay and tolerance, and
// stands with one digit in the largest sizes.
//
// Valid for the sizes of the table, 24 AWG to 4/0 AWG; otherwise err wraps
// [ErrDomain].
//
// Source: AC 43.13-1B change 1 (2001), table 11-9.
func AircraftWireOf(s Size) (AircraftWire, error) {
	i := slices.IndexFunc(aircraftWires[:], func(r aircraftRow) bool { return r.size == s })
	if i < 0 {
		return AircraftWire{}, s.refuse("a size of the aircraft table: even gauges from 24 to 2 AWG, 1 AWG, 1/0 to 4/0 AWG")
	}
	return aircraftWires[i].row(), nil
}

func (r *aircraftRow) row() AircraftWire {
	return AircraftWire{
		Size:      r.size,
		Rated105C: unit.Current(r.at105), Rated150C: unit.Current(r.at150), Rated200C: unit.Current(r.at200),
		MaxResistance: ResistancePerLength(r.ohmPerKilofoot20) * OhmPerKilofoot,
		Area:          unit.Area(r.cmil) * CircularMil,
	}
}

// AircraftEstimate returns the conductor temperature by the aircraft circular,
//
//	T2 = T1 + (TR − T1)·√(I2/Imax)
//
// with the ambient temperature T1 = r.Ambient, the rating TR = r.Conductor,
// Imax = r.Current and I2 = i. The square root is on the high side on purpose,
// for a voltage drop that is not underestimated: 182 °C where the heat balance
// of [RatedCurrent.Temperature] gives 139 °C. It is no estimate of what
// insulation sees, and as soon as the current passes the rated one it falls
// below the balance: such currents are refused.
//
// Valid for 0 to the rated current and −60 to 300 °C; otherwise err wraps
// [ErrDomain].
//
// Source: AC 43.13-1B change 1 (2001), paragraph 11-69 (the expression is
// recalled).
func (r RatedCurrent) AircraftEstimate(i unit.Current) (unit.Temperature, error) {
	if err := r.check(); err != nil {
		return 0, err
	}
	if err := pkg.Range("current", float64(i), 0, float64(r.Current), domain.Ampere); err != nil {
		return 0, err
	}
	return r.Ambient + (r.Conductor-r.Ambient)*unit.Temperature(math.Sqrt(float64(i/r.Current))), nil
}
