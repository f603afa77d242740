// Package plan turns a site file into a plan: whether motor-driven loads start
// on a battery and an inverter, how long they run, and how much water that is.
// It joins the five packages of the library and prints nothing.
//
// A site comes in by [Read] and a plan out by [Make]. Every figure of a plan
// is a range, says what it rests on, and carries its formula, the numbers put
// in and its source. A check holds only if it holds at the bad end of what is
// known.
//
// Reading a site file:
//
//   - site.go: what a site file may say
//   - read.go: TOML in; form.go: what is refused before any figure is looked at; place.go: the line of a fault
//   - value.go, pair.go, unit.go, basis.go: a quantity with its unit, range and basis
//
// Making a plan:
//
//   - make.go: the order of the steps, and which key a fault belongs to
//   - bank.go, charge.go: the battery, and where its discharge begins and ends
//   - converter.go, wire.go, vessel.go: inverter, cables and tank as the library's types
//   - loads.go, drawn.go, duty.go, start.go: what a load draws, how often, and as it starts
//   - typical.go, startchain.go: the motor that a load may be, and its start on what inverter, battery and wires leave it
//   - runup.go, limits.go, remedy.go, remedy_source.go, dynamic.go: whether it comes up, what acts first, what would have to change, the same instant by instant
//   - chain.go, phase.go: a demand on its way from the battery, and loads that come and go
//   - running.go, starting.go, dcside.go, hours.go, water.go, cycling.go, wiring.go, circuit.go, carried.go: figures and checks by section
//   - recovery.go, trip.go, recharge.go: the kinetic model, the charge at which a start trips, filling the bank again
//   - schedule.go, fuse.go, heat.go: the lists for the one who builds, fuses, what a wire carries
//   - cautions.go, verdict.go: what can hurt someone, and the answers first
//
// The plan itself:
//
//   - figure.go: plan, section, figure, check
//   - json.go, format.go: its JSON form, and how numbers are written
package plan
