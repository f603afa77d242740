package main

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// decide follows the start of every motor that the plate allows.
func decide(in Input) (Answer, error) {
	m, err := newMachine(&in)
	if err != nil {
		return Answer{}, err
	}
	wires, err := feeder(in)
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Why: []string{}, Motor: Motor{
		Basis: m.basis, SynchronousRPM: rounded(in.synchronousRPM()), FullSpeedRPM: rounded(in.FullSpeedRPM),
		InertiaLow: rounded(m.inertia.Low), InertiaHigh: rounded(m.inertia.High), InertiaBasis: m.inertiaBasis,
		FeederROhm: rounded(real(wires)), FeederXOhm: rounded(imag(wires)),
	}}
	shown := 0
	for _, v := range m.variants {
		if in.Spread != "all" && len(m.variants) > 1 && v.name != in.Spread {
			continue
		}
		l, err := load(&in, v.circuit)
		if err != nil {
			return Answer{}, err
		}
		c := Case{Name: v.name, circuit: v.circuit, typical: m.typical, load: l, inertia: m.inertia.Mid(), Ohms: ohmsOf(v.circuit)}
		if err := c.follow(&in, wires, m.inertia); err != nil {
			return Answer{}, err
		}
		if v.name == "typical" {
			shown = len(a.Cases)
		}
		a.Cases = append(a.Cases, c)
	}
	one := &a.Cases[shown]
	if s := switchOf(one.circuit); s != 0 {
		a.Motor.SwitchRPM = rounded(s * in.synchronousRPM())
	}
	a.Motor.describe(one.load)
	a.conclude()
	if err := a.show(&in, wires, one); err != nil {
		return Answer{}, err
	}
	if d := a.Dynamic; d != nil && d.Outcome != motor.Starts.String() && a.Verdict == starts {
		a.Verdict = depends
		a.Why = append(a.Why, "instant by instant it "+d.Outcome)
	}
	a.shortcuts(&in, one)
	a.Input, a.Assumed = in, append([]string{}, in.assumed...)
	a.Sources, a.Cautions = slices.Concat(m.sources, sources(&in)), cautions(&in)
	return a, nil
}

// describe notes the load.
func (m *Motor) describe(l motor.Load) {
	switch l := l.(type) {
	case motor.CentrifugalLoad:
		m.LoadNM, m.LoadRPM = rounded(l.Rated), rounded(l.Speed/motor.RPM)
	case motor.ConstantLoad:
		m.LoadNM = rounded(l.Rated)
	}
}

// conclude makes one verdict of all cases.
func (a *Answer) conclude() {
	count := map[string]int{}
	for _, c := range a.Cases {
		count[c.Verdict]++
		if c.Why != "" {
			why := c.Why
			if len(a.Cases) > 1 {
				why = c.Name + ": " + why
			}
			a.Why = append(a.Why, why)
		}
	}
	a.underLimit()
	switch n := len(a.Cases); {
	case count[starts] == n:
		a.Verdict = starts
	case count[fails] == n:
		a.Verdict = fails
	case count[fails]+count[depends] > 0:
		a.Verdict = depends
		if n > 1 {
			a.Why = append(a.Why, "what is known of the motor leaves it open: a measured locked-rotor current, or the plate's, narrows it")
		}
	default:
		a.Verdict = marginal
	}
}

// underLimit says what a limited source must be able to do.
func (a *Answer) underLimit() {
	var most Case
	for _, c := range a.Cases {
		if c.UnlimitedA > most.UnlimitedA {
			most = c
		}
	}
	if most.UnlimitedA != 0 {
		a.Why = append(a.Why, fmt.Sprintf("counts on a source that holds its current where the motor would take %s A, and lets its voltage fall to %s V: one that trips, or switches off at low voltage, does not start it",
			figure(most.UnlimitedA), figure(most.RestSourceV)))
	}
}

// switchOf is the share of the synchronous speed at which the start switch opens;
// 0 where there is none.
func switchOf(c motor.Circuit) float64 {
	if s, ok := c.(motor.SinglePhaseCircuit); ok {
		return s.Auxiliary.Switch
	}
	return 0
}

func (c *Case) runUp(in *Input, wires complex128, j motor.Inertia, strength float64) motor.RunUp {
	return motor.RunUp{
		Circuit: c.circuit, Source: source(*in, strength), Feeder: wires, Load: c.load, Inertia: j,
		FullSpeed: in.FullSpeedRPM / in.synchronousRPM(), Until: unit.Time(in.UntilS), Settle: settle,
	}
}

const (
	settle = 1 * unit.Second // in which a source may still give up
)

// follow works out the start over the range of the inertia.
func (c *Case) follow(in *Input, wires complex128, inertia motor.Range[motor.Inertia]) error {
	if err := c.atRest(in); err != nil {
		return err
	}
	r, err := c.runUp(in, wires, c.inertia, 1).QuasiSteady()
	if err != nil {
		return err
	}
	c.result = r
	c.Outcome = r.Outcome.String()
	c.SwitchOpensS, c.FullSpeedS = rounded(r.SwitchOpen), rounded(r.FullSpeed)
	c.EndRPM = rounded(r.Speed / motor.RPM)
	c.LeastV, c.GreatestA, c.GreatestVA, c.GreatestW = rounded(r.LeastVoltage), rounded(r.GreatestCurrent), rounded(r.GreatestApparent), rounded(r.GreatestReal)
	c.EnergyWh, c.SquareTimeA2S = rounded(r.Energy/(3600*unit.Joule)), rounded(r.SquareTime)
	c.StatorHeatJ, c.RotorHeatJ = rounded(r.StatorHeat), rounded(r.RotorHeat)
	c.RestMotorV, c.RestCurrentA = rounded(r.First.Voltage), rounded(r.First.Current)
	c.RestTorqueNM, c.RestLoadNM = rounded(r.First.Torque), rounded(r.First.LoadTorque)
	if r.First.Current > 0 {
		c.RestSourceV = rounded(float64(r.First.Apparent) / (float64(r.First.Current) * math.Sqrt(float64(in.phases))))
	}
	if err := c.unlimited(in, wires); err != nil {
		return err
	}
	return c.judge(in, wires, inertia)
}

// unlimited notes what the motor would take if a limit did not hold it back.
func (c *Case) unlimited(in *Input, wires complex128) error {
	if in.LimitA == 0 {
		return nil
	}
	free := *in
	free.LimitA = 0
	r, err := c.runUp(&free, wires, c.inertia, 1).QuasiSteady()
	if err == nil && float64(r.First.Current) > in.LimitA {
		c.UnlimitedA = rounded(r.First.Current)
	}
	return err
}

// atRest notes what the circuit is at rated voltage.
func (c *Case) atRest(in *Input) error {
	v := unit.Voltage(in.Volts)
	held, err := c.circuit.Starting(1, v)
	breakdown, err2 := c.circuit.Breakdown(v)
	if err := errors.Join(err, err2); err != nil {
		return err
	}
	c.LockedRotorA, c.LockedRotorPF, c.StartingNM = rounded(held.Current), rounded(held.PowerFactor), rounded(held.Torque)
	c.BreakdownNM = rounded(breakdown.ShaftTorque)
	if in.OutputHP != 0 {
		p, err := ratedPoint(*in, c.circuit, 0)
		if err != nil {
			return err
		}
		c.FullLoadA = rounded(p.Current)
	}
	return nil
}
