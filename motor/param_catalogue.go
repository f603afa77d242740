package motor

import (
	"gonum.org/v1/gonum/unit"
)

// A Catalogue is what a data sheet or a nameplate says of a motor: the figures
// that a circuit is fitted to. Output, Voltage, Frequency and Poles must be
// given; of the figures, zero is one that is not given.
type Catalogue struct {
	// Type says which windings stand on the line: [ThreePhase] for three phases;
	// [UnknownType] for the main winding of a single-phase motor alone, running
	// and held; the others with their auxiliary winding while they start, and
	// with their run capacitor, if they have one, while they run.
	Type      Type
	Output    unit.Power     // rated shaft power (1/20 to 500 hp)
	Voltage   unit.Voltage   // rated, line to line (10 V to 15 kV)
	Frequency unit.Frequency // rated (10 to 400 Hz)
	Poles     int            // 2 to 24

	FullLoadCurrent        unit.Current // line current at rated output
	PowerFactor            float64      // at rated output
	Efficiency             float64      // at rated output
	FullLoadSpeed          Speed        // at rated output
	LockedRotorCurrent     unit.Current // line current with the rotor held, all windings that start
	LockedRotorPowerFactor float64      // cosine of the angle of that current
	StartingTorque         float64      // over rated torque
	BreakdownTorque        float64      // over rated torque, once the start switch has opened

	// Start and Run are the capacitors, Run alone for [PermanentSplit]. Zero:
	// found by the fit.
	Start, Run Branch
	// ReactanceRatio is X1/X2, which no figure of a catalogue shows. Zero: 1.
	ReactanceRatio float64
	// DeepBar allows the rotor another resistance at standstill than at speed.
	DeepBar bool
	// Tolerance of each figure. Zero: [DefaultTolerances].
	Tolerance Tolerances
}

// A Fit says how a circuit follows the figures of its [Catalogue].
type Fit struct {
	Rated     Point      // at rated output
	Residuals []Residual // of the figures given, in the order of the Figure constants
	Worst     Residual   // furthest off in tolerances
	// Undecided is how many parameters more the fit has than it has figures.
	// So many, or more, stay as in a typical motor of the type and size.
	Undecided int
	// StandstillRotor is the rotor resistance with the rotor held: that of the
	// circuit unless DeepBar lets it differ. The circuit itself has that of the
	// running motor.
	StandstillRotor unit.Resistance
}

// greatestMisfit is how far a figure may be off, in tolerances.
const greatestMisfit = 3

// FitThreePhase returns the circuit that follows the figures of a three-phase
// motor best, in wye, its core loss counted as rotational loss: the parameters
// R_1, X_1, R_2, X_m and the rotational loss, and with them the full-load slip,
// for which
//
//	Σ ((got/want - 1)/tolerance)²
//
// is least, each within wide bounds of what motors have; X_2 follows by the
// ratio of reactances. Slip, power factor, efficiency and current are those of
// [ThreePhaseCircuit.AtOutput] at rated output, held figures those of slip 1,
// the breakdown torque that of [ThreePhaseCircuit.Breakdown], torques over
// P/((1-s)·ω_s).
//
// A single cage with constant resistance cannot have low slip at full load and
// a high starting torque at once, T_lr/T ≈ (I_lr/I)²·s. Motors with deep bars or
// two cages do: for those the fit lies between, as the residuals show, unless
// DeepBar gives the rotor a resistance of its own at standstill. Three or more
// figures are needed, one each of running current, leakage and rotor; which
// are missing the [ErrMissing] says. What the figures do not decide stays as in
// the typical motor of that type and size ([TypicalThreePhase]), which weighs
// next to nothing beside a figure.
//
// A figure off by more than three times its tolerance is a [MisfitError], beside
// which circuit and fit are returned, for a look at the other residuals; where
// the best circuit does not even carry the output, err is a [StallError].
//
// Source: weighted nonlinear least squares on Fitzgerald, Kingsley, Umans,
// Electric Machinery, 6th ed., sections 6.4 and 6.5; the method of Gauss and
// Newton from several starts.
func (c Catalogue) FitThreePhase() (ThreePhaseCircuit, Fit, error) {
	f, err := c.fit(3)
	if err != nil {
		return ThreePhaseCircuit{}, Fit{}, err
	}
	circuit := f.three(&f.best)
	rated, stall := circuit.AtOutput(c.Output, c.Voltage)
	if stall != nil {
		return ThreePhaseCircuit{}, Fit{}, stall
	}
	held := circuit.WithRotor(circuit.R2 * unit.Resistance(f.best[fitHeld]))
	report := f.report(rated, held.R2, f.predictThree(&circuit, &held, rated))
	err = f.verdict(&report)
	return circuit, report, err
}

// FitSinglePhase returns the circuit that follows the figures of a single-phase
// motor best, as [Catalogue.FitThreePhase] does: of the main winding alone where
// Type is [UnknownType], else with an auxiliary winding, whose turns and
// resistance are parameters as well, and so are the capacitors that the
// catalogue does not give; its leakage is that of the main winding by the square
// of the turns. The start switch opens at three quarters of the synchronous
// speed.
//
// Figures with the rotor held are those of [SinglePhaseCircuit.Starting], the
// others those of Running.
//
// Source: as [Catalogue.FitThreePhase], on section 9.4 and Example 9.2.
func (c Catalogue) FitSinglePhase() (SinglePhaseCircuit, Fit, error) {
	f, err := c.fit(1)
	if err != nil {
		return SinglePhaseCircuit{}, Fit{}, err
	}
	circuit := f.single(&f.best)
	rated, stall := circuit.AtOutput(c.Output, c.Voltage)
	if stall != nil {
		return SinglePhaseCircuit{}, Fit{}, stall
	}
	held := circuit
	held.R2 *= unit.Resistance(f.best[fitHeld])
	report := f.report(rated, held.R2, f.predictSingle(&circuit, &held, rated))
	err = f.verdict(&report)
	return circuit, report, err
}
