// Package tank computes what a pressure tank does for a pump that runs on
// borrowed energy: how much water comes out between two starts, how often and
// how long the pump runs for a day's use, what is left in the tank when the
// power fails, and what altitude, cold, lost air and fast filling change.
//
// # Files
//
//   - vessel.go: captive-air tanks, drawdown, acceptance factor, water left (Boyle's law)
//   - plain.go: tanks without a diaphragm, filled from atmospheric air or supercharged
//   - waterlogged.go: tanks that lost their air, and how they short-cycle the pump
//   - precharge.go: precharge against temperature and against the cut-in pressure
//   - polytropic.go: fills too fast for the air to keep its temperature
//   - atmosphere.go: pressure by altitude (U.S. Standard Atmosphere 1976)
//   - flow.go: FlowRate and its units
//   - cycle.go: on time, off time, starts per hour, worst demand, starts and pump minutes a day
//   - follow.go: tank, switch and pump through any sequence of draws, at a constant pump flow
//   - sizing.go: drawdown and volume for a minimum run or for most starts (state design manuals)
//   - sizedtank.go: volume under a least run and most starts at once, and which governs
//   - tanks.go: tanks of different precharge on one pipe
//   - practice.go: starts a day and minimum run by motor size (common practice)
//   - demand.go: water a person needs, and how long a store lasts
//   - store.go: water drawn before an outage against battery energy
//   - water.go: density, viscosity and vapour pressure of water
//   - pipe.go, fitting.go: inner diameters, surfaces; fittings by K or equivalent length
//   - friction.go: pipe friction by Darcy and Weisbach, Colebrook's factor
//   - hazenwilliams.go: the same by Hazen and Williams, from the base formula
//   - suction.go: net positive suction head, suction lift, verdict for a jet pump
//   - curve.go, input.go, affinity.go: a pump's head and power against flow; another speed
//   - risingmain.go: total dynamic head: lift, pressure, pipes, fittings, the well's drawdown
//   - supply.go: pump, rising main and tank together; the operating point
//   - fill.go, leg.go, way.go: filling while the pressure rises; cycles; pumps that never reach cut-out
//   - day.go, walk.go: a day, or a year, of draws with the pump's flow by the pressure
//   - power.go: power and energy from the wire to the water, efficiency by measurement
//   - machine.go: typical efficiencies of small pumps and motors (common practice)
//   - totalhead.go: total dynamic head, head and pressure, air line in a well
//   - profile.go: a day's use shared out over its hours, peak factors
//   - fixture.go, peakdemand.go: taps and machines, the peak of a house by two methods of the trade
//   - switch.go: pressure switches, customs of tanks and switches
//   - capacity.go: specific capacity of a well by a pumping test
//   - well.go: water in a casing, pumps that outrun a well, recovery
//   - shortcut.go: the trade's shortcuts, wrong on purpose, to stand beside the result
//
// # Quantities
//
// Tank pressures are gauge pressures, as a tank gauge shows them; only the
// field Atmosphere is absolute. Arguments carry their unit and results are
// read back by dividing:
//
//	v := tank.Vessel{
//		Volume:    85 * tank.USGallon,
//		Precharge: 28 * tank.PSI, CutIn: 30 * tank.PSI, CutOut: 50 * tank.PSI,
//	}
//	vd, err := v.Drawdown()
//	gallons := float64(vd / tank.USGallon)
//
// The quotient must be converted: vd/tank.USGallon is still a unit.Volume,
// and Printf would call those gallons m^3. A bare number is SI: CutIn: 30 is
// 30 Pa, which the functions refuse. An altitude of 6000 is 6000 m; feet need
// 6000*tank.Foot, and no bound can tell the two apart.
//
// # Errors
//
// An argument outside its range gives an error that wraps [ErrDomain]. States
// that a real installation can be in are errors of their own, with figures:
// [PrechargeError], [ErrNeverStops], [ErrNeverStarts].
//
// # Cautions
//
// A pressure tank stores energy. Switch the pump off and drain the tank before
// measuring or changing the air charge; compressed air over water is pumped
// only to the pressure on the tank's label, and a relief valve belongs on every
// system whose pump can exceed it. What the tank holds when the power fails is
// all the water there is until the pump runs again: a tank, a pressure switch
// and their nipples freeze, and a drained jet pump loses its prime. Public
// supplies follow their state's design manual, homes the local code; both
// outrank every figure here.
package tank
