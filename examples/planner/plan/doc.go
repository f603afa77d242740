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
//   - read.go: TOML in, faults out with their line
//   - value.go, pair.go, unit.go, basis.go: a quantity with its unit, range and basis
//
// Making a plan:
//
//   - make.go: the order of the steps, and where in the file a fault belongs
//   - bank.go, converter.go, wiring.go, loads.go, water.go: the site's parts as the library's types
//   - chain.go: a demand on its way from battery through cable and inverter
//   - running.go, starting.go, dcside.go, hours.go, water.go, wiring.go: the sections of the plan
//   - schedule.go: the lists for the one who builds; heat.go: what a wire carries
//   - cautions.go, verdict.go: what can hurt someone, and the answers first
//
// The plan itself:
//
//   - figure.go: plan, section, figure, check
//   - json.go, format.go: its JSON form, and how numbers are written
package plan
