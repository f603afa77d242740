package main

import "fmt"

func (a *Answer) near(mistake, gives, instead string, args ...any) {
	a.Mistakes = append(a.Mistakes, Mistake{mistake, gives, fmt.Sprintf(instead, args...)})
}

// mistakes lists what is often made of such readings, where it makes a
// difference here.
func (a *Answer) mistakes(dc powers) {
	in, r := a.Input, a.Result
	guess, impossible := "", false
	if in.supposes() {
		impossible = r.DCW != nil && r.Efficiency == nil
		if !impossible {
			guess = " by the supposed power factor"
		}
	}
	switch {
	case r.ApparentVA == nil || r.RealW.holds(in.V*in.A):
	case impossible:
		a.near("volts times amperes called watts", figure(in.V*in.A)+" W", "less than the %s W from the battery", r.DCW)
	default:
		a.near("volts times amperes called watts", figure(in.V*in.A)+" W", "%s W%s", r.RealW, guess)
	}
	if r.ApparentVA != nil && r.DCW != nil && !r.Efficiency.holds(in.V*in.A/(in.DCV*in.DCA)) {
		a.near("volt-amperes out over dc watts in called efficiency", figure(in.V*in.A/(in.DCV*in.DCA)), "times the power factor: %s%s", orUnknown(r.Efficiency), guess)
	}
	if in.A != 0 && in.DCA != 0 && !in.blind() {
		a.near("ac amperes counted at the battery", figure(in.A)+" A", "%s A dc at %s V, %s times as many", figure(in.DCA), figure(in.DCV), figure(in.DCA/in.A))
	}
	if in.LabelA != 0 && in.A != 0 && in.A < in.LabelA && !in.blind() {
		a.near("amperes of the label taken for running amperes", figure(in.LabelA)+" A", "%s A read, %s of the label", figure(in.A), figure(in.A/in.LabelA))
	}
	if in.LabelA != 0 && in.DCA != 0 {
		a.near("the label's volt-amperes over battery volts", figure(r.LabelVA/in.DCV)+" A dc", "%s A dc read", figure(in.DCA))
	}
	if r.StartRatio != 0 && in.StartA == 0 && in.StartW != 0 {
		a.near("the greatest watts on the display taken for the surge", figure(in.StartW)+" W", "an inverter's surge is in volt-amperes, and the display averages over a start")
	}
	if mean, running, err := a.meanAndRunning(); err == nil && r.MeanW != 0 && in.W != 0 && mean.High < running.Low {
		a.near("running watts taken for all hours", figure(in.W*24/1000)+" kWh a day", "%s kWh a day", figure(r.DayKWh))
	}
	if r.RunTimeH != nil && dc != nil && in.W != 0 && !r.RunTimeH.holds(in.UsableWh/in.W) {
		a.near("usable watt-hours over ac watts", figure(in.UsableWh/in.W)+" h", "%s h with the inverter's losses", r.RunTimeH)
	}
	if r.TrueV != 0 {
		if in.Meter == "averaging" {
			a.near("an averaging meter's volts on a stepped wave taken as they are", figure(in.V)+" V", "%s V true rms", figure(r.TrueV))
		}
		a.near("rms volts of a stepped wave taken for what turns the motor", figure(r.TrueV)+" V", "%s V", figure(r.FundamentalV))
	}
}

func orUnknown(s *Span) string {
	if s == nil {
		return "not known"
	}
	return s.String()
}
