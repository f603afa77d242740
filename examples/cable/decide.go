package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/unit"

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

// significant keeps four digits, so that last bits do not show.
func significant(x float64) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	if err != nil {
		return 0
	}
	return y
}
