package main

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/inverter"
)

// sag is the resistance of battery and cable from two loads.
func (a *Answer) sag() error {
	in := a.Input
	if in.LightDCV == 0 {
		return nil
	}
	light, errLight := a.dcReadings("light_dc_v", in.LightDCV, "light_dc_a", in.LightDCA)
	heavy, errHeavy := a.dcReadings("dc_v", in.DCV, "dc_a", in.DCA)
	if err := errors.Join(errLight, errHeavy); err != nil {
		return err
	}
	const source = "R = ΔV/ΔI"
	s, err := light.Sag(heavy)
	switch {
	case errors.Is(err, inverter.ErrTooClose):
		a.fail("source", source, "the two currents, %s A and %s A, do not differ by more than the meter's accuracy: load it more", figure(in.LightDCA), figure(in.DCA))
	case errors.Is(err, inverter.ErrContradiction):
		a.fail("source", source, "the voltage rises with the load: the readings are swapped, or the battery was being charged")
	case err != nil:
		return err
	default:
		a.Result.SourceMohm, a.Result.OpenCircuitV = span(s.Resistance, 1000), span(s.OpenCircuit, 1)
		a.find("source", source, "%s mΩ of battery, cable and contacts behind %s V", a.Result.SourceMohm, a.Result.OpenCircuitV)
	}
	return nil
}

// wave is what a meter and a motor see of a stepped wave.
func (a *Answer) wave() error {
	in := a.Input
	if in.Wave != "stepped" || in.PeakV == 0 {
		return nil
	}
	peak, v := unit.Voltage(in.PeakV), unit.Voltage(in.V)
	if in.Meter == "averaging" {
		// The reading is 1.1107·V·D; a square wave has the most.
		square, err := inverter.WithDuty(peak, 1)
		if err != nil {
			return err
		}
		most, err := square.Figures()
		if err != nil {
			return err
		}
		if v > most.Average {
			a.fail("wave", "1.1107·V·D, D at most 1", "%s V is more than an averaging meter shows of any wave with a peak of %s V", figure(in.V), figure(in.PeakV))
			return nil
		}
		w, err := inverter.WithDuty(peak, float64(v/most.Average))
		if err != nil {
			return err
		}
		f, err := w.Figures()
		if err != nil {
			return err
		}
		v = f.RMS
	}
	if v > peak*1.02 {
		a.fail("wave", "V·√D, D at most 1", "%s V rms is more than the peak of %s V", figure(in.V), figure(in.PeakV))
		return nil
	}
	h, err := inverter.HoldRMS(peak, min(v, peak))
	if err != nil {
		return err
	}
	f := h.Figures
	a.Result.TrueV, a.Result.AveragingV = significant(float64(f.RMS)), significant(float64(f.Average))
	a.Result.FundamentalV, a.Result.THDPercent = significant(float64(f.Fundamental)), significant(100*f.THD)
	a.Result.TorquePercent = significant(100 * h.Torque)
	a.find("wave", "Fourier series of the three-level wave",
		"%s V true rms, of which %s V turn a motor, with %s %% of the torque of a sine of that rms; distortion %s %%; an averaging meter shows %s V",
		figure(float64(f.RMS)), figure(float64(f.Fundamental)), figure(100*h.Torque), figure(100*f.THD), figure(float64(f.Average)))
	return nil
}

// start asks whether the meter can have seen a start.
func (a *Answer) start() error {
	in := a.Input
	high, running, symbol := in.StartA, in.A, "A"
	if high == 0 || in.blind() {
		high, running, symbol = in.StartW, in.W, "W"
	}
	if high == 0 {
		return nil
	}
	ratio, seen, err := inverter.StartRatio(high, running)
	if err != nil {
		return err
	}
	a.Result.StartRatio = significant(ratio)
	const source = "Common practice: a motor that starts on the line takes 3 to 8 times its running current"
	if !seen {
		a.fail("start", source, "%s %s is only %s times the running %s %s: the meter was too slow; look for locked-rotor amperes on the plate, or use an inrush clamp",
			figure(high), symbol, figure(ratio), figure(running), symbol)
		return nil
	}
	a.find("start", source, "%s %s is %s times the running %s %s", figure(high), symbol, figure(ratio), figure(running), symbol)
	return nil
}

// metered is energy over time.
func (a *Answer) metered() error {
	in := a.Input
	if in.KWh == 0 {
		return nil
	}
	p, err := inverter.MeanPower(unit.Energy(in.KWh)*inverter.KilowattHour, unit.Time(in.Hours)*inverter.Hour)
	if err != nil {
		return err
	}
	a.Result.MeanW = significant(float64(p))
	a.Result.DayKWh = significant(float64(p) * 24 / 1000)
	a.find("energy", "E/t, as counted", "%s W on average, %s kWh a day", figure(float64(p)), figure(a.Result.DayKWh))
	if in.W == 0 {
		return nil
	}
	mean, running, err := a.meanAndRunning()
	if err != nil {
		return err
	}
	a.Result.DutyPercent = significant(100 * float64(p) / in.W)
	if mean.Low > running.High {
		a.fail("duty", "mean over running power", "the mean is above the %s W read while running: something else ran, such as a defrost heater", figure(in.W))
		return nil
	}
	a.Result.DutyPercent = min(100, a.Result.DutyPercent)
	a.find("duty", "mean over running power", "%s %% of the time", figure(a.Result.DutyPercent))
	return nil
}

// meanAndRunning are the mean power and that while running, each with its spread.
func (a *Answer) meanAndRunning() (mean, running inverter.Range[unit.Power], err error) {
	in := a.Input
	e, errE := spread[unit.Energy](in, "kwh", in.KWh, in.AccuracyPercent)
	running, errW := spread[unit.Power](in, "w", in.W, in.AccuracyPercent)
	watts := func(kwh unit.Energy) unit.Power { return unit.Power(1000 * float64(kwh) / in.Hours) }
	return inverter.Range[unit.Power]{Low: watts(e.Low), High: watts(e.High)}, running, errors.Join(errE, errW)
}

// label is the plate beside the source and the readings.
func (a *Answer) label() error {
	in := a.Input
	if in.LabelV == 0 {
		return nil
	}
	if in.LabelA != 0 {
		a.Result.LabelVA = significant(in.LabelV * in.LabelA)
		a.find("label", "V·I on the label", "%s VA by the label: a ceiling, not what runs, and no watts", figure(a.Result.LabelVA))
	}
	if in.V == 0 {
		return nil
	}
	v := in.V
	if in.blind() {
		if v = a.Result.TrueV; v == 0 {
			return nil // no wave has that mean
		}
	}
	var mismatch *inverter.MismatchError
	err := inverter.MatchVoltage(unit.Voltage(v), unit.Voltage(in.LabelV))
	if errors.As(err, &mismatch) {
		a.fail("label", "torque as the square of voltage", "%s V on a label of %s V leaves %s times the torque: the load is not wired for this source",
			figure(v), figure(in.LabelV), figure(mismatch.Torque))
		return nil
	}
	if err != nil || in.LabelA == 0 || in.A == 0 || in.blind() {
		return err
	}
	read, err := spread[unit.Current](in, "a", in.A, in.AccuracyPercent)
	if err == nil && float64(read.Low) > in.LabelA {
		a.fail("label", "amperes read over those of the label", "%s A read are more than the %s A of the label: it is overloaded, unless its service factor allows that or the label is of something else",
			figure(in.A), figure(in.LabelA))
	}
	return err
}

// runTime is usable energy over what is taken, as well as that is known.
func (a *Answer) runTime(out, dc powers) error {
	in := a.Input
	if in.UsableWh == 0 {
		return nil
	}
	p, source := dc, "usable energy over dc power; long light loads only"
	if p == nil {
		p, source = out, "usable energy over ac power: the inverter's losses are left out"
		if p != nil && in.supposes() {
			source = "usable energy over ac power by a supposed power factor, a guess: the inverter's losses are left out"
		}
	}
	if p == nil && a.Result.MeanW != 0 {
		mean := inverter.Exactly(unit.Power(a.Result.MeanW))
		p, source = &mean, "usable energy over mean power: the inverter's losses are left out"
	}
	if p == nil {
		return errors.New("usable_wh needs watts: w, dc_a, kwh or a")
	}
	e := unit.Energy(in.UsableWh) * inverter.WattHour
	const watt = 1 // below which the shortcut is refused
	shortest, errHigh := inverter.ShortcutRunTime(e, max(watt, p.High))
	if p.Low < watt {
		if errHigh == nil {
			a.find("run time", source, "%s h or more: so few watts are within what the meters can be off", figure(float64(shortest/inverter.Hour)))
		}
		return errHigh
	}
	longest, errLow := inverter.ShortcutRunTime(e, p.Low)
	if err := errors.Join(errLow, errHigh); err != nil {
		return err
	}
	a.Result.RunTimeH = span(inverter.Range[unit.Time]{Low: shortest, High: longest}, 1/float64(inverter.Hour))
	a.find("run time", source, "%s h", a.Result.RunTimeH)
	return nil
}
