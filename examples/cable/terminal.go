package main

import (
	"errors"
	"math"
	"strconv"

	"ridethrough.example/conductor"
)

func (r *Run) terminal() error {
	if r.Input.Stud == "" {
		return nil
	}
	stud, errStud := conductor.ParseStud(r.Input.Stud)
	label, errLabel := conductor.ParseStud(r.Input.Terminal)
	if err := errors.Join(errStud, errLabel); err != nil {
		return err
	}
	f, err := stud.FitTerminal(label)
	if err != nil {
		return err
	}
	r.Result.StudFit = f.Verdict.String()
	// A loose lug heats, and one that does not pass is not there.
	r.refused = r.refused || f.Verdict == conductor.Loose || f.Verdict == conductor.DoesNotPass
	r.decide("terminal", "Common practice: holes of terminals as sold; ISO 273 for clearance", "stud %v in a terminal for %v: %v, clearance %s to %s mm; measure the hole",
		stud, label, f.Verdict, signed(float64(f.Clearance.Low)), signed(float64(f.Clearance.High)))
	return nil
}

func signed(m float64) string {
	return strconv.FormatFloat(math.Round(m*1e5)/100, 'f', 2, 64)
}

// bend is for sizes whose diameter a table has.
func (r *Run) bend(c conductor.Choice) {
	if r.Input.Stranding != "flexible" || r.Input.Metal != "copper" {
		return
	}
	cable, err := conductor.FlexibleCableOf(c.Candidate.Wire.Size)
	if err != nil {
		return
	}
	multiple, err := conductor.BendMultiple(conductor.BatteryCable, cable.Outside, 0)
	if err != nil {
		return
	}
	radius, err := conductor.BendRadius(multiple, cable.Outside)
	if err != nil {
		return
	}
	r.Result.LeastBendRadiusMM = math.Round(1000 * float64(radius))
	r.decide("bend", "Common practice for battery cable; diameter of one maker's cable", "radius at the inside at least %.0f mm, %g times %.1f mm",
		1000*float64(radius), multiple, 1000*float64(cable.Outside))
}
