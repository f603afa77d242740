package motor

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/unit"
)

// This file has the parameters and the residuals of [Catalogue.FitThreePhase]
// and FitSinglePhase.

// The parameters of a fit: those of a motor, the slip at rated output, and the
// rotor resistance at standstill over that at speed.
const (
	fitSlip = unitParameters + iota
	fitHeld
	fitParameters
)

type fitted [fitParameters]float64

// fitBounds are the least and the greatest value of each parameter, the
// impedances as parts of V²/P.
var fitBounds = [fitParameters][2]float64{
	unitR1: {5e-4, 0.6}, unitX1: {1e-3, 0.8}, unitR2: {5e-4, 0.6}, unitX2: {1e-3, 0.8}, unitXm: {0.15, 60},
	unitRotational: {1e-4, 0.8},
	unitTurns:      {0.3, 3.5}, unitRa: {2e-3, 4}, unitXa: {0, 10},
	unitStartR: {0, 0}, unitStartX: {5e-3, 6}, unitRunR: {0, 0}, unitRunX: {0.05, 40},
	fitSlip: {2e-4, 0.4}, fitHeld: {0.5, 8},
}

// The weights of a fit beside those of the figures.
const (
	priorTolerance = 10  // of the logarithm of a parameter
	outputShare    = 0.1 // tolerance of the output, over the least of the figures'
)

// A fitting is a fit under way.
type fitting struct {
	c     Catalogue
	want  [figureCount]float64
	scale [figureCount]float64 // one over the tolerance
	tight float64              // one over the tolerance of the output
	ratio float64              // X1/X2
	free  []int
	base  fitted
	best  fitted

	// Room for the Jacobian.
	residuals, center, up, down []float64
	at, beside                  []float64 // coordinates of it, and with one moved
	jacobian                    *mat.Dense
}

func (c Catalogue) fitting() *fitting {
	f := &fitting{c: c, want: c.wanted(), ratio: or(c.ReactanceRatio, 1)}
	tightest := greatestTolerance * 1.0
	for i, t := range c.Tolerance.each() {
		f.scale[i] = 1 / t
		if f.want[i] != 0 {
			tightest = min(tightest, t)
		}
	}
	f.tight = 1 / (outputShare * tightest)
	u := c.Type.parts(c.Output)
	copy(f.base[:], u[:])
	f.base[fitSlip], f.base[fitHeld] = 0.04, 1
	f.base[unitX2] = f.base[unitX1] / f.ratio
	f.free = append(f.free, unitR1, unitX1, unitR2, unitXm, unitRotational, fitSlip)
	if c.DeepBar {
		f.free = append(f.free, fitHeld)
	}
	if u[unitTurns] != 0 {
		f.free = append(f.free, unitTurns, unitRa)
		f.capacitor(unitStartR, unitStartX, c.Start)
		f.capacitor(unitRunR, unitRunX, c.Run)
	}
	n := len(f.free)
	m := int(figureCount) + 1 + n
	f.residuals, f.center, f.up, f.down = make([]float64, m), make([]float64, m), make([]float64, m), make([]float64, m)
	f.jacobian, f.at, f.beside = mat.NewDense(m, n, nil), make([]float64, n), make([]float64, n)
	f.at[0] = math.NaN() // of nowhere yet
	return f
}

// capacitor fixes a branch that the catalogue gives, or frees its capacitor.
func (f *fitting) capacitor(r, x int, b Branch) {
	if b != (Branch{}) {
		base := baseOhms(f.c.Voltage, f.c.Output)
		z := b.impedance(float64(f.c.Frequency))
		f.base[r], f.base[x] = real(z)/base, -imag(z)/base
	} else if f.base[x] != 0 {
		f.free = append(f.free, x)
	}
}

// coordinate is the unbounded one of a parameter between its bounds.
func (f *fitting) coordinate(p int, value float64) float64 {
	lo, hi := math.Log(fitBounds[p][0]), math.Log(fitBounds[p][1])
	t := min(max((math.Log(value)-lo)/(hi-lo), 1e-3), 1-1e-3)
	return math.Log(t / (1 - t))
}

// parameters is the inverse of coordinate: positive and within the bounds
// wherever the search goes.
func (f *fitting) parameters(x []float64) fitted {
	v := f.base
	for i, p := range f.free {
		lo, hi := math.Log(fitBounds[p][0]), math.Log(fitBounds[p][1])
		v[p] = math.Exp(lo + (hi-lo)/(1+math.Exp(-x[i])))
	}
	v[unitX2] = v[unitX1] / f.ratio
	if v[unitTurns] != 0 {
		v[unitXa] = v[unitTurns] * v[unitTurns] * v[unitX1]
	}
	return v
}

func (f *fitting) single(v *fitted) SinglePhaseCircuit {
	u := perUnit(v[:unitParameters])
	return u.single(f.c.Type, f.c.Output, f.c.Voltage, f.c.Frequency, f.c.Poles)
}

func (f *fitting) three(v *fitted) ThreePhaseCircuit {
	u := perUnit(v[:unitParameters])
	return u.three(f.c.Output, f.c.Voltage, f.c.Frequency, f.c.Poles)
}

// evaluate fills in the residuals at x, in tolerances: of the figures, of the
// output and of what is known beforehand.
func (f *fitting) evaluate(x, r []float64) {
	v := f.parameters(x)
	var got [figureCount]float64
	var output unit.Power
	if f.c.Type == ThreePhase {
		c := f.three(&v)
		held := c
		held.R2 *= unit.Resistance(v[fitHeld])
		p := c.point(v[fitSlip], f.c.Voltage)
		output, got = p.Output, f.predictThree(&c, &held, p)
	} else {
		c := f.single(&v)
		held := c
		held.R2 *= unit.Resistance(v[fitHeld])
		w := c.windings(v[fitSlip], 1, running)
		k := complex(float64(f.c.Voltage), 0)
		p := c.carry(v[fitSlip], f.c.Voltage, w, k*w.main, k*w.auxiliary, k)
		output, got = p.Output, f.predictSingle(&c, &held, p)
	}
	for i, want := range f.want {
		r[i] = 0
		if want != 0 {
			r[i] = (got[i]/want - 1) * f.scale[i]
		}
	}
	r[figureCount] = (float64(output/f.c.Output) - 1) * f.tight
	for i, p := range f.free {
		r[int(figureCount)+1+i] = math.Log(v[p]/f.base[p]) / priorTolerance
	}
}

// predictThree returns the figures of a circuit whose point at rated output is
// p; those not asked for are left out.
func (f *fitting) predictThree(c, held *ThreePhaseCircuit, p Point) (got [figureCount]float64) {
	f.loaded(&got, p)
	rated := f.ratedTorque(p.Slip)
	lr := held.point(1, f.c.Voltage)
	got[FigureLockedRotorCurrent] = float64(lr.Current)
	got[FigureLockedRotorPowerFactor] = lr.PowerFactor
	got[FigureStartingTorque] = float64(lr.Torque) / rated
	if f.want[FigureBreakdownTorque] != 0 {
		got[FigureBreakdownTorque] = float64(c.point(c.breakdownSlip(), f.c.Voltage).Torque) / rated
	}
	return got
}

// predictSingle is predictThree for one phase.
func (f *fitting) predictSingle(c, held *SinglePhaseCircuit, p Point) (got [figureCount]float64) {
	f.loaded(&got, p)
	rated := f.ratedTorque(p.Slip)
	k := complex(float64(f.c.Voltage), 0)
	w := held.windings(1, 1, starting)
	lr := held.carry(1, f.c.Voltage, w, k*w.main, k*w.auxiliary, k)
	got[FigureLockedRotorCurrent] = float64(lr.Current)
	got[FigureLockedRotorPowerFactor] = lr.PowerFactor
	got[FigureStartingTorque] = float64(lr.Torque) / rated
	if f.want[FigureBreakdownTorque] != 0 {
		s := c.breakdownSlip()
		w := c.windings(s, 1, running)
		forward, backward := w.gap(c.Auxiliary.Turns, k*w.main, k*w.auxiliary)
		got[FigureBreakdownTorque] = (forward - backward) / synchronous(c.Frequency, c.Poles) / rated
	}
	return got
}

func (f *fitting) loaded(got *[figureCount]float64, p Point) {
	got[FigureFullLoadCurrent] = float64(p.Current)
	got[FigurePowerFactor] = p.PowerFactor
	got[FigureEfficiency] = p.Efficiency
	got[FigureSlip] = p.Slip
}

// ratedTorque is P/((1-s)·ω_s), with the slip of the catalogue where it is given.
func (f *fitting) ratedTorque(slip float64) float64 {
	slip = or(f.want[FigureSlip], slip)
	return float64(f.c.Output) / ((1 - slip) * synchronous(f.c.Frequency, f.c.Poles))
}

// report lays the figures beside those of the circuit.
func (f *fitting) report(rated Point, held unit.Resistance, got [figureCount]float64) Fit {
	r := Fit{Rated: rated, StandstillRotor: held, Undecided: len(f.free) - 1}
	for i, want := range f.want {
		if want == 0 {
			continue
		}
		one := Residual{Figure: Figure(i), Want: want, Got: got[i], Relative: got[i]/want - 1, Tolerance: 1 / f.scale[i]}
		if len(r.Residuals) == 0 || one.over() > r.Worst.over() {
			r.Worst = one
		}
		r.Residuals = append(r.Residuals, one)
	}
	r.Undecided = max(0, r.Undecided-len(r.Residuals))
	return r
}

// verdict refuses a fit that is too far off.
func (f *fitting) verdict(r *Fit) error {
	if r.Worst.over() <= greatestMisfit {
		return nil
	}
	return &MisfitError{Worst: r.Worst}
}
