package main

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
)

// heat is what the run loses, and how warm the conductor gets.
func (r *Run) heat(c conductor.Choice, ampacity float64) error {
	in, w := r.Input, c.Candidate.Wire
	per, err := w.Resistance(conductor.Celsius(in.InsulationC))
	if err != nil {
		return err
	}
	wires := 2.0
	if in.System == "three-phase" {
		wires = 3
	}
	loss := wires * in.CurrentA * in.CurrentA * float64(per) * in.LengthM
	r.Result.LossW = significant(loss)
	rated := conductor.RatedCurrent{
		Current: unit.Current(ampacity), Conductor: conductor.Celsius(in.InsulationC), Ambient: conductor.Celsius(in.AmbientC),
	}
	warm, err := rated.Temperature(unit.Current(in.CurrentA), conductor.Celsius(in.AmbientC))
	if err != nil {
		return err
	}
	r.Result.ConductorC = significant(conductor.InCelsius(warm))
	r.decide("heat", "heat balance of NEC 310.15(B) and IEC 60364-5-52", "%s W along the run, conductor at most %.0f °C of %g °C",
		figure(loss), conductor.InCelsius(warm), in.InsulationC)
	if in.StartA == 0 {
		return nil
	}
	model, err := rated.Model(w)
	if err != nil {
		return err
	}
	hot, err := model.After(warm, unit.Current(in.StartA), unit.Time(in.StartS))
	if errors.Is(err, conductor.ErrTooHot) {
		r.fail("heat after a start", "heat balance of first order", "the conductor melts within %g s at %g A", in.StartS, in.StartA)
		return nil
	}
	if err != nil {
		return err
	}
	r.Result.AfterStartC = significant(conductor.InCelsius(hot))
	say, verdict := r.decide, "within the insulation's rating"
	switch {
	case hot > overheated:
		say, verdict = r.fail, "above 150 °C"
	case hot > conductor.Celsius(in.InsulationC):
		verdict = "above the insulation's rating for a while, below 150 °C"
	}
	say("heat after a start", "heat balance of first order, IEC 60287-1-1; 150 °C by ICEA P-32-382",
		"%.0f °C after %g s at %g A from the running temperature, %s", conductor.InCelsius(hot), in.StartS, in.StartA, verdict)
	return nil
}
