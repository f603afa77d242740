package main

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
)

var devices = map[string]conductor.DeviceKind{
	"any": conductor.AnyDevice, "time-delay-fuse": conductor.TimeDelayFuse, "strip-fuse": conductor.StripFuse,
	"breaker": conductor.ThermalMagneticBreaker,
}

// fuse looks for a rating not above the ampacity, and takes the wider limit of
// the practice where there is none.
func (r *Run) fuse(c conductor.Choice, ampacity float64) error {
	in := r.Input
	p := conductor.Protection{
		Running: unit.Current(in.CurrentA), Intermittent: in.Intermittent, Surge: unit.Current(in.StartA), SurgeTime: unit.Time(in.StartS),
		Ampacity: unit.Current(ampacity), Ratings: conductor.StandardFuses, Withstand: devices[in.Device].Withstand(),
	}
	if in.Device == "breaker" {
		p.Ratings = conductor.StandardBreakers
	}
	source, wide := "NEC 240.4, 240.6(A), 210.20(A); IEC 60364-4-43", conductor.NextStandardUp
	if in.Practice == "boat" {
		source, wide = "ABYC E-11, 11.10.1.1; ratings of NEC 240.6(A)", conductor.BoatLimit
	} else if small, limited, err := conductor.SmallConductorLimit(c.Candidate.Wire.Size, c.Candidate.Wire.Metal); err == nil && limited {
		p.Ampacity = min(p.Ampacity, small)
		wide = conductor.NotAboveAmpacity
		source += "; small conductors NEC 240.4(D)"
	}
	d, err := p.Device()
	if errors.Is(err, conductor.ErrNoRating) {
		p.Limit = wide
		d, err = p.Device()
	}
	var no *conductor.NoRatingError
	if errors.As(err, &no) {
		r.fail("fuse", source, "no standard rating carries the load (%s A) and protects the conductor (%s A)",
			figure(float64(no.Least)), figure(float64(no.Most)))
		return nil
	}
	if err != nil {
		return err
	}
	r.Result.FuseA, r.Result.FuseLeastA, r.Result.FuseMostA = float64(d.Rating), float64(d.Smallest), float64(d.Largest)
	r.decide("fuse", source, "%.0f A; standard ratings from %.0f A (load) to %.0f A (conductor, %v) would do",
		float64(d.Rating), float64(d.Smallest), float64(d.Largest), p.Limit)
	if d.Surge == conductor.NoSurge {
		return nil
	}
	r.Result.Surge = d.Surge.String()
	how := "a device of which nothing is known holds for sure from"
	if in.Device != "any" {
		how = "a " + devices[in.Device].String() + " holds as a rule from"
	}
	r.decide("fuse at the start", "Common practice: outlines of UL 248, ISO 8820-5 and breaker curves",
		"%g A for %g s: %v; %s %.0f A; read the time-current curve of the device", in.StartA, in.StartS, d.Surge, how, math.Ceil(float64(d.ForSurge)))
	return nil
}

var batteryFuses = [...]struct {
	name string
	kind conductor.BatteryFuse
}{
	{"class T", conductor.ClassT},
	{"terminal block", conductor.TerminalFuse},
	{"bolt-down strip", conductor.StripFuseLink},
	{"bolt-in 51 mm", conductor.LargeBoltInFuse},
	{"bolt-in 30 mm", conductor.SmallBoltInFuse},
	{"blade", conductor.BladeFuse},
}

// shortCircuit is what the battery drives into a bolted fault at its terminals,
// where the fuse has to interrupt, and at the far end, where it has to notice.
func (r *Run) shortCircuit(c conductor.Choice) error {
	in := r.Input
	if in.SourceLowMohm == 0 {
		return nil
	}
	cold, err := loop(in, c, 20)
	if err != nil {
		return err
	}
	hot, err := loop(in, c, in.InsulationC)
	if err != nil {
		return err
	}
	fault := conductor.DCFault{
		OpenCircuit: conductor.Range[unit.Voltage]{Low: unit.Voltage(in.Volts), High: unit.Voltage(1.2 * in.Volts)},
		Source: conductor.Range[unit.Resistance]{
			Low: unit.Resistance(in.SourceLowMohm / 1000), High: unit.Resistance(in.SourceHighMohm / 1000),
		},
	}
	near, err := fault.Current()
	if err != nil {
		return err
	}
	fault.Line = conductor.Range[unit.Resistance]{Low: cold, High: hot}
	far, err := fault.Current()
	if err != nil {
		return err
	}
	r.Result.FaultLowA, r.Result.FaultHighA = significant(float64(far.Low)), significant(float64(near.High))
	r.decide("short circuit", "Ohm's law; up to 1.2 times the voltage while charging, and 3 times the least resistance where the highest is not stated, are common practice",
		"up to %s A at the battery, %s A to %s A at the far end", figure(float64(near.High)), figure(float64(far.Low)), figure(float64(far.High)))
	if near.High < 1 {
		return nil
	}
	holds := ""
	for _, f := range batteryFuses {
		marks, err := conductor.TypicalInterrupting(f.kind)
		if err != nil {
			return err
		}
		check, err := conductor.CheckInterrupting(marks, unit.Voltage(1.2*in.Volts), min(near.High, 1e6))
		if err != nil {
			return err
		}
		if check.Holds {
			if holds != "" {
				holds += ", "
			}
			holds += f.name
		}
	}
	if holds == "" {
		holds = "none of the usual kinds"
		r.refused = true
	}
	r.decide("interrupting capacity", "NEC 110.9; trade data; an ac mark is no dc mark",
		"marked for at least %s A dc at %s V or more; as usually marked: %s", figure(float64(near.High)), figure(1.2*in.Volts), holds)
	return nil
}

func loop(in Input, c conductor.Choice, celsius float64) (unit.Resistance, error) {
	return conductor.Segment{
		Wire: c.Candidate.Wire, OneWay: unit.Length(in.LengthM), Temperature: conductor.Celsius(celsius),
	}.LoopResistance()
}

// place is how near the battery the fuse has to be.
func (r *Run) place() error {
	if r.Input.System != "dc" {
		return nil
	}
	p := conductor.Uncovered
	if r.Input.Sheathed {
		p = conductor.SheathedAtBattery
	}
	far, err := conductor.FarthestDevice(p)
	if err != nil {
		return err
	}
	r.Result.FarthestDeviceMM = math.Round(1000 * float64(far))
	r.decide("place of the fuse", "Common practice: ABYC E-11, 11.10.1", "in the positive conductor, at most %.0f mm (%.0f in) of cable from the battery's terminal",
		1000*float64(far), float64(far/conductor.Inch))
	return nil
}
