package motor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// A Cycle is one cycle of the line voltage in a dynamic start.
type Cycle struct {
	Time    unit.Time    // at its end
	Voltage unit.Voltage // at the source's terminals (rms)
	Current unit.Current // of the line (rms)
	Real    unit.Power   // mean, at the source's terminals
	Speed   Speed        // mean
}

// A DynamicResult is how a start went instant by instant. In RunUpResult the
// figures of First and of the greatest current, volt-amperes and power are those
// of whole cycles, and LeastVoltage is the least of a cycle at the motor.
type DynamicResult struct {
	RunUpResult

	// SwitchOrdered is when the speed reaches that of the start switch, which
	// opens at the next zero of the auxiliary winding's current.
	SwitchOrdered unit.Time
	// Peak is the greatest instantaneous line current (A), PeakTime its time.
	Peak     unit.Current
	PeakTime unit.Time
	// MainPeak is the greatest instantaneous current of the main winding.
	MainPeak unit.Current
	// CapacitorLeft is the voltage that the start capacitor keeps when the switch
	// opens. It stays until something discharges it.
	CapacitorLeft unit.Voltage
	// EnergyToOpen and SquareTimeToOpen (A²s) are Energy and SquareTime until the
	// start switch opens; 0 where it does not.
	EnergyToOpen     unit.Energy
	SquareTimeToOpen float64
	// LeastLink is the least voltage of the dc link, and LinkEnergy what has
	// charged it to full speed, or to the end; 0 of a source that is not [Linked].
	LeastLink  unit.Voltage
	LinkEnergy unit.Energy
	// Cycles are all whole cycles.
	Cycles []Cycle
}

// Dynamic follows the start instant by instant, by the stationary-frame
// equations of the unsymmetrical two-phase machine: main winding q, auxiliary
// winding d, flux linkages λ (V·s),
//
//	λ′_qs = v - r_1·i_qs             λ′_ds = v - v_c - (r_a + r_c)·i_ds    v_c′ = i_ds/C
//	λ′_qr = -r_2·i_qr + ω_r·λ_dr/a   λ′_dr = -a²·r_2·i_dr - a·ω_r·λ_qr
//	T = ½p·a·L_m·(i_qs·i_dr - i_ds·i_qr)    J·dω/dt = T - T_L    ω_r = ½p·ω
//	v = √2·V·cos(ω_e·t + φ) - R_s·(i_qs + i_ds) - L_s·d(i_qs + i_ds)/dt
//
// with φ the angle of the voltage at the instant of switching on (rad, -2π to 2π),
// rotor at rest and no flux. A source's limit holds √2 times the limit as the greatest
// instantaneous current, by a resistance that it puts in series above it. Of a
// source that is [Linked] the output is clipped at ±u, the voltage of its link,
//
//	C·u′ = min(G_c·(U - u), P_max/u) - v·i/u    u = U at first
//
// with C the capacitance (F), U the full voltage (V), G_c the charging
// conductance (S) and P_max the charging power (W), never below 0, and v and i
// at the output: what the motor gives back stays in the link. Below 0.01·U the
// diodes of the bridge take over, so that the link ends at 0. The start switch
// opens at the first zero of the auxiliary current after its speed is reached; a
// run capacitor takes over the voltage of the start capacitor.
// Integrated by a pair of Runge–Kutta formulas of order 5 to a relative accuracy
// (1e-12 to 1e-4; 1e-8 is good for 6 digits).
//
// Saturation is left out: the true peak is higher and the starting torque with
// it. So are core loss, space harmonics, and a limit on a source with
// inductance, which is refused. The source is its [Source.Linear] at rated
// frequency; what [Source.Under] does with time is not followed. For a
// three-phase circuit, a source of another frequency, a leakage reactance of 0
// where one is needed, a link outside of the ranges of [Linked], and what
// [RunUp.Validate] refuses, err wraps [ErrDomain].
//
// Source: Krause, Wasynczuk, Sudhoff, Analysis of Electric Machinery, the
// unsymmetrical two-phase induction machine.
func (r RunUp) Dynamic(angle unit.Angle, accuracy float64) (DynamicResult, error) {
	if err := r.Validate(); err != nil {
		return DynamicResult{}, err
	}
	c, ok := r.Circuit.(SinglePhaseCircuit)
	if !ok {
		return DynamicResult{}, pkg.Invalid("dynamic start", "of a three-phase circuit", "a single-phase circuit")
	}
	err := errors.Join(
		pkg.Range("accuracy of the dynamic start", accuracy, 1e-12, 1e-4, domain.One),
		pkg.Range("angle of switching on", float64(angle), -2*math.Pi, 2*math.Pi, domain.Radian),
	)
	if err != nil {
		return DynamicResult{}, err
	}
	if _, f, ok := ratingOf(r.Source); ok && f != c.Frequency || !ok && r.otherFrequency(&f) {
		return DynamicResult{}, contradiction("a source of %.4g on a motor of %.4g, instant by instant", f, c.Frequency)
	}
	d := dynamic{RunUp: r.plain(), circuit: c, frame: c.frame(), accuracy: accuracy}
	if err := d.prepare(float64(angle)); err != nil {
		return DynamicResult{}, err
	}
	if err := d.run(); err != nil {
		return DynamicResult{}, err
	}
	return d.result, nil
}

// otherFrequency reports whether a source of another package has hardly any load
// at a frequency that is not the motor's, and puts it into f. What governs an
// engine may be a few percent off then.
func (r RunUp) otherFrequency(f *unit.Frequency) bool {
	const light, droop = 1e6, 0.07 // (Ω)
	_, got, err := r.Source.Under(light, 0)
	if err != nil {
		return false // it gave up, which the start will show
	}
	*f = got
	return !(math.Abs(float64(got)/r.Circuit.frame().frequency-1) <= droop)
}

// run integrates cycle by cycle.
func (d *dynamic) run() error {
	full := d.FullSpeed * d.synchron
	never := func(on bool, g float64) float64 {
		if on {
			return g
		}
		return -1
	}
	solver := numeric.NewSolver(numeric.ODE{
		F: d.slope, RTol: d.accuracy, ATol: d.tolerances(), MaxSteps: 100e6,
		Events: []numeric.Event{
			{Direction: numeric.Rising, G: func(_ float64, y []float64) float64 {
				return never(d.connection == starting && !d.ordered, y[dySpeed]-d.switchOver*d.synchron)
			}},
			{G: func(_ float64, y []float64) float64 {
				return never(d.ordered && d.connection == starting, d.auxiliaryCurrent(y))
			}},
			{Direction: numeric.Rising, G: func(_ float64, y []float64) float64 {
				return never(d.result.Outcome != Starts, y[dySpeed]-full)
			}},
		},
	}, d.states())
	y := make([]float64, d.states())
	if d.link.capacitance != 0 {
		y[dyLink] = d.link.full
		d.result.LeastLink = unit.Voltage(d.link.full)
	}
	if err := solver.Start(0, y); err != nil {
		return err
	}
	d.result.start()
	period, end := 1/d.frequency, float64(d.Until)
	for cycle := 1; solver.T() < end; {
		next := float64(cycle) * period
		if err := solver.Step(math.Min(next, end)); err != nil {
			return err
		}
		d.peaks(solver)
		d.samples(solver)
		if solver.Event() >= 0 {
			stop, err := d.event(solver)
			if err != nil {
				return err
			}
			end = math.Min(end, stop)
		}
		if solver.T() >= next {
			d.cycle(solver, period)
			cycle++
		}
	}
	d.finish(solver)
	return nil
}

// event does what the events of the last step ask for, and returns when the
// simulation ends.
func (d *dynamic) event(solver *numeric.Solver) (end float64, err error) {
	end = math.Inf(1)
	now := unit.Time(solver.T())
	if solver.Fired(2) {
		d.result.Outcome, d.result.FullSpeed = Starts, now
		d.count(solver)
		end = solver.T() + float64(d.Settle)
	}
	switch {
	case solver.Fired(0):
		d.result.SwitchOrdered, d.ordered = now, true
	case solver.Fired(1):
		d.result.SwitchOpen = now
		d.result.EnergyToOpen, d.result.SquareTimeToOpen = unit.Energy(solver.Y()[dyEnergy]), solver.Y()[dySquareTime]
		if d.circuit.Auxiliary.Start.Capacitance != 0 {
			d.result.CapacitorLeft = unit.Voltage(math.Abs(solver.Y()[dyCapacitor]))
		}
		if err = d.connect(running, solver.Y()); err != nil {
			return end, err
		}
	}
	return end, solver.Restart()
}

// cycle notes the means of the cycle that has just ended.
func (d *dynamic) cycle(solver *numeric.Solver, period float64) {
	y := solver.Y()
	mean := func(i int) float64 { return (y[i] - d.last[i]) / period }
	c := Cycle{
		Time:    unit.Time(solver.T()),
		Voltage: unit.Voltage(math.Sqrt(mean(dySquareVolts))),
		Current: unit.Current(math.Sqrt(mean(dySquareTime))),
		Real:    unit.Power(mean(dyEnergy)),
		Speed:   Speed(mean(dyAngle)),
	}
	if d.result.Outcome != Starts || d.result.FullSpeed >= c.Time-unit.Time(period) {
		r := &d.result.RunUpResult
		s := RunUpSample{
			Time: c.Time, Speed: c.Speed, Voltage: unit.Voltage(math.Sqrt(mean(dySquareMotor))), Current: c.Current,
			Apparent: ApparentPower(c.Voltage) * ApparentPower(c.Current), Real: c.Real, Closed: d.connection == starting,
		}
		r.note(&s)
		if len(d.result.Cycles) == 0 {
			r.First = s
		}
	}
	d.result.Cycles = append(d.result.Cycles, c)
	copy(d.last[:], y)
}

// finish says how it ended.
func (d *dynamic) finish(solver *numeric.Solver) {
	r := &d.result
	if r.Outcome != Starts {
		d.count(solver)
	}
	r.End, r.Speed = unit.Time(solver.T()), Speed(solver.Y()[dySpeed])
	r.Last = d.sample(solver.T(), solver.Y())
	if r.Outcome == Starts {
		return
	}
	// Speed swings at twice the line frequency: whole cycles tell.
	const back = 30
	n := len(r.Cycles)
	switch {
	case n > back && float64(r.Cycles[n-1].Speed-r.Cycles[n-1-back].Speed) > 0.002*d.synchron:
		r.Outcome = TimesOut
	case n > 0 && r.Cycles[n-1].Speed < Speed(0.01*d.synchron):
		r.Outcome = StandsStill
	case d.connection == starting:
		r.Outcome = HangsOnStart
	default:
		r.Outcome = HangsRunning
	}
}

// count fixes the energies at the present time.
func (d *dynamic) count(solver *numeric.Solver) {
	y, r := solver.Y(), &d.result
	r.Energy, r.SquareTime = unit.Energy(y[dyEnergy]), y[dySquareTime]
	r.StatorHeat, r.RotorHeat = unit.Energy(y[dyStator]), unit.Energy(y[dyRotor])
	if d.link.capacitance != 0 {
		r.LinkEnergy = unit.Energy(y[dyInput])
	}
}

// peaks looks for the greatest currents in the last step, and for the least
// voltage of a dc link.
func (d *dynamic) peaks(solver *numeric.Solver) {
	from, to := solver.Last()
	for _, t := range [...]float64{from, (from + to) / 2, to} {
		solver.At(t, d.scratch[:])
		i := d.currents(d.scratch[:])
		d.maximum(solver, math.Abs(i.main+i.auxiliary), &d.result.Peak, &d.result.PeakTime, lineCurrent)
		d.maximum(solver, math.Abs(i.main), &d.result.MainPeak, nil, mainCurrent)
		if d.link.capacitance != 0 && d.scratch[dyLink] < 1.01*float64(d.result.LeastLink) {
			_, v := solver.Max(func(_ float64, y []float64) float64 { return -y[dyLink] })
			d.result.LeastLink = min(d.result.LeastLink, unit.Voltage(max(-v, 0)))
		}
	}
}

func lineCurrent(i currents) float64 { return i.main + i.auxiliary }

func mainCurrent(i currents) float64 { return i.main }

// maximum refines a peak within the last step where one of its instants comes
// near the greatest so far.
func (d *dynamic) maximum(solver *numeric.Solver, seen float64, peak *unit.Current, at *unit.Time, of func(currents) float64) {
	const near = 0.98
	if seen < near*float64(*peak) {
		return
	}
	t, v := solver.Max(func(_ float64, y []float64) float64 { return math.Abs(of(d.currents(y))) })
	if v > float64(*peak) {
		*peak = unit.Current(v)
		if at != nil {
			*at = unit.Time(t)
		}
	}
}

// samples adds those that fall into the last step: instantaneous values.
func (d *dynamic) samples(solver *numeric.Solver) {
	if d.Every == 0 {
		return
	}
	for solver.At(float64(d.sampled), d.scratch[:]) {
		d.result.Samples = append(d.result.Samples, d.sample(float64(d.sampled), d.scratch[:]))
		d.sampled += d.Every
	}
}

// sample is the state at one instant; voltage, current and power are
// instantaneous, signs and all.
func (d *dynamic) sample(t float64, y []float64) RunUpSample {
	i := d.currents(y)
	e := d.electric(t, y, i)
	return RunUpSample{
		Time: unit.Time(t), Speed: Speed(y[dySpeed]), Voltage: unit.Voltage(e.motor), Current: unit.Current(i.main + i.auxiliary),
		Real: unit.Power(e.terminal * (i.main + i.auxiliary)), Link: d.linkVoltage(y), Torque: unit.Torque(d.torque(i)),
		LoadTorque: unit.Torque(d.loadTorque(d.frame, y[dySpeed])), Closed: d.connection == starting,
	}
}

// WorstPeak returns the greatest instantaneous line current over all angles of
// switching on, within a time from it (one cycle to 10 s), and the angle, from 0
// to π.
//
// Source: as [RunUp.Dynamic].
func (r RunUp) WorstPeak(within unit.Time, accuracy float64) (unit.Current, unit.Angle, error) {
	if err := r.Validate(); err != nil {
		return 0, 0, err
	}
	if err := pkg.Range("time of the peak", float64(within), 1/r.Circuit.frame().frequency, 10, domain.Second); err != nil {
		return 0, 0, err
	}
	r.Until, r.Every = within, 0
	peak := func(angle float64) (unit.Current, error) {
		d, err := r.Dynamic(unit.Angle(angle), accuracy)
		return d.Peak, err
	}
	const parts = 12
	best, greatest := 0, unit.Current(0)
	for k := range parts {
		i, err := peak(math.Pi * float64(k) / parts)
		if err != nil {
			return 0, 0, err
		}
		if i > greatest {
			best, greatest = k, i
		}
	}
	step := math.Pi / parts
	angle := numeric.Maximum(func(a float64) float64 {
		i, _ := peak(a) // which has gone well at twelve angles
		return float64(i)
	}, step*float64(best-1), step*float64(best+1), 1e-4)
	i, err := peak(angle)
	return max(i, greatest), unit.Angle(math.Mod(angle+math.Pi, math.Pi)), err
}
