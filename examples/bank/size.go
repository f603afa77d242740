package main

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
)

// A config is what the flags say.
type config struct {
	chemistry         string
	temperatureC      float64
	temperatureFactor float64
	endV              float64
	busLowV, busHighV float64
	convert           string
	margin            float64
	endOfLife         float64
	hours             float64
	exponent          float64
	basisAh           float64
}

func addFlags(f *flag.FlagSet) *config {
	c := new(config)
	f.StringVar(&c.chemistry, "chemistry", "flooded", "flooded, AGM, gel or lithium iron phosphate")
	f.Float64Var(&c.temperatureC, "temperature-c", 15, "lowest electrolyte temperature `°C`")
	f.Float64Var(&c.temperatureFactor, "temperature-factor", 0, "the maker's `factor` on the size (by default from the temperature); 1 if the rates hold in the cold")
	f.Float64Var(&c.endV, "end-v", 0, "end voltage of a cell `V` (by default 1.75, lithium iron phosphate 2.5)")
	f.Float64Var(&c.busLowV, "bus-low-v", 0, "lowest battery voltage `V`, for lines with power_w and no voltage")
	f.Float64Var(&c.busHighV, "bus-high-v", 0, "highest battery voltage `V` (by default the lowest)")
	f.StringVar(&c.convert, "convert", "lowest", "power becomes current at the lowest or the average voltage")
	f.Float64Var(&c.margin, "design-margin", 1.10, "`factor` for what is added later")
	f.Float64Var(&c.endOfLife, "end-of-life", 0.80, "`share` of the capacity left when the battery is replaced")
	f.Float64Var(&c.hours, "rated-h", 20, "hour rate `h` of the capacity, for Peukert's law")
	f.Float64Var(&c.exponent, "exponent", 0, "Peukert `exponent` (by default the high end of the type)")
	f.Float64Var(&c.basisAh, "basis-ah", 0, "capacity `Ah` of the cell or positive plate that -rates is about")
	return c
}

// size works out the worksheet.
func size(c *config, in files) (Answer, error) {
	chemistry, err := battery.ParseChemistry(c.chemistry)
	if err != nil {
		return Answer{}, err
	}
	aging, err := battery.AgingFactor(c.endOfLife)
	if err != nil {
		return Answer{}, err
	}
	s := battery.Sizing{
		Cycle: in.duty.cycle, EndVoltage: unit.Voltage(c.endV), Chemistry: chemistry,
		Temperature: battery.Celsius(c.temperatureC), TemperatureFactor: c.temperatureFactor,
		DesignMargin: c.margin, AgingFactor: aging,
	}
	if s.EndVoltage == 0 {
		s.EndVoltage = 1.75
		if !chemistry.LeadAcid() {
			s.EndVoltage = 2.5
		}
	}
	s.Cycle.Voltage = battery.Range[unit.Voltage]{Low: unit.Voltage(c.busLowV), High: unit.Voltage(c.busHighV)}
	if c.busHighV == 0 {
		s.Cycle.Voltage.High = s.Cycle.Voltage.Low
	}
	switch c.convert {
	case "lowest":
	case "average":
		s.Cycle.Convert = battery.AverageVoltage
	default:
		return Answer{}, fmt.Errorf("-convert %s, want lowest or average", quote(c.convert))
	}
	var note string
	if s.Rate, note, err = rateOf(c, chemistry, in.rates); err != nil {
		return Answer{}, err
	}
	w, err := s.Worksheet()
	if err != nil {
		return Answer{}, in.duty.locate(err)
	}
	a := newAnswer(s, w, in.duty)
	a.Inputs.Rates = note
	a.Inputs.TemperatureC = rounded(c.temperatureC)
	a.Inputs.EndOfLife = rounded(c.endOfLife)
	a.Inputs.FactorGiven = c.temperatureFactor != 0
	if c.basisAh != 0 {
		n, err := w.Plates(unit.Charge(c.basisAh) * battery.AmpereHour)
		if err != nil {
			return Answer{}, err
		}
		a.Result.BasisAh, a.Result.Units = rounded(c.basisAh), rounded(n)
		// The last bits of the quotient must not cost a plate.
		a.Result.WholeUnits = math.Ceil(n * (1 - 1e-12))
	}
	if in.sizes != nil {
		a.Result.Choice, err = choose(w.Required, in.sizes)
	}
	return a, err
}

// rateOf returns the source of the rating factors, and what it is.
func rateOf(c *config, chemistry battery.Chemistry, rates []rate) (battery.CellRate, string, error) {
	if rates == nil {
		p := battery.Peukert{
			Rating:   battery.Rating{Capacity: 100 * battery.AmpereHour, Time: unit.Time(c.hours) * battery.Hour},
			Exponent: c.exponent,
		}
		if p.Exponent == 0 {
			typical, err := battery.TypicalExponent(chemistry)
			if err != nil {
				return nil, "", err
			}
			p.Exponent = typical.High
		}
		if _, err := p.Current(p.Rating.Time); err != nil {
			return nil, "", err
		}
		return p, fmt.Sprintf("Peukert's law with exponent %s on the %s h rate; times below 30 min take the factor of 30 min",
			number(p.Exponent), number(c.hours)), nil
	}
	var curves []battery.RateCurve
	var err error
	for _, r := range rates {
		if r.current != 0 {
			if !(c.basisAh > 0) {
				return nil, "", fmt.Errorf("%s: current_a needs -basis-ah, the capacity that it is the current of", r.where)
			}
			r.kt = unit.Time(c.basisAh * float64(battery.AmpereHour) / float64(r.current))
		}
		p := battery.KTPoint{Time: r.time, KT: r.kt}
		i := 0
		for i < len(curves) && curves[i].EndVoltage != r.end {
			i++
		}
		before := beside(p)
		if i == len(curves) {
			curves = append(curves, battery.RateCurve{EndVoltage: r.end})
		} else {
			before = curves[i].Points[len(curves[i].Points)-1]
		}
		curves[i].Points = append(curves[i].Points, p)
		// Each line is looked at with the one before, so that a fault names it.
		if _, e := battery.NewRateTable(battery.RateCurve{EndVoltage: r.end, Points: []battery.KTPoint{before, p}}); e != nil {
			err = errors.Join(err, fmt.Errorf("%s: %w", r.where, e))
		}
	}
	if err != nil {
		return nil, "", err
	}
	table, err := battery.NewRateTable(curves...)
	if err != nil {
		return nil, "", fmt.Errorf("%s and below: %w", rates[0].where, err)
	}
	return table, "the table of " + strconv.Itoa(len(rates)) + " figures, read along straight lines of the logarithms", nil
}

// beside returns a point just before p, for looking at p alone.
func beside(p battery.KTPoint) battery.KTPoint {
	const near = 1 - 1e-6
	return battery.KTPoint{Time: p.Time * near, KT: p.KT * near}
}

// choose takes the smallest size that is large enough.
func choose(required unit.Charge, sizes []sizeOf) (*Choice, error) {
	var list []unit.Charge
	for _, s := range sizes {
		list = append(list, s.capacity)
	}
	_, i, err := battery.Choose(required, list)
	if errors.Is(err, battery.ErrNoCell) {
		return &Choice{}, nil
	}
	if err != nil {
		return nil, err
	}
	return &Choice{
		Found: true, Name: sizes[i].name, CapacityAh: ampereHours(sizes[i].capacity),
		SparePercent: rounded(100 * (float64(sizes[i].capacity/required) - 1)),
	}, nil
}
