package motor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// The states of a dynamic start: flux linkages with the source's inductance
// among them, and what is summed over time.
const (
	dyQS          = iota // flux linkage of the main winding (V·s)
	dyQR                 // of the rotor along it
	dyDS                 // of the auxiliary winding
	dyDR                 // of the rotor along it
	dyCapacitor          // voltage of the capacitor
	dySpeed              // of the shaft (rad/s)
	dyAngle              // of the shaft
	dySquareTime         // of the line current (A²s)
	dySquareVolts        // at the source's terminals
	dySquareMotor        // at the motor
	dyEnergy             // at the source's terminals
	dyStator
	dyRotor
	dyLink  // voltage of the dc link
	dyInput // energy that has charged it
	dynamicStates
	unlinkedStates = dyLink // of a source without a dc link
)

// dynamic is a dynamic start under way.
type dynamic struct {
	RunUp
	frame

	circuit    SinglePhaseCircuit
	accuracy   float64
	connection connection
	ordered    bool // the start switch is to open
	result     DynamicResult
	last       [dynamicStates]float64 // at the beginning of the cycle
	scratch    [dynamicStates]float64
	sampled    unit.Time // time of the next sample

	// Constants of the equations.
	turns, pairs       float64 // a, ½p
	peak, omega, angle float64 // √2·V (V), ω_e (rad/s), φ (rad)
	resistance         float64 // of source and feeder together (Ω)
	inductance         float64 // (H)
	feeder, feederL    float64 // of the feeder alone
	limit              float64 // greatest instantaneous current (A); +Inf: none
	link               dcLink
	mutual             float64 // L_m (H)
	branch             float64 // resistance of the auxiliary winding and its branch (Ω)
	capacitance        float64 // in series with it (F); 0: none
	inverse            [4][4]float64
}

// clampOhms is the resistance that a limited source puts in series above its
// limit.
const clampOhms = 200

// prepare sets the constants.
func (d *dynamic) prepare(angle float64) error {
	open, series, limit := d.Source.Linear()
	err := errors.Join(
		pkg.Range("voltage of the source", float64(open), 10, 15e3, domain.Volt),
		pkg.Range("source resistance", real(series), 0, mostSourceOhms, domain.Ohm),
		pkg.Range("source reactance", imag(series), 0, mostSourceOhms, domain.Ohm),
	)
	if !math.IsInf(float64(limit), 1) {
		err = errors.Join(err, pkg.Range("current limit", float64(limit), 1e-3, greatestAmps, domain.Ampere))
	}
	if err != nil {
		return err
	}
	w := 2 * math.Pi * d.frequency
	d.turns, d.pairs = d.circuit.Auxiliary.Turns, float64(d.circuit.Poles)/2
	d.peak, d.omega, d.angle = math.Sqrt2*float64(open), w, angle
	d.resistance = real(series) + real(d.Feeder)
	d.inductance = (imag(series) + imag(d.Feeder)) / w
	d.feeder, d.feederL = real(d.Feeder), imag(d.Feeder)/w
	d.limit = math.Sqrt2 * float64(limit)
	d.mutual = float64(d.circuit.Xm) / w
	if !math.IsInf(d.limit, 1) && d.inductance > 0 {
		return pkg.Invalid("dynamic start", "behind a limit with inductance", "a limit without inductance, or no limit")
	}
	if d.link, err = linkOf(d.Source); err != nil {
		return err
	}
	if d.turns == 0 {
		d.turns = 1 // the rotor has two axes all the same
	}
	first := starting
	if d.switchOver == 0 {
		first = running
	}
	return d.connect(first, nil)
}

// connect puts the windings on the line that a connection has there. y is the
// state, nil before the start.
func (d *dynamic) connect(n connection, y []float64) error {
	w, a, c := 2*math.Pi*d.frequency, d.turns, &d.circuit
	d.connection = n
	branch, connected := c.Auxiliary.branch(n)
	l1, l2, lm, ls := float64(c.X1)/w, float64(c.X2)/w, d.mutual, d.inductance
	matrix := mat.NewDense(4, 4, []float64{
		l1 + lm + ls, lm, ls, 0,
		lm, l2 + lm, 0, 0,
		ls, 0, float64(c.Auxiliary.X)/w + a*a*lm + ls, a * a * lm,
		0, 0, a * a * lm, a * a * (l2 + lm),
	})
	if !connected {
		for k := range 4 { // the open winding carries nothing
			matrix.Set(dyDS, k, 0)
			matrix.Set(k, dyDS, 0)
		}
		matrix.Set(dyDS, dyDS, 1)
		if y != nil {
			y[dyDS], y[dyCapacitor] = 0, 0
		}
	}
	var inverse mat.Dense
	if err := inverse.Inverse(matrix); err != nil {
		return pkg.Invalid("leakage reactances", "0", "some in stator or rotor")
	}
	for i := range 4 {
		for k := range 4 {
			d.inverse[i][k] = inverse.At(i, k)
		}
	}
	d.branch, d.capacitance = math.Inf(1), 0
	if connected {
		d.branch = float64(c.Auxiliary.R + branch.Resistance)
		d.capacitance = float64(branch.Capacitance)
	}
	return nil
}

// states is the number of those that are integrated.
func (d *dynamic) states() int {
	if d.link.capacitance == 0 {
		return unlinkedStates
	}
	return dynamicStates
}

// linkVoltage is that of the dc link, 0 where there is none.
func (d *dynamic) linkVoltage(y []float64) unit.Voltage {
	if d.link.capacitance == 0 {
		return 0
	}
	return unit.Voltage(y[dyLink])
}

// tolerances are what is added to the relative accuracy of each state.
func (d *dynamic) tolerances() []float64 {
	atol := make([]float64, d.states())
	flux := d.peak / d.omega
	scale := [dynamicStates]float64{
		flux, flux, flux, flux, d.peak, d.synchron, 1, 10, 100, 100, 10, 10, 10, d.peak, 10,
	}
	for i := range atol {
		atol[i] = 0.1 * d.accuracy * scale[i]
	}
	return atol
}

// currents are those of the windings and the rotor's two axes (A).
type currents struct{ main, rotorQ, auxiliary, rotorD float64 }

func (d *dynamic) currents(y []float64) currents {
	g := &d.inverse
	a, b, c, e := y[dyQS], y[dyQR], y[dyDS], y[dyDR]
	return currents{
		main:      g[0][0]*a + g[0][1]*b + g[0][2]*c + g[0][3]*e,
		rotorQ:    g[1][0]*a + g[1][1]*b + g[1][2]*c + g[1][3]*e,
		auxiliary: g[2][0]*a + g[2][1]*b + g[2][2]*c + g[2][3]*e,
		rotorD:    g[3][0]*a + g[3][1]*b + g[3][2]*c + g[3][3]*e,
	}
}

func (d *dynamic) auxiliaryCurrent(y []float64) float64 { return d.currents(y).auxiliary }

func (d *dynamic) torque(i currents) float64 {
	return d.pairs * d.turns * d.mutual * (i.main*i.rotorD - i.auxiliary*i.rotorQ)
}

// electric are the slopes of the flux linkages and the voltages that go with
// them.
type electric struct {
	qs, qr, ds, dr  float64 // (V)
	terminal, motor float64 // at the source's terminals and at the motor (V)
	drawn           float64 // from the dc link (A)
}

func (d *dynamic) electric(t float64, y []float64, i currents) electric {
	line := i.main + i.auxiliary
	u := d.peak * math.Cos(d.omega*t+d.angle)
	if over := math.Abs(line) - d.limit; over > 0 {
		u -= math.Copysign(clampOhms*over, line)
	}
	share := 0.0
	if d.link.capacitance != 0 {
		u, share = d.link.clip(u, y[dyLink])
	}
	v := u - d.resistance*line
	a, wr, r2 := d.turns, d.pairs*y[dySpeed], float64(d.circuit.R2)
	e := electric{
		drawn: share * line, qs: v - float64(d.circuit.R1)*i.main,
		qr: -r2*i.rotorQ + wr*y[dyDR]/a,
		dr: -a*a*r2*i.rotorD - a*wr*y[dyQR],
	}
	if !math.IsInf(d.branch, 1) {
		e.ds = v - y[dyCapacitor] - d.branch*i.auxiliary
	}
	e.motor, e.terminal = v, v+d.feeder*line
	if d.inductance > 0 {
		g := &d.inverse
		di := (g[0][0]+g[2][0])*e.qs + (g[0][1]+g[2][1])*e.qr + (g[0][2]+g[2][2])*e.ds + (g[0][3]+g[2][3])*e.dr
		e.motor -= d.inductance * di
		e.terminal += (d.feederL - d.inductance) * di
	}
	return e
}

// slope is the right-hand side.
func (d *dynamic) slope(t float64, y, dy []float64) {
	i := d.currents(y)
	e := d.electric(t, y, i)
	dy[dyQS], dy[dyQR], dy[dyDS], dy[dyDR] = e.qs, e.qr, e.ds, e.dr
	dy[dyCapacitor] = 0
	aux := 0.0
	if !math.IsInf(d.branch, 1) {
		aux = d.branch * i.auxiliary * i.auxiliary
		if d.capacitance != 0 {
			dy[dyCapacitor] = i.auxiliary / d.capacitance
		}
	}
	net := d.torque(i) - d.loadTorque(d.frame, y[dySpeed])
	if y[dySpeed] <= 0 && net < 0 && d.Load != nil {
		net = 0 // at rest the load holds, and does not drive back
	}
	dy[dySpeed], dy[dyAngle] = net/float64(d.Inertia), y[dySpeed]
	line := i.main + i.auxiliary
	dy[dySquareTime] = line * line
	dy[dySquareVolts], dy[dySquareMotor] = e.terminal*e.terminal, e.motor*e.motor
	dy[dyEnergy] = e.terminal * line
	dy[dyStator] = float64(d.circuit.R1)*i.main*i.main + aux
	dy[dyRotor] = float64(d.circuit.R2) * (i.rotorQ*i.rotorQ + d.turns*d.turns*i.rotorD*i.rotorD)
	if d.link.capacitance != 0 {
		in := d.link.charge(y[dyLink])
		dy[dyLink], dy[dyInput] = (in-e.drawn)/d.link.capacitance, in*y[dyLink]
	}
}
