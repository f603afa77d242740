package motor

import "math"

// This file has the published machines on which typical circuits rest.

// A machine is a published one, with the ohms of its source; the rotational
// loss (W) stands in the place of a part of the output.
type machine struct {
	volts, output float64
	ohms          perUnit
}

// The machines.
var (
	// quarterMachine is a 1/4 hp, 110 V, 60 Hz, four-pole capacitor-start motor.
	//
	// Source: Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., Example
	// 9.2; windings and capacitors of Krause, Wasynczuk, Sudhoff, Analysis of
	// Electric Machinery.
	quarterMachine = machine{110, 0.25 * float64(Horsepower), perUnit{
		unitR1: 2.02, unitX1: 2.79, unitR2: 4.12, unitX2: 2.12, unitXm: 66.8, unitRotational: 37,
		unitTurns: 1.18, unitRa: 7.14, unitXa: 3.22, unitStartR: 3, unitStartX: 14.5, unitRunR: 9, unitRunX: 172,
	}}
	// largeMachine is a 3.5 kW, 230 V, 60 Hz, two-pole motor with permanent-split
	// capacitor; its core loss is counted with the rotational one.
	//
	// Source: Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., Example
	// 9.5, from inductances.
	largeMachine = machine{230, 3500, perUnit{
		unitR1: 0.58, unitX1: 1.569, unitR2: 0.6354, unitX2: 1.127, unitXm: 28.82, unitRotational: 145,
		unitTurns: 1.546, unitRa: 3.37, unitXa: 5.02, unitRunX: 75.79,
	}}
	// fifthMachine is a 1/5 hp, 230 V, 50 Hz, six-pole motor with permanent-split
	// capacitor.
	//
	// Source: Guru & Hiziroglu, Electric Machinery and Transformers, 3rd ed.,
	// Example 10.3.
	fifthMachine = machine{230, 0.2 * float64(Horsepower), perUnit{
		unitR1: 34.14, unitX1: 35.9, unitR2: 23.25, unitX2: 29.32, unitXm: 248.59, unitRotational: 21.78,
		unitTurns: 1.73, unitRa: 149.78, unitXa: 107.45, unitRunX: 795.8,
	}}
	// fiveMachine is a 5 hp, 400 V, 50 Hz, four-pole three-phase motor. Its
	// source gives no rotational loss; here it is a tenth of the output, with
	// which the efficiency is that of 10 CFR 431.446 for small motors.
	//
	// Source: parameter set of an open building-simulation library, from
	// inductances; testdata/motor/generic_three_phase.csv.
	fiveMachine = machine{400, 5 * float64(Horsepower), perUnit{
		unitR1: 1.405, unitX1: 1.834, unitR2: 1.395, unitX2: 1.834, unitXm: 54.1, unitRotational: 0.5 * float64(Horsepower),
	}}
	// tenMachine is a 7.5 kW, 220 V, 60 Hz, six-pole three-phase motor.
	//
	// Source: Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., Example
	// 6.2.
	tenMachine = machine{220, 7500, perUnit{
		unitR1: 0.294, unitX1: 0.503, unitR2: 0.144, unitX2: 0.209, unitXm: 13.25, unitRotational: 403,
	}}
)

// parts are the machine's impedances over V²/P.
func (m *machine) parts() perUnit {
	u := m.ohms
	base := m.volts * m.volts / m.output
	for i := range u {
		switch i {
		case unitTurns:
		case unitRotational:
			u[i] /= m.output
		default:
			u[i] /= base
		}
	}
	return u
}

// between is the motor of an output between two machines that stand for the
// outputs small and large: each of its parts lies on a straight line in
// logarithms, and beyond the machines stays as at the nearer one.
func between(a, b *machine, small, large, p float64) perUnit {
	u, v := a.parts(), b.parts()
	k := min(max(math.Log(p/small)/math.Log(large/small), 0), 1)
	for i := range u {
		if u[i] > 0 && v[i] > 0 {
			u[i] *= math.Pow(v[i]/u[i], k)
		}
	}
	return u
}
