// Package motor answers what an induction motor draws, running and starting,
// whether it starts at all and in what time, from what can be read off its
// nameplate, from a code table, from a meter, or from its equivalent circuit.
// Every result says on what basis it stands.
//
// What it draws:
//
//   - nameplate.go: the plate, locked-rotor current from it (NEMA MG 1, NEC 430.7)
//   - platecheck.go: what is wrong with a plate
//   - codeletter.go: locked-rotor code letters (NEMA MG 1 10.37.2, NEC Table 430.7(B))
//   - codetable.go, codedata.go: NEC Tables 430.248, 430.250, 430.251(A) and (B)
//   - servicefactor.go: service factors of general-purpose motors (NEMA MG 1 Table 12-4)
//   - motortype.go: how a motor starts and runs, and the power factor that goes with it
//   - running.go: running current, volt-amperes, watts from plate or shaft power
//   - meter.go: the same from a meter
//   - dcside.go: the same from volt-amperes at the plug and amperes at the battery
//   - start.go: start demand in A, VA and W, from the best basis at hand
//   - duration.go: how long a start lasts
//   - scaling.go: current, torque, slip at other voltages and frequencies; locked-rotor impedance
//   - basis.go: where a figure comes from
//   - units.go, units_mech.go, errors.go: units of the trade and of the shaft, argument errors
//
// Its equivalent circuit (Fitzgerald, Kingsley, Umans, Electric Machinery):
//
//   - circuit.go: what circuits have in common, and the point of operation
//   - circuit_single.go, circuit_auxiliary.go: revolving fields; the second winding with what connects it
//   - circuit_three.go, circuit_thevenin.go: three phases; breakdown in closed form
//   - circuit_load.go: the point at a shaft torque or power, and where it stalls
//   - circuit_unbalance.go: two windings on two sources, three unequal line voltages
//   - param_tests.go, param_inductances.go: circuits from bench tests and from inductances
//   - param_catalogue.go, param_check.go, param_figures.go, param_fit.go, param_search.go: circuits from a data sheet, by least squares
//   - param_preset.go, param_recipe.go, param_machines.go, param_unit.go: typical motors, and the published ones they rest on
//   - param_scale.go: a circuit brought to a locked-rotor current or power factor
//
// Its start:
//
//   - source.go, source_link.go: what feeds it: a line, a limited one, a generator; a source behind a dc link
//   - load.go: what it drives
//   - runup.go: a start and how it ends
//   - runup_quasi.go: the start by rms values
//   - runup_dynamic.go, runup_flux.go: the start instant by instant
//   - inertia.go, accelerate.go, startheat.go: inertia, time of a start, its heat, in closed form
//
// Parts and rules of starting:
//
//   - windings.go, capacitor.go, splitresistor.go: start capacitor and start resistor from the impedances of the windings
//   - standstill.go, startfault.go: what both windings draw with the rotor held; weak, open and shorted capacitors
//   - starters.go, seriespart.go: current and torque of starts at reduced voltage; series resistor and reactor
//   - startersoft.go, starterjudge.go: ramps for submersible pumps; which starter is of use to which motor
//   - startsperhour.go, startsdata.go: allowable starts an hour (NEMA MG 10 Table 7)
//   - submersibleduty.go: starts a day of submersible pump motors
//   - efficiencyrule.go: least efficiency of small motors (10 CFR 431.446)
//   - dcmotor.go: NEC Table 430.247
//   - voltagevariation.go: voltage unbalance and derating (NEMA MG 1 14.36)
//   - notcovered.go: motors for which a rule has no answer
//
// # Units
//
// Quantities are gonum's unit types, made from the constants here:
// 0.5*motor.Horsepower, 115*unit.Volt. To read one back divide by the unit and
// convert,
//
//	hp := float64(plate.Output / motor.Horsepower)
//
// for a quotient keeps its type: printed as it is, it would claim to be watts.
// Volt-amperes are an [ApparentPower] and never a power: without a run
// capacitor the watts of a small motor are often less than two thirds of its
// volt-amperes while it runs, and a larger share while it starts.
//
// A bare number compiles (Output: 0.5 is half a watt), so each function
// refuses what no motor has, with an error that wraps [ErrDomain].
//
// # Sources
//
// The tables of the standards were read in public reprints, the textbooks in
// open transcriptions that run their examples again; the notes of each file in
// testdata/motor say which. Entry numbers of IEC 60050, NEMA MG 1 1.42 and
// what a comment or a file calls so are from memory.
//
// # Safety
//
// The results are estimates for planning. A start current measured on the
// motor itself overrules them. Locked-rotor current that flows longer than a
// start burns the windings: overload protection sized from the nameplate must
// be in place, and a motor that hums without turning must be switched off.
// Capacitors hold their charge. The auxiliary winding and run capacitor of a
// healthy motor stand well above line voltage. Conductors, disconnects and
// protection follow the local code, which has its own tables for its own
// purposes, and a licensed electrician decides.
package motor
