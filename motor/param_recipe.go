package motor

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/numeric"
)

// This file makes typical motors out of published machines.

// A recipe says how a typical motor of one kind is made of published machines.
type recipe struct {
	kind        Type
	least, most float64 // output (hp)
	machines    func(p float64) perUnit
	// kva is the locked-rotor kVA per horsepower, at outputs in order.
	kva [][2]float64
	// torque is the starting torque over the rated one that the auxiliary winding
	// is dimensioned for, at outputs in order. Nil: it stays as published.
	torque [][2]float64
	source string
}

const (
	sourceSmall = "1/4 hp motor of Fitzgerald, Kingsley, Umans, Example 9.2, and of Krause; " +
		"3.5 kW motor of Fitzgerald, Kingsley, Umans, Example 9.5"
	sourceSplit = sourceSmall + "; auxiliary winding of Example 9.1"
	sourceFifth = "1/5 hp motor of Guru & Hiziroglu, Example 10.3"
	sourceThree = "5 hp motor of an open building-simulation library; 7.5 kW motor of Fitzgerald, Kingsley, Umans, Example 6.2"
)

// The locked-rotor kVA per horsepower of typical motors: letters usual for
// single-phase motors from 1/2 hp (testdata/motor/typical_letters.csv and its
// source), below that for split-phase motors those of the limits of NEMA MG 1
// 12.33; submersible motors by testdata/motor/submersible.csv.
var (
	splitKVA     = [][2]float64{{1. / 4, 11.8}, {1. / 3, 10.6}, {1. / 2, 9.5}}
	capacitorKVA = [][2]float64{{1. / 2, 9.5}, {3. / 4, 8.5}, {1, 8.5}, {1.5, 7.5}, {2, 7.5}, {3, 6.7}, {5, 6.2}}
	permanentKVA = [][2]float64{{1, 3.6}}
	twoWireKVA   = [][2]float64{{0.5, 14.8}, {0.75, 12.5}, {1, 11.2}, {1.5, 10.15}}
	threeWireKVA = [][2]float64{{0.5, 10.6}, {0.75, 10.5}, {1, 9.6}, {1.5, 8.5}, {2, 7.5}, {3, 6.7}, {5, 6.2}}
	threeKVA     = [][2]float64{{1, 9.5}, {1.5, 8.5}, {2, 8.5}, {3, 7.5}, {5, 6.7}, {7.5, 5.95}}
)

// The starting torques over the rated one of typical motors.
var (
	capacitorTorque = [][2]float64{{2, 3}, {3, 2.4}, {5, 2.1}}
	threeWireTorque = [][2]float64{{2, 2.6}, {3, 2.4}, {5, 2.1}}
	permanentTorque = [][2]float64{{1, 0.35}}
)

// recipe returns how motors of a type are made.
func (t Type) recipe() recipe {
	switch t {
	case SplitPhase:
		return recipe{t, 1. / 6, 1. / 2, splitMachines, splitKVA, nil, sourceSplit}
	case CapacitorStart:
		return recipe{t, 1. / 6, 5, capacitorMachines, capacitorKVA, capacitorTorque, sourceSmall}
	case CapacitorStartRun:
		return recipe{t, 1. / 2, 5, capacitorRunMachines, capacitorKVA, capacitorTorque, sourceSmall}
	case PermanentSplit:
		return recipe{t, 1. / 6, 1, permanentMachines, permanentKVA, permanentTorque, sourceFifth}
	case ThreePhase:
		return recipe{t, 1. / 2, 10, threeMachines, threeKVA, nil, sourceThree}
	}
	return recipe{kind: UnknownType, machines: mainMachines}
}

func mainMachines(p float64) perUnit {
	u := between(&quarterMachine, &largeMachine, quarterMachine.output, largeMachine.output, p)
	for i := unitTurns; i < unitParameters; i++ {
		u[i] = 0
	}
	return u
}

// splitMachines has an auxiliary winding whose impedance at standstill is to
// that of the main winding as 9.5 + j3.5 Ω to 4.5 + j3.7 Ω.
//
// Source: Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., Example 9.1.
func splitMachines(p float64) perUnit {
	u := mainMachines(p)
	turns := 3.5 / 3.7 // squared
	u[unitTurns], u[unitXa] = math.Sqrt(turns), turns*u[unitX1]
	u[unitRa] = 9.5/4.5*(u[unitR1]+u[unitR2]) - turns*u[unitR2]
	return u
}

func capacitorMachines(p float64) perUnit {
	u, q := mainMachines(p), quarterMachine.parts()
	u[unitTurns], u[unitStartR] = q[unitTurns], q[unitStartR]
	u[unitRa] = q[unitRa] / q[unitR1] * u[unitR1]
	u[unitXa] = q[unitXa] / q[unitX1] * u[unitX1]
	u.setStart()
	return u
}

func capacitorRunMachines(p float64) perUnit {
	u := capacitorMachines(p)
	run := between(&quarterMachine, &largeMachine, 0.5*float64(Horsepower), largeMachine.output, p)
	u[unitRunR], u[unitRunX] = run[unitRunR], run[unitRunX]
	return u
}

func permanentMachines(float64) perUnit { return fifthMachine.parts() }

func threeMachines(p float64) perUnit {
	return between(&fiveMachine, &tenMachine, float64(Horsepower), tenMachine.output, p)
}

// startAngle is how far the auxiliary winding's current leads that of the main
// one in the published capacitor-start motor, its rotor held (rad).
const startAngle = 68.4 * math.Pi / 180

// setStart gives the motor the start capacitor with which the currents of its
// windings stand as far apart as in the published machine.
func (u *perUnit) setStart() {
	rotor := complex(u[unitR2], u[unitX2])
	field := complex(0, u[unitXm]) * rotor / (rotor + complex(0, u[unitXm]))
	main := complex(u[unitR1], u[unitX1]) + field
	aux := complex(u[unitTurns]*u[unitTurns], 0)*field + complex(u[unitRa]+u[unitStartR], u[unitXa])
	u[unitStartX] = imag(aux) + real(aux)*math.Tan(startAngle-cmplx.Phase(main))
}

// thinner is the motor with the impedance of its auxiliary winding m times as
// great, its turns unchanged: of thinner wire.
func (u *perUnit) thinner(m float64) perUnit {
	v := *u
	v[unitRa] *= m
	v[unitXa] *= m
	if v[unitStartX] != 0 {
		v[unitStartR] *= m
		v.setStart()
	} else {
		v[unitRunR] *= m
		v[unitRunX] *= m
	}
	return v
}

// held returns kVA per horsepower and torque over rated torque, its slip left
// out, with the rotor held: of a motor of 1 hp, as both go with the output.
func (u *perUnit) held(t Type) (kva, torque float64) {
	const volts = 230
	var r response
	if t == ThreePhase {
		r = u.three(Horsepower, volts, 60, 4).respond(0, 1, starting)
		return volts * volts / cmplx.Abs(r.impedance) / 1000, r.torque * volts * volts * synchronous(60, 4) / float64(Horsepower)
	}
	r = u.single(t, Horsepower, volts, 60, 4).respond(0, 1, starting)
	return volts * volts / cmplx.Abs(r.impedance) / 1000, r.torque * volts * volts * synchronous(60, 4) / float64(Horsepower)
}

// look reads a table of outputs (hp) in order by straight lines, and holds its
// ends.
func look(table [][2]float64, hp float64) float64 {
	for i, row := range table {
		switch {
		case hp > row[0]:
			continue
		case i == 0:
			return row[1]
		}
		below := table[i-1]
		return below[1] + (row[1]-below[1])*(hp-below[0])/(row[0]-below[0])
	}
	return table[len(table)-1][1]
}

// make returns the typical motor of an output, and its kVA per horsepower.
func (r *recipe) make(p unit.Power) (u perUnit, kva float64) {
	u = r.machines(float64(p))
	kva = look(r.kva, float64(p/Horsepower))
	if r.torque != nil {
		want := look(r.torque, float64(p/Horsepower)) / kva
		m, err := numeric.Root(func(m float64) float64 {
			v := u.thinner(m)
			k, torque := v.held(r.kind)
			return torque/k - want
		}, 0.7, 4, 1e-9)
		if err == nil {
			u = u.thinner(m)
		}
	}
	own, _ := u.held(r.kind)
	u.scale(own / kva)
	return u, kva
}

// scale multiplies all impedances.
func (u *perUnit) scale(k float64) {
	for i := range u {
		if i != unitTurns && i != unitRotational {
			u[i] *= k
		}
	}
}

// parts are those of a typical motor of a type and output, from which a fit
// starts.
func (t Type) parts(p unit.Power) perUnit {
	r := t.recipe()
	if r.kva == nil {
		return r.machines(float64(p))
	}
	u, _ := r.make(p)
	return u
}

// spread is the range of kVA per horsepower from the code letter below that of
// k to the one above.
func spread(k float64) Range[float64] {
	i := letterOf(k).index()
	return Range[float64]{Low: codeFloor[max(i-1, 1)], High: codeFloor[i+2]}
}
