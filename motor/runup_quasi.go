package motor

import (
	"errors"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/numeric"
)

// QuasiSteady follows the start by rms values: at each speed the circuit shows
// its steady-state impedance and torque,
//
//	J·dω/dt = T(ω, V(ω)) - T_L(ω)    T = V²·t(ω)
//
// with J the inertia, T_L the torque of load, friction and windage, and V what
// source and feeder leave at the motor. The start switch opens at its speed. The
// rotational loss goes with the square of the speed. Integrated by a pair of
// Runge–Kutta formulas of order 5 to 1e-9.
//
// That the first cycles and the flux are not followed makes no difference to a
// start of many cycles: of the quarter-horsepower motor it gives times 1 % short
// of the dynamic ones, which build up the flux first. Peaks it does not know.
//
// A start that fails is a result, with its [Outcome]; err wraps [ErrDomain] for
// what [RunUp.Validate] refuses.
//
// Source: equation of motion; Fitzgerald, Kingsley, Umans, Electric Machinery,
// 6th ed., chapter 9, for the circuits.
func (r RunUp) QuasiSteady() (RunUpResult, error) {
	if err := r.Validate(); err != nil {
		return RunUpResult{}, err
	}
	q := quasi{RunUp: r.plain()}
	q.frame = q.Circuit.frame()
	if q.switchOver == 0 {
		q.connection = running
	}
	if err := q.run(); err != nil {
		return RunUpResult{}, err
	}
	return q.result, nil
}

// quasi is a quasi-steady start under way.
type quasi struct {
	RunUp
	frame

	connection connection
	cause      error // what the source said as it gave up
	result     RunUpResult
	sampled    unit.Time // time of the next sample
	counted    bool      // the energies are those to full speed
}

// The states of a quasi-steady start.
const (
	stSpeed = iota // (rad/s)
	stEnergy
	stSquareTime
	stStator
	stRotor
	stDC
	quasiStates
)

// instant is the state at one speed and time, with what heats up.
type instant struct {
	RunUpSample

	stator, rotor float64 // (W)
}

// at solves source against motor at a speed (rad/s) and time (s).
func (q *quasi) at(t, speed float64) (instant, error) {
	m := q.Circuit.respond(speed, 1, q.connection)
	v, f, err := q.Source.Under(m.impedance+q.Feeder, unit.Time(t))
	if err != nil {
		return instant{}, err
	}
	if k := float64(f) / q.frequency; k < 1-1e-12 || k > 1+1e-12 {
		m = q.Circuit.respond(speed, k, q.connection)
	}
	z := m.impedance + q.Feeder
	u := float64(v)
	motor := u * cmplx.Abs(m.impedance) / cmplx.Abs(z)
	i := u / (lineFactor(q.phases) * cmplx.Abs(z))
	s := instant{
		RunUpSample: RunUpSample{
			Time: unit.Time(t), Speed: Speed(speed), Voltage: unit.Voltage(motor), Current: unit.Current(i),
			Apparent: ApparentPower(lineFactor(q.phases) * u * i), Real: unit.Power(u * u * real(z) / square(z)),
			Torque: unit.Torque(motor * motor * m.torque), LoadTorque: unit.Torque(q.loadTorque(q.frame, speed)),
			Closed: q.connection == starting,
		},
		stator: motor * motor * m.winding, rotor: motor * motor * m.rotor,
	}
	if q.DC != nil {
		s.DC = q.DC(s.Real, s.Apparent)
	}
	return s, nil
}

// net is the accelerating torque (N·m); at rest the load only holds.
func (s *instant) net() float64 {
	t := float64(s.Torque - s.LoadTorque)
	if s.Speed <= 0 {
		return max(t, 0)
	}
	return t
}

// slope is the right-hand side.
func (q *quasi) slope(t float64, y, dy []float64) {
	s, err := q.at(t, y[stSpeed])
	if err != nil {
		if !math.IsNaN(y[stSpeed]) { // else it refuses the stage after the one that failed
			q.cause = err
		}
		for i := range dy {
			dy[i] = math.NaN() // which shortens the step
		}
		return
	}
	i := float64(s.Current)
	dy[stSpeed] = s.net() / float64(q.Inertia)
	dy[stEnergy] = float64(s.Real)
	dy[stSquareTime] = i * i
	dy[stStator], dy[stRotor], dy[stDC] = s.stator, s.rotor, float64(s.DC)
}

// run integrates from rest.
func (q *quasi) run() error {
	q.result.start()
	if !q.first() {
		return nil
	}
	full := q.FullSpeed * q.synchron
	solver := numeric.NewSolver(numeric.ODE{
		F: q.slope, RTol: runUpAccuracy, MaxStep: 0.05,
		ATol: []float64{runUpAccuracy * q.synchron, 1e-6, 1e-6, 1e-6, 1e-6, 1e-6},
		Events: []numeric.Event{
			{Direction: numeric.Rising, G: func(_ float64, y []float64) float64 {
				if q.connection == running {
					return -1
				}
				return y[stSpeed] - q.switchOver*q.synchron
			}},
			{Direction: numeric.Rising, G: func(_ float64, y []float64) float64 { return y[stSpeed] - full }},
		},
	}, quasiStates)
	err := solver.Start(0, make([]float64, quasiStates))
	end := float64(q.Until)
	for err == nil && solver.T() < end {
		if err = solver.Step(end); err != nil {
			break
		}
		q.cause = nil // the step has passed
		q.samples(solver)
		if solver.Fired(1) && !q.counted {
			q.count(solver)
			q.result.Outcome, q.result.FullSpeed = Starts, unit.Time(solver.T())
			end = min(end, solver.T()+float64(q.Settle))
		}
		if solver.Fired(0) {
			q.result.SwitchOpen = unit.Time(solver.T())
			q.connection = running
			if err = solver.Restart(); err != nil {
				break
			}
		}
		now, sourceErr := q.at(solver.T(), solver.Y()[stSpeed])
		if sourceErr != nil {
			q.cause, err = sourceErr, numeric.ErrStiff
			break
		}
		q.take(&now)
		if !q.counted && q.hangs(&now) {
			break
		}
	}
	return q.finish(solver, err)
}

// first notes the instant of switching on, and reports whether the source
// stands it.
func (q *quasi) first() bool {
	s, err := q.at(0, 0)
	if err != nil {
		q.result.Outcome, q.result.Cause, q.result.LeastVoltage = SourceGaveUp, err, 0
		return false
	}
	q.result.First = s.RunUpSample
	q.take(&s)
	return true
}

// hangs reports whether a start gains no more speed, now or, where the source
// changes with time, when the time is up.
func (q *quasi) hangs(now *instant) bool {
	slow := creep * q.synchron * float64(q.Inertia)
	if now.net() > slow {
		return false
	}
	later, err := q.at(float64(q.Until), float64(now.Speed))
	return err == nil && later.net() <= slow
}

// finish says how it ended.
func (q *quasi) finish(solver *numeric.Solver, err error) error {
	r := &q.result
	if !q.counted {
		q.count(solver)
	}
	r.End, r.Speed = unit.Time(solver.T()), Speed(math.Max(0, solver.Y()[stSpeed]))
	if last, err := q.at(solver.T(), solver.Y()[stSpeed]); err == nil {
		r.Last = last.RunUpSample
	}
	if q.cause == nil && errors.Is(err, numeric.ErrStiff) {
		// The last steps may have passed up to the very instant of a trip.
		const instants = 1e-6
		_, q.cause = q.at(solver.T()+instants, solver.Y()[stSpeed])
	}
	switch {
	case err != nil && q.cause != nil && errors.Is(err, numeric.ErrStiff):
		if r.Outcome != Starts {
			r.Outcome = SourceGaveUp
		}
		r.Cause = q.cause
		return nil
	case err != nil:
		return err
	case r.Outcome == Starts:
	case float64(r.Speed) < standing*q.synchron:
		r.Outcome = StandsStill
	case r.End >= q.Until && r.Last.Torque > r.Last.LoadTorque && r.FullSpeed == 0 && q.gains(&r.Last):
		r.Outcome = TimesOut
	case q.connection == starting:
		r.Outcome = HangsOnStart
	default:
		r.Outcome = HangsRunning
	}
	return nil
}

// gains reports whether a sample still accelerates.
func (q *quasi) gains(s *RunUpSample) bool {
	return float64(s.Torque-s.LoadTorque) > creep*q.synchron*float64(q.Inertia)
}

// take notes a state among greatest and least, up to full speed.
func (q *quasi) take(s *instant) {
	if !q.counted {
		q.result.note(&s.RunUpSample)
	}
}

// count fixes the energies at the present time.
func (q *quasi) count(solver *numeric.Solver) {
	y, r := solver.Y(), &q.result
	r.Energy, r.SquareTime = unit.Energy(y[stEnergy]), y[stSquareTime]
	r.StatorHeat, r.RotorHeat, r.DCEnergy = unit.Energy(y[stStator]), unit.Energy(y[stRotor]), unit.Energy(y[stDC])
	q.counted = true
}

// samples adds those that fall into the last step.
func (q *quasi) samples(solver *numeric.Solver) {
	if q.Every == 0 {
		return
	}
	var y [quasiStates]float64
	for solver.At(float64(q.sampled), y[:]) {
		if s, err := q.at(float64(q.sampled), y[stSpeed]); err == nil {
			q.result.Samples = append(q.result.Samples, s.RunUpSample)
		}
		q.sampled += q.Every
	}
}
