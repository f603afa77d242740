package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"ridethrough.example/conductor"
)

// A Decision is one line of the answer with what stands behind it.
type Decision struct {
	About  string `json:"about"`
	Answer string `json:"answer"`
	Source string `json:"source"`

	fails bool // the size gives way
}

// Result holds the figures of a run, zero where they were not asked for.
type Result struct {
	Size              string  `json:"size,omitempty"`
	Wire              string  `json:"wire,omitempty"`
	GovernedBy        string  `json:"governed_by,omitempty"`
	NextDown          string  `json:"next_size_down,omitempty"`
	NextDownUse       float64 `json:"next_size_down_use,omitempty"`
	AmpacityA         float64 `json:"ampacity_a,omitempty"`
	LeastAmpacityA    float64 `json:"least_ampacity_a"`
	DropV             float64 `json:"drop_v,omitempty"`
	DropPercent       float64 `json:"drop_percent,omitempty"`
	StartDropV        float64 `json:"start_drop_v,omitempty"`
	StartDropPercent  float64 `json:"start_drop_percent,omitempty"`
	LossW             float64 `json:"loss_w,omitempty"`
	ConductorC        float64 `json:"conductor_c,omitempty"`
	AfterStartC       float64 `json:"after_start_c,omitempty"`
	FuseA             float64 `json:"fuse_a,omitempty"`
	FuseLeastA        float64 `json:"fuse_least_a,omitempty"`
	FuseMostA         float64 `json:"fuse_most_a,omitempty"`
	Surge             string  `json:"surge,omitempty"`
	FaultLowA         float64 `json:"short_circuit_low_a,omitempty"`
	FaultHighA        float64 `json:"short_circuit_high_a,omitempty"`
	FarthestDeviceMM  float64 `json:"farthest_device_mm,omitempty"`
	StudFit           string  `json:"stud_fit,omitempty"`
	LeastBendRadiusMM float64 `json:"least_bend_radius_mm,omitempty"`
}

// Run is a run with its decisions.
type Run struct {
	Input     Input      `json:"input"`
	Passes    bool       `json:"passes"`
	Result    Result     `json:"result"`
	Decisions []Decision `json:"decisions"`

	refused bool // something that no other size would mend
}

func (r *Run) decide(about, source, format string, args ...any) {
	r.Decisions = append(r.Decisions, Decision{About: about, Answer: fmt.Sprintf(format, args...), Source: source})
}

// fail is decide for what rules the size out.
func (r *Run) fail(about, source, format string, args ...any) {
	r.decide(about, source, format, args...)
	r.Decisions[len(r.Decisions)-1].fails = true
	r.Passes = false
}

// decide chooses the conductor of a run, and from it the rest. A size whose fuse
// or start does not go gives way to the next one.
func decide(in Input) (Run, error) {
	l, stretch, err := limits(in)
	if errors.Is(err, conductor.ErrNoAmpacity) {
		return noAmpacity(in), nil
	}
	if err != nil {
		return Run{}, err
	}
	sizes := sizesOf(in)
	var failed Run // the size before, where the fuse or the start ruled it out
	for {
		r := Run{Input: in, Result: Result{LeastAmpacityA: significant(float64(l.LeastAmpacity) * stretch)}}
		choice, err := l.ChooseSize(wire(in), sizes)
		var none *conductor.NoConductorError
		switch {
		case errors.Is(err, conductor.ErrNoAmpacity):
			return noAmpacity(in), nil
		case errors.As(err, &none):
			r.decide("size", sourceOf(in, none.Fails), "none of %v to %v passes: the last, %v, %s", sizes[0], sizes[len(sizes)-1],
				none.Last.Wire, against(none.Fails, none.Checks[none.Fails]))
			r.decide("what to do", "Common practice", "shorten the run, lay conductors in parallel, or raise the voltage")
			return r, nil
		case err != nil:
			return Run{}, err
		}
		if err := r.all(choice, stretch, failed); err != nil {
			return Run{}, err
		}
		last := slices.Index(sizes, choice.Candidate.Wire.Size)
		if r.Passes || last == len(sizes)-1 {
			r.Passes = r.Passes && !r.refused
			return r, nil
		}
		failed, sizes = r, sizes[last+1:]
	}
}

// sizesOf lists what is sold: building wire, or boat cable.
func sizesOf(in Input) []conductor.Size {
	if in.Practice != "boat" {
		return conductor.BuildingSizes()
	}
	return slices.DeleteFunc(conductor.AWGSizes(), func(s conductor.Size) bool {
		_, err := conductor.BoatCable{Size: s, Bundled: 1}.Ampacity()
		return err != nil
	})
}

// all works out everything that follows from a size.
func (r *Run) all(choice conductor.Choice, stretch float64, failed Run) error {
	r.Passes = true
	r.size(choice, failed)
	r.drop(choice)
	ampacity := choice.Checks[conductor.LongTermCurrent].Bound * stretch
	r.Result.AmpacityA = significant(ampacity)
	if err := errors.Join(r.heat(choice, ampacity), r.fuse(choice, ampacity), r.shortCircuit(choice), r.place(), r.terminal()); err != nil {
		return err
	}
	r.bend(choice)
	return nil
}

func noAmpacity(in Input) Run {
	r := Run{Input: in}
	r.decide("size", sourceOf(in, conductor.LongTermCurrent), "none passes: an ambient of %g °C leaves insulation of %g °C no ampacity", in.AmbientC, in.InsulationC)
	return r
}

// significant keeps four digits, so that last bits do not show.
func significant(x float64) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	if err != nil {
		return 0
	}
	return y
}
