package main

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"

	"ridethrough.example/examples/internal/console"
)

// Answer is all that the program says.
type Answer struct {
	Inputs   Inputs    `json:"inputs"`
	Periods  []Period  `json:"periods"`
	Sections []Section `json:"sections"`
	Random   *Line     `json:"random,omitempty"`
	Result   Result    `json:"result"`
	Sources  []string  `json:"sources"`
	Cautions []string  `json:"cautions"`
}

// Inputs are what holds for the whole worksheet.
type Inputs struct {
	Duty         string  `json:"duty"`
	Chemistry    string  `json:"chemistry"`
	EndVoltageV  float64 `json:"end_voltage_v"`
	TemperatureC float64 `json:"temperature_c"`
	FactorGiven  bool    `json:"temperature_factor_given"`
	EndOfLife    float64 `json:"end_of_life"`
	Convert      string  `json:"power_converted_at"`
	Rates        string  `json:"rating_factors"`
}

// A Period is one line of the duty cycle, in amperes.
type Period struct {
	Number      int     `json:"number"`
	Name        string  `json:"name,omitempty"`
	StartMin    float64 `json:"start_min"`
	DurationMin float64 `json:"duration_min"`
	LoadA       float64 `json:"load_a"`
	ChangeA     float64 `json:"change_a"`
	ConvertedV  float64 `json:"converted_at_v,omitempty"`
}

// A Section is the cycle up to the end of one period.
type Section struct {
	Number     int     `json:"number"`
	LastPeriod int     `json:"last_period"`
	Lines      []Line  `json:"lines"`
	SizeAh     float64 `json:"size_ah"`
	Decides    bool    `json:"decides"`
}

// A Line is one term of a section.
type Line struct {
	Period       int     `json:"period,omitempty"`
	Name         string  `json:"name,omitempty"`
	ChangeA      float64 `json:"change_a"`
	RemainingMin float64 `json:"remaining_min"`
	KTh          float64 `json:"kt_h"`
	SizeAh       float64 `json:"size_ah"`
}

// Result is the foot of the worksheet.
type Result struct {
	LargestAh         float64 `json:"largest_section_ah"`
	RandomAh          float64 `json:"random_ah"`
	UncorrectedAh     float64 `json:"uncorrected_ah"`
	TemperatureFactor float64 `json:"temperature_factor"`
	DesignMargin      float64 `json:"design_margin"`
	AgingFactor       float64 `json:"aging_factor"`
	RequiredAh        float64 `json:"required_ah"`
	PlainAh           float64 `json:"plain_ah"`
	BasisAh           float64 `json:"basis_ah,omitempty"`
	Units             float64 `json:"units,omitempty"`
	WholeUnits        float64 `json:"whole_units,omitempty"`
	Choice            *Choice `json:"choice,omitempty"`
}

// Choice is the size taken from a list.
type Choice struct {
	Found        bool    `json:"found"`
	Name         string  `json:"name,omitempty"`
	CapacityAh   float64 `json:"capacity_ah,omitempty"`
	SparePercent float64 `json:"spare_percent"`
}

// rounded keeps six digits, so that the last bits of a machine do not show.
func rounded(x float64) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 6, 64), 64)
	if err != nil {
		return x
	}
	return y
}

func ampereHours(c unit.Charge) float64 { return rounded(float64(c / battery.AmpereHour)) }

func minutes(t unit.Time) float64 { return rounded(float64(t / battery.Minute)) }

func newLine(x battery.SectionTerm) Line {
	return Line{
		Period: x.Period + 1, ChangeA: rounded(float64(x.Change)), RemainingMin: minutes(x.Remaining),
		KTh: rounded(float64(x.KT / battery.Hour)), SizeAh: ampereHours(x.Size),
	}
}

// newAnswer puts a worksheet into the units of its report.
func newAnswer(s battery.Sizing, w battery.Worksheet, d duty) Answer {
	a := Answer{
		Inputs: Inputs{
			Duty: d.file, Chemistry: s.Chemistry.String(), EndVoltageV: rounded(float64(s.EndVoltage)), Convert: w.Convert.String(),
		},
		Result: Result{
			LargestAh: ampereHours(w.Largest), RandomAh: ampereHours(w.RandomSize), UncorrectedAh: ampereHours(w.Uncorrected),
			TemperatureFactor: rounded(w.TemperatureFactor), DesignMargin: rounded(w.DesignMargin),
			AgingFactor: rounded(w.AgingFactor), RequiredAh: ampereHours(w.Required), PlainAh: ampereHours(w.Plain),
		},
		Sources: sources(), Cautions: cautions(),
	}
	for i, p := range w.Periods {
		a.Periods = append(a.Periods, Period{
			Number: i + 1, Name: d.names[i], StartMin: minutes(p.Start), DurationMin: minutes(p.Duration),
			LoadA: rounded(float64(p.Load)), ChangeA: rounded(float64(p.Change)), ConvertedV: rounded(float64(p.Voltage)),
		})
	}
	for i, x := range w.Sections {
		section := Section{Number: i + 1, LastPeriod: x.Last + 1, SizeAh: ampereHours(x.Size), Decides: i == w.Deciding}
		for _, term := range x.Terms {
			section.Lines = append(section.Lines, newLine(term))
		}
		a.Sections = append(a.Sections, section)
	}
	if w.RandomSize != 0 {
		line := newLine(w.Random)
		line.Name = d.random
		a.Random = &line
	}
	return a
}

func sources() []string {
	return []string{
		"Sections, random load, factors: IEEE Std 485, section method. Loads below 1 min count as 1 min.",
		"Temperature: IEEE Std 485, Table 1 (flooded); a maker's note (AGM, gel); nothing credited for warmth.",
		"Rating factors: the table given, or Peukert's law of 1897 in the rated-hour form, with common-practice exponents.",
	}
}

// cautions are part of every answer.
func cautions() []string {
	return []string{
		"A battery cannot be switched off: a bolted fault of a small bank is thousands of amperes. Put a fuse that can interrupt it at the battery, cover the terminals, take off rings.",
		"Lead-acid gives off hydrogen while it charges: ventilate, and keep sparks away. The acid burns skin and eyes.",
		"The acid of a flat battery freezes near -7 °C. Lithium iron phosphate must not be charged below 0 °C.",
		"Above 60 V dc the voltage itself is a shock hazard.",
		"The size holds for a battery that is full at the start. Peukert's law knows no end voltage: where short heavy loads decide, take the maker's table.",
		"Local code and licensed practice decide. Have the plan checked by a licensed electrician.",
	}
}

// number writes a figure with as few digits as it has.
func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// clock writes minutes as hours and minutes, and seconds where there are any.
func clock(minutes float64) string {
	s := int64(minutes*60 + 0.5)
	text := fmt.Sprintf("%d:%02d", s/3600, s/60%60)
	if s%60 != 0 {
		text += fmt.Sprintf(":%02d", s%60)
	}
	return text
}

func (a Answer) text() []byte {
	var b bytes.Buffer
	r := a.Result
	fmt.Fprintf(&b, "Required capacity when new: %.1f Ah\n", r.RequiredAh)
	if r.WholeUnits != 0 {
		fmt.Fprintf(&b, "That is %.2f, rounded up %.0f, of %s Ah each.\n", r.Units, r.WholeUnits, number(r.BasisAh))
	}
	switch c := r.Choice; {
	case c == nil:
	case c.Found:
		fmt.Fprintf(&b, "Smallest size of the list that is large enough: %s Ah%s, %.1f %% to spare\n", number(c.CapacityAh), named(c.Name), c.SparePercent)
	default:
		b.WriteString("NO SIZE of the list is large enough.\n")
	}
	fmt.Fprintf(&b, "\nGiven\n  duty cycle      %s\n  cell            %s, to %s V\n  rating factors  %s\n  powers          converted at the %s of their period\n",
		console.Printable(a.Inputs.Duty, ' '), a.Inputs.Chemistry, number(a.Inputs.EndVoltageV), a.Inputs.Rates, a.Inputs.Convert)

	fmt.Fprintf(&b, "\nDuty cycle\n  %3s  %9s %9s %10s %10s %8s  %s\n", "", "start", "lasts", "load A", "change A", "at V", "name")
	for _, p := range a.Periods {
		volts := "-"
		if p.ConvertedV != 0 {
			volts = number(p.ConvertedV)
		}
		fmt.Fprintf(&b, "  %3d  %9s %9s %10.2f %+10.2f %8s  %s\n",
			p.Number, clock(p.StartMin), clock(p.DurationMin), p.LoadA, p.ChangeA, volts, console.Printable(p.Name, ' '))
	}
	for _, s := range a.Sections {
		mark := ""
		if s.Decides {
			mark = ", which decides"
		}
		fmt.Fprintf(&b, "\nSection %d, to the end of period %d%s\n", s.Number, s.LastPeriod, mark)
		lineHead(&b)
		for _, x := range s.Lines {
			line(&b, strconv.Itoa(x.Period), x)
		}
		fmt.Fprintf(&b, "  %6s %10s %9s %9s %10.2f\n", "sum", "", "", "", s.SizeAh)
	}
	if a.Random != nil {
		fmt.Fprintf(&b, "\nRandom load%s\n", named(a.Random.Name))
		lineHead(&b)
		line(&b, "random", *a.Random)
	}
	b.WriteString("\nSize\n")
	foot := func(name, value string) { fmt.Fprintf(&b, "  %-22s %10s\n", name, value) }
	foot("largest section", fmt.Sprintf("%.2f Ah", r.LargestAh))
	foot("random load", fmt.Sprintf("%.2f Ah", r.RandomAh))
	foot("uncorrected", fmt.Sprintf("%.2f Ah", r.UncorrectedAh))
	why := "temperature, " + number(a.Inputs.TemperatureC) + " °C"
	if a.Inputs.FactorGiven {
		why = "temperature, given"
	}
	foot(why, fmt.Sprintf("x %.3f", r.TemperatureFactor))
	foot("design margin", fmt.Sprintf("x %.3f", r.DesignMargin))
	foot("aging, to "+number(100*a.Inputs.EndOfLife)+" %", fmt.Sprintf("x %.3f", r.AgingFactor))
	foot("required", fmt.Sprintf("%.2f Ah", r.RequiredAh))
	fmt.Fprintf(&b, "\nThe plain ampere-hours of the cycle are %.1f Ah; the section method asks for %.2f times as much.\n", r.PlainAh, r.RequiredAh/r.PlainAh)
	list(&b, "Sources", a.Sources)
	list(&b, "Cautions", a.Cautions)
	return b.Bytes()
}

func named(name string) string {
	if name == "" {
		return ""
	}
	return " (" + console.Printable(name, ' ') + ")"
}

func lineHead(b *bytes.Buffer) {
	fmt.Fprintf(b, "  %6s %10s %9s %9s %10s\n", "period", "change A", "T", "K_T h", "Ah")
}

func line(b *bytes.Buffer, name string, x Line) {
	fmt.Fprintf(b, "  %6s %+10.2f %9s %9.4f %+10.2f\n", name, x.ChangeA, clock(x.RemainingMin), x.KTh, x.SizeAh)
}

func list(b *bytes.Buffer, title string, lines []string) {
	b.WriteString("\n" + title + "\n")
	for _, x := range lines {
		b.WriteString("  - " + strings.TrimSpace(x) + "\n")
	}
}
