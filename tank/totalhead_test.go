package tank

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// format prints as a caller would.
func format(verb string, x any) string { return fmt.Sprintf(verb, x) }

func TestTotalHead(t *testing.T) {
	feet := func(r reftest.Row, name string) unit.Length { return unit.Length(r.Param(name, "ft")) * Foot }
	level := func(r reftest.Row, gauge string) unit.Length {
		z, err := AirLine{Length: feet(r, "airline"), Density: CustomaryWater}.Level(unit.Pressure(r.Param(gauge, "psi")) * PSI)
		require.NoError(t, err, r.Source())
		return z
	}
	for _, r := range reftest.Rows(t, "tank/total_head.csv") {
		switch quantity := r.Text("quantity"); quantity {
		case "total_head":
			h, err := TotalHead{
				PumpingLevel: feet(r, "pumping_level"), Rise: feet(r, "rise"),
				Pressure: unit.Pressure(r.Param("pressure", "psi")) * PSI, Friction: feet(r, "friction"),
				Density: CustomaryWater,
			}.Head()
			require.NoError(t, err, r.Source())
			r.Expected(float64(h / Foot))
		case "equivalent_length":
			nominal := unit.Length(r.Param("nominal", "in")) * Inch
			gate, err := GateValve.EquivalentLength(nominal)
			require.NoError(t, err)
			elbow, err := Elbow90.EquivalentLength(nominal)
			require.NoError(t, err)
			// The chart's gate valve is the longest of all tables; its elbow is too.
			sum := feet(r, "pipe") + unit.Length(r.Param("gate_valves", ""))*gate.High + unit.Length(r.Param("elbows", ""))*elbow.High
			r.Expected(float64(sum / Foot))
		case "height_above_airline":
			r.Expected(float64((feet(r, "airline") - level(r, "gauge")) / Foot))
		case "static_level", "pumping_level":
			r.Expected(float64(level(r, "gauge") / Foot))
		case "well_drawdown":
			r.Expected(float64((level(r, "gauge_pumping") - level(r, "gauge_static")) / Foot))
		case "friction":
			h, err := HazenWilliamsLoss(FlowRate(r.Param("flow", "gpm"))*USGallonPerMinute, r.Param("c", ""),
				unit.Length(r.Param("diameter", "in"))*Inch, feet(r, "length"))
			require.NoError(t, err)
			r.Expected(float64(h / Foot))
		default:
			t.Fatal(r.Source(), "unknown quantity", quantity)
		}
	}
}

func TestTotalHeadBounds(t *testing.T) {
	good := TotalHead{PumpingLevel: 30, Pressure: 40 * PSI, Friction: 2, Density: 1000}
	line := AirLine{Length: 45, Density: 1000}
	for _, x := range append(notNumbers, 601) {
		bad := good
		bad.PumpingLevel = unit.Length(x)
		_, err := bad.Head()
		refused(t, err, "pumping level")
		_, err = AirLine{Length: unit.Length(x), Density: 1000}.Level(1)
		refused(t, err, "air line")
		_, err = line.Level(unit.Pressure(1e6 * x))
		refused(t, err, "air line pressure")
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 301, -301} {
		bad := good
		bad.Rise = unit.Length(x)
		_, err := bad.Head()
		refused(t, err, "rise")
		_, err = PressureAbove(good.Pressure, unit.Length(2*x), 1000)
		refused(t, err, "height")
	}
	for _, x := range append(notNumbers, 40) {
		bad := good
		bad.Pressure = unit.Pressure(x)
		_, err := bad.Head()
		refused(t, err, "tank pressure")
		_, err = PressureAbove(unit.Pressure(x), 10, 1000)
		refused(t, err, "gauge pressure")
	}
	for _, x := range append(notNumbers, 301) {
		bad := good
		bad.Friction = unit.Length(x)
		_, err := bad.Head()
		refused(t, err, "friction")
	}
	for _, x := range append(notNumbers, 0, 1, 1301) {
		bad := good
		bad.Density = Density(x)
		_, err := bad.Head()
		refused(t, err, "density")
		_, err = HeadOfPressure(PSI, Density(x))
		refused(t, err, "density")
		_, err = PressureAbove(good.Pressure, 10, Density(x))
		refused(t, err, "density")
		_, err = AirLine{Length: 45, Density: Density(x)}.Level(1)
		refused(t, err, "density")
	}
	for _, x := range append(notNumbers, float64(1001*PSI)) {
		_, err := HeadOfPressure(unit.Pressure(x), 1000)
		refused(t, err, "pressure")
	}
	// On the bound: a full air line is water up to the gauge.
	top, err := line.Level(unit.Pressure(1000 * gravity * 45))
	require.NoError(t, err)
	assert.InDelta(t, 0, float64(top), 1e-12)
	end, err := line.Level(0)
	require.NoError(t, err)
	assert.Equal(t, line.Length, end)
	edge := TotalHead{PumpingLevel: mostDepth, Rise: -mostRise, Friction: mostRise, Pressure: mostPressure, Density: leastDensity}
	_, err = edge.Head()
	require.NoError(t, err)
}

// Height and pressure are each other's inverse, and the head a pump makes is
// gone where the tank's gauge reads 0.
func FuzzHead(f *testing.F) {
	f.Add(100.0, 5.0, 50.0, 6.0, 998.2)
	f.Add(0.0, -300.0, 0.0, 0.0, 800.0)
	f.Add(math.NaN(), 1.0, math.Inf(1), -1.0, 0.0)
	f.Fuzz(func(t *testing.T, level, rise, psi, friction, rho float64) {
		th := TotalHead{
			PumpingLevel: unit.Length(level), Rise: unit.Length(rise), Pressure: unit.Pressure(psi) * PSI,
			Friction: unit.Length(friction), Density: Density(rho),
		}
		h, err := th.Head()
		known(t, err)
		finite(t, err, float64(h))
		if err != nil {
			return
		}
		column, err := HeadOfPressure(th.Pressure, th.Density)
		require.NoError(t, err)
		require.InDelta(t, float64(th.PumpingLevel+th.Rise+th.Friction), float64(h-column), 1e-9)
		zero, err := PressureAbove(th.Pressure, column, th.Density)
		require.NoError(t, err)
		require.InDelta(t, 0, float64(zero), 1e-6)
		z, err := AirLine{Length: max(column, 1), Density: th.Density}.Level(th.Pressure)
		known(t, err)
		if err == nil {
			require.InDelta(t, float64(max(column, 1)-column), float64(z), 1e-9)
		}
	})
}
