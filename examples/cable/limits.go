package main

import (
	"fmt"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
)

func wire(in Input) conductor.Wire {
	metals := map[string]conductor.Metal{"copper": conductor.Copper, "aluminium": conductor.Aluminium}
	strandings := map[string]conductor.Stranding{"solid": conductor.Solid, "stranded": conductor.Stranded, "flexible": conductor.Flexible}
	return conductor.Wire{Metal: metals[in.Metal], Stranding: strandings[in.Stranding]}
}

// temperatureRating is zero where nothing is marked.
func temperatureRating(c float64) conductor.TemperatureRating {
	return map[float64]conductor.TemperatureRating{60: conductor.Rated60C, 75: conductor.Rated75C, 90: conductor.Rated90C}[c]
}

// overheated is the limit of a surge: thermoplastic of the ICEA.
const overheated = conductor.ThermoplasticFault

// limits turns a run into the limits of its conductor. The ampacity of the boat's
// table times stretch is that at the ambient temperature.
func limits(in Input) (l conductor.Limits, stretch float64, err error) {
	l = conductor.Limits{
		Circuit: conductor.TwoWire, OneWay: unit.Length(in.LengthM), Temperature: conductor.Celsius(in.InsulationC),
		Source:         unit.Voltage(in.Volts),
		Running:        conductor.Load{Current: unit.Current(in.CurrentA), PowerFactor: in.PowerFactor},
		AllowedRunning: unit.Voltage(in.Volts * in.AllowedPercent / 100),
		LeastAmpacity:  unit.Current(in.CurrentA * loadFactor(in)),
	}
	if in.System == "three-phase" {
		l.Circuit = conductor.ThreePhase
	}
	if in.System != "dc" {
		l.Reactance = conductor.ReactanceInPVC
	}
	if in.StartA != 0 {
		l.Starting = conductor.Load{Current: unit.Current(in.StartA), PowerFactor: in.StartPowerFactor}
		l.AllowedStarting = unit.Voltage(in.Volts * in.StartAllowedPercent / 100)
		if in.StartS >= 0.1 && in.StartS <= 5 && in.StartA >= 1 {
			l.Surge, l.SurgeTime = unit.Current(in.StartA), unit.Time(in.StartS)
			l.Initial, l.Final = conductor.Celsius(in.InsulationC), overheated
		}
	}
	stretch = 1
	if in.Practice == "boat" {
		l.Basis = conductor.BoatAmpacity
		l.Boat = conductor.BoatCable{EngineSpace: in.EngineSpace, Bundled: in.Conductors}
		base := 30.0
		if in.EngineSpace {
			base = 50
		}
		if in.AmbientC > base {
			stretch, err = conductor.AmbientLaw(conductor.Celsius(in.InsulationC), conductor.Celsius(base), conductor.Celsius(in.AmbientC))
			l.LeastAmpacity /= unit.Current(stretch)
		}
		return l, stretch, err
	}
	l.Basis = conductor.CodeAmpacity
	l.Branch = conductor.Branch{
		Insulation: temperatureRating(in.InsulationC), Terminals: temperatureRating(in.TerminalsC),
		Ambient: conductor.Celsius(in.AmbientC), Conductors: in.Conductors,
	}
	return l, stretch, nil
}

func loadFactor(in Input) float64 {
	if in.Intermittent {
		return 1
	}
	return 1.25
}

// sourceOf says where a limit stands.
func sourceOf(in Input, limit conductor.Limit) string {
	switch {
	case limit == conductor.ShortTimeCurrent:
		return "IEC 60364-5-54, k; ICEA P-32-382 for 150 °C"
	case limit == conductor.LongTermCurrent && in.Practice == "boat":
		return "ABYC E-11, table of 105 °C; ambient above its base by NEC 310.15(B), formula"
	case limit == conductor.LongTermCurrent:
		return "NEC 310.16, 310.15(B) and (C)(1), 110.14(C), 210.19"
	case limit == conductor.StartingDrop && in.System != "dc":
		return "phasor diagram of IEEE Std 141; 65 % left to a motor is common practice"
	case limit == conductor.RunningDrop && in.Practice == "boat":
		return "Ohm's law with IEC 60028, ASTM B258; 3 or 10 % by ABYC E-11"
	case limit == conductor.StartingDrop:
		return "Ohm's law with IEC 60028, ASTM B258; what is allowed at a start is common practice"
	case in.System == "dc":
		return "Ohm's law with IEC 60028, ASTM B258; 3 % by NEC 210.19, informational note"
	default:
		return "phasor diagram of IEEE Std 141; 3 % by NEC 210.19, informational note"
	}
}

// against words one failed limit.
func against(limit conductor.Limit, c conductor.LimitCheck) string {
	switch {
	case !c.Known:
		return fmt.Sprintf("has no figure for its %v", limit)
	case limit == conductor.LongTermCurrent:
		return fmt.Sprintf("carries %s A of %s A asked for", figure(c.Bound), figure(c.Value))
	case limit == conductor.ShortTimeCurrent:
		return fmt.Sprintf("has %s mm² of %s mm² that its start asks for", figure(c.Bound*1e6), figure(c.Value*1e6))
	default:
		return fmt.Sprintf("drops %s V of %s V allowed", figure(c.Value), figure(c.Bound))
	}
}

// figure writes three digits without an exponent.
func figure(x float64) string {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	if err != nil {
		return "?"
	}
	return strconv.FormatFloat(y, 'f', -1, 64)
}

func (r *Run) size(c conductor.Choice, failed Run) {
	r.Result.Size = c.Candidate.Wire.Size.String()
	r.Result.Wire = c.Candidate.Wire.String()
	if failed.Result.Size != "" {
		d := failed.Decisions[slices.IndexFunc(failed.Decisions, func(d Decision) bool { return d.fails })]
		r.Result.GovernedBy, r.Result.NextDown = d.About, failed.Result.Size
		r.decide("size", d.Source, "%v, governed by the %s; with %s: %s", c.Candidate.Wire, d.About, failed.Result.Size, d.Answer)
		return
	}
	r.Result.GovernedBy = c.Governs.String()
	answer := fmt.Sprintf("%v, governed by %v", c.Candidate.Wire, c.Governs)
	if c.HasDown {
		r.Result.NextDown = c.Down.Wire.Size.String()
		r.Result.NextDownUse = significant(c.DownChecks[c.Governs].Use)
		answer += fmt.Sprintf("; %v %s", c.Down.Wire.Size, against(c.Governs, c.DownChecks[c.Governs]))
	}
	r.decide("size", sourceOf(r.Input, c.Governs), "%s", answer)
}

func (r *Run) drop(c conductor.Choice) {
	in := r.Input
	d := c.Checks[conductor.RunningDrop]
	r.Result.DropV, r.Result.DropPercent = significant(d.Value), significant(100*d.Value/in.Volts)
	r.decide("drop running", sourceOf(in, conductor.RunningDrop), "%s V, %s %% of %g V, at %g A with the conductor at %g °C",
		figure(d.Value), figure(100*d.Value/in.Volts), in.Volts, in.CurrentA, in.InsulationC)
	if in.StartA == 0 {
		return
	}
	d = c.Checks[conductor.StartingDrop]
	r.Result.StartDropV, r.Result.StartDropPercent = significant(d.Value), significant(100*d.Value/in.Volts)
	r.decide("drop starting", sourceOf(in, conductor.StartingDrop), "%s V, %s %%, at %g A; allowed %g %%",
		figure(d.Value), figure(100*d.Value/in.Volts), in.StartA, in.StartAllowedPercent)
}
