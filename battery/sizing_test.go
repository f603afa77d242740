package battery

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// plateLaw is the constructed plate of sizing_plates.csv.
type plateLaw struct{}

const plate = 100 * AmpereHour

func (plateLaw) KT(t unit.Time, _ unit.Voltage) (unit.Time, error) {
	rt := 130 * math.Pow(1+float64(t/Hour), -0.8)
	return unit.Time(float64(plate) / rt), nil
}

// amperesFor makes periods from pairs of amperes and a duration.
func amperesFor(of unit.Time, pairs ...float64) []DutyPeriod {
	var p []DutyPeriod
	for i := 0; i < len(pairs); i += 2 {
		p = append(p, DutyPeriod{Current: unit.Current(pairs[i]), Duration: unit.Time(pairs[i+1]) * of})
	}
	return p
}

// station is the case of sizing_plates.csv.
func station() Sizing {
	return Sizing{
		Cycle: DutyCycle{
			Periods: amperesFor(Minute, 320, 1, 100, 29, 280, 30, 200, 60, 40, 59, 120, 1),
			Random:  DutyPeriod{Current: 100, Duration: Minute},
		},
		Rate: plateLaw{}, EndVoltage: 1.75, Chemistry: Flooded, Temperature: Celsius(25),
		DesignMargin: 1.10, AgingFactor: 1.25,
	}
}

// cabin is the case of sizing_hours.csv.
func cabin(t testing.TB) Sizing {
	return Sizing{
		Cycle: DutyCycle{Periods: amperesFor(Hour, 24, 2, 8, 2, 16, 1)},
		Rate:  sealedTable(t), EndVoltage: 1.75, Chemistry: Flooded, Temperature: Fahrenheit(40),
		DesignMargin: 1.10, AgingFactor: 1.25,
	}
}

func worksheetTerm(t *testing.T, w Worksheet, section, period int) SectionTerm {
	for _, s := range w.Sections {
		if s.Last != section-1 {
			continue
		}
		for _, x := range s.Terms {
			if x.Period == period-1 {
				return x
			}
		}
	}
	t.Fatalf("no line for section %d, period %d", section, period)
	return SectionTerm{}
}

func TestWorksheetPlates(t *testing.T) {
	w := must[Worksheet](t)(station().Worksheet())
	counted := map[unit.Time]string{}
	for _, row := range reftest.Rows(t, "battery/sizing_plates.csv") {
		x := worksheetTerm(t, w, int(row.Float("section")), int(row.Float("period")))
		assert.InDelta(t, row.Float("change_a"), float64(x.Change), 1e-9, row.Source())
		assert.InDelta(t, row.Float("remaining_min"), float64(x.Remaining/Minute), 1e-9, row.Source())
		// R_T repeats with the time and counts once.
		if first, again := counted[x.Remaining]; again {
			assert.Equal(t, first, row.Text("rt_a"), row.Source())
		} else {
			counted[x.Remaining] = row.Text("rt_a")
			row.Printed("rt_a", float64(must[unit.Current](t)(x.RT(plate))))
		}
		row.Printed("plates", float64(x.Size/plate))
	}
}

func TestWorksheetHours(t *testing.T) {
	w := must[Worksheet](t)(cabin(t).Worksheet())
	for _, row := range reftest.Rows(t, "battery/sizing_hours.csv") {
		x := worksheetTerm(t, w, int(row.Float("section")), int(row.Float("period")))
		assert.InDelta(t, row.Float("change_a"), float64(x.Change), 1e-9, row.Source())
		assert.InDelta(t, row.Float("remaining_h"), hours(x.Remaining), 1e-9, row.Source())
		row.Printed("ampere_hours", ampereHours(x.Size))
	}
}

func TestWorksheetTotals(t *testing.T) {
	w1 := must[Worksheet](t)(station().Worksheet())
	w2 := must[Worksheet](t)(cabin(t).Worksheet())
	for _, row := range reftest.Rows(t, "battery/sizing_totals.csv") {
		switch id := row.Text("id"); id {
		case "W1_S1", "W1_S2", "W1_S3", "W1_S4":
			row.Expected(float64(w1.Sections[int(row.Param("section", ""))-1].Size / plate))
		case "W1_US":
			row.Expected(float64(w1.Uncorrected / plate))
		case "W1_REQ_65F", "W1_REQ_50F":
			s := station()
			s.Temperature = Fahrenheit(row.Param("temperature", "°F"))
			s.DesignMargin, s.AgingFactor = row.Param("margin", ""), row.Param("aging", "")
			w := must[Worksheet](t)(s.Worksheet())
			row.Expected(must[float64](t)(w.Plates(plate)))
		case "W1_AH":
			s := station()
			s.Cycle.Random = DutyPeriod{}
			row.Expected(ampereHours(must[unit.Charge](t)(s.Cycle.Charge())))
		case "W2_US":
			row.Expected(ampereHours(w2.Uncorrected))
		case "W2_REQ":
			row.Expected(ampereHours(w2.Required))
		case "W2_REORDER":
			s := cabin(t)
			s.Cycle.Periods = amperesFor(Hour, 8, 2, 16, 1, 24, 2)
			row.Expected(ampereHours(must[Worksheet](t)(s.Worksheet()).Uncorrected))
		case "W2_AH":
			row.Expected(ampereHours(w2.Plain))
		case "W4":
			row.Expected(must[float64](t)(AgingFactor(row.Param("end_of_life", ""))))
		case "W5":
			n := must[int](t)(SeriesCells(unit.Voltage(row.Param("highest", "V")), unit.Voltage(row.Param("charging", "V"))))
			row.Expected(float64(n))
		case "W6", "W7":
			v, err := CellEndVoltage(unit.Voltage(row.Param("lowest", "V")), unit.Voltage(row.Param("drop", "V")), int(row.Param("cells", "")))
			require.NoError(t, err)
			row.Expected(float64(v))
		default:
			t.Errorf("%s: no check for %s", row.Source(), id)
		}
	}
}

// The numbers of a worksheet hang together.
func TestWorksheetAddsUp(t *testing.T) {
	s := station()
	s.Temperature = Fahrenheit(50)
	w := must[Worksheet](t)(s.Worksheet())
	require.Len(t, w.Sections, 6)
	assert.Equal(t, 3, w.Deciding)
	for _, section := range w.Sections {
		var sum unit.Charge
		for _, x := range section.Terms {
			assert.InEpsilon(t, float64(x.Change)*float64(x.KT), float64(x.Size), 1e-12)
			sum += x.Size
		}
		assert.InEpsilon(t, float64(sum), float64(section.Size), 1e-12)
		assert.LessOrEqual(t, section.Size, w.Largest)
	}
	assert.InEpsilon(t, float64(w.Largest+w.RandomSize), float64(w.Uncorrected), 1e-12)
	assert.InEpsilon(t, float64(w.Uncorrected)*1.19*1.1*1.25, float64(w.Required), 1e-12)
	assert.InDelta(t, 435+100.0/60, ampereHours(w.Plain), 1e-9)
	assert.InEpsilon(t, float64(w.Required), float64(must[unit.Charge](t)(s.Size())), 0)
	assert.Equal(t, -1, w.Random.Period)
	assert.Equal(t, unit.Current(-220), w.Periods[1].Change)
	assert.InDelta(t, 60, float64(w.Periods[3].Start/Minute), 1e-9)
}

// One steady load is the definition of the factor, and the K_T form and the
// Peukert source find the battery that the law says carries it.
func TestSizeOfSteadyLoad(t *testing.T) {
	s := cabin(t)
	s.Rate, s.TemperatureFactor, s.DesignMargin, s.AgingFactor = hundred, 1, 1, 1
	s.Cycle.Periods = amperesFor(Hour, 30, 2)
	c := must[unit.Charge](t)(s.Size())
	p := hundred
	p.Rating.Capacity = c
	assert.InEpsilon(t, 2, hours(must[unit.Time](t)(p.Runtime(30))), 1e-9)
	s.Cycle.Periods = amperesFor(Hour, 5, 20)
	assert.InEpsilon(t, 100, ampereHours(must[unit.Charge](t)(s.Size())), 1e-12)
}

func TestSizeTemperature(t *testing.T) {
	at := func(c Chemistry, temp unit.Temperature, factor float64) float64 {
		s := cabin(t)
		s.Chemistry, s.Temperature, s.TemperatureFactor = c, temp, factor
		return must[Worksheet](t)(s.Worksheet()).TemperatureFactor
	}
	assert.InDelta(t, 1, at(Flooded, Celsius(35), 0), 0, "nothing credited for warmth")
	assert.InDelta(t, 1/0.84, at(AGM, Celsius(0), 0), 1e-12)
	assert.InDelta(t, 1, at(LithiumIronPhosphate, Celsius(20), 0), 1e-12)
	assert.InDelta(t, 2.5, at(Flooded, 0, 2.5), 0, "a figure of the maker's takes no temperature")
	s := cabin(t)
	s.Temperature = Celsius(-20)
	_, err := s.Size()
	refused(t, err, "outside the table")
	// Short sections take the column of short discharges.
	s = cabin(t)
	s.Rate, s.Chemistry, s.Temperature = plateLaw{}, AGM, Celsius(0)
	s.Cycle.Periods = amperesFor(Minute, 500, 10, 1, 100)
	assert.InDelta(t, 1/0.80, must[Worksheet](t)(s.Worksheet()).TemperatureFactor, 1e-12)
}

func TestSizeShortLoads(t *testing.T) {
	s := station()
	s.Cycle = DutyCycle{Periods: []DutyPeriod{{Duration: 5, Current: 200}}}
	short := must[unit.Charge](t)(s.Size())
	s.Cycle.Periods[0].Duration = Minute
	assert.Equal(t, must[unit.Charge](t)(s.Size()), short, "a momentary load counts as a minute")
}

func TestSizeOrder(t *testing.T) {
	s := cabin(t)
	early := must[unit.Charge](t)(s.Size())
	slices.Reverse(s.Cycle.Periods)
	assert.Greater(t, must[unit.Charge](t)(s.Size()), early, "a heavy load that comes late asks for more")
}

func TestSizeRefuses(t *testing.T) {
	for name, change := range map[string]func(*Sizing){
		"no rate":         func(s *Sizing) { s.Rate = nil },
		"empty table":     func(s *Sizing) { s.Rate = RateTable{} },
		"zero Peukert":    func(s *Sizing) { s.Rate = Peukert{} },
		"no periods":      func(s *Sizing) { s.Cycle.Periods = nil },
		"no end voltage":  func(s *Sizing) { s.EndVoltage = 0 },
		"bank's voltage":  func(s *Sizing) { s.EndVoltage = 10.5 },
		"other voltage":   func(s *Sizing) { s.EndVoltage = 1.80 },
		"no chemistry":    func(s *Sizing) { s.Chemistry = 0 },
		"°C for K":        func(s *Sizing) { s.Temperature = 25 },
		"no margin":       func(s *Sizing) { s.DesignMargin = 0 },
		"margin below 1":  func(s *Sizing) { s.DesignMargin = 0.99 },
		"margin per cent": func(s *Sizing) { s.DesignMargin = 10 },
		"aging inverted":  func(s *Sizing) { s.AgingFactor = 0.8 },
		"aging NaN":       func(s *Sizing) { s.AgingFactor = math.NaN() },
		"factor inverted": func(s *Sizing) { s.TemperatureFactor = 0.7 },
		"factor huge":     func(s *Sizing) { s.TemperatureFactor = 4.1 },
		"too short":       func(s *Sizing) { s.Cycle.Periods[1].Duration = Minute; s.Cycle.Periods[2].Duration = Minute },
		"too long":        func(s *Sizing) { s.Cycle.Periods[0].Duration = 30 * Hour },
		"random too short": func(s *Sizing) {
			s.Cycle.Random = DutyPeriod{Current: 5, Duration: Minute}
		},
		"too cold":            func(s *Sizing) { s.Temperature = Celsius(-20) },
		"AGM too cold":        func(s *Sizing) { s.Chemistry, s.Temperature = AGM, Celsius(-1) },
		"a rate that is none": func(s *Sizing) { s.Rate = brokenRate(math.NaN()) },
		"an infinite rate":    func(s *Sizing) { s.Rate = brokenRate(math.Inf(1)) },
	} {
		s := cabin(t)
		change(&s)
		c, err := s.Size()
		refused(t, err, name)
		assert.Zero(t, c, name)
		w, err := s.Worksheet()
		refused(t, err, name)
		assert.Zero(t, w.Required, name)
	}
	_, err := Sizing{}.Size()
	refused(t, err)
	s := cabin(t)
	s.Cycle.Random = DutyPeriod{Current: 5, Duration: Minute}
	_, err = s.Size()
	var at *PeriodError
	require.ErrorAs(t, err, &at)
	assert.Equal(t, 0, at.Period)
}

// A brokenRate returns no factor.
type brokenRate float64

func (b brokenRate) KT(unit.Time, unit.Voltage) (unit.Time, error) { return unit.Time(b), nil }

func TestChoose(t *testing.T) {
	list := []unit.Charge{200 * AmpereHour, 100 * AmpereHour, 150 * AmpereHour}
	for _, tt := range []struct {
		required, want float64
		index          int
	}{{90, 100, 1}, {100, 100, 1}, {100.1, 150, 2}, {200, 200, 0}} {
		c, i, err := Choose(unit.Charge(tt.required)*AmpereHour, list)
		require.NoError(t, err)
		assert.InDelta(t, tt.want, ampereHours(c), 1e-9)
		assert.Equal(t, tt.index, i)
	}
	_, _, err := Choose(200.1*AmpereHour, list)
	require.ErrorIs(t, err, ErrNoCell)
	_, _, err = Choose(1*AmpereHour, nil)
	require.ErrorIs(t, err, ErrNoCell)
	_, _, err = Choose(1*AmpereHour, []unit.Charge{100})
	refused(t, err)
	for _, x := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, _, err = Choose(unit.Charge(x), list)
		refused(t, err, "%v", x)
	}
}

func TestSizingHelpersRefuse(t *testing.T) {
	for _, x := range []float64{0.49, 1.01, 0, 80, math.NaN()} {
		_, err := AgingFactor(x)
		refused(t, err)
	}
	assert.InDelta(t, 2, must[float64](t)(AgingFactor(0.5)), 0)
	assert.Equal(t, 6, must[int](t)(SeriesCells(14.4, 2.4)), "the last bits cost no cell")
	assert.Equal(t, 5, must[int](t)(SeriesCells(14.39, 2.4)))
	assert.Equal(t, 1, must[int](t)(SeriesCells(2.4, 2.4)))
	for _, v := range [][2]unit.Voltage{{0.9, 2.4}, {1501, 2.4}, {14, 0.9}, {14, 5.1}, {2, 2.4}, {unit.Voltage(math.NaN()), 2}, {14, unit.Voltage(math.NaN())}} {
		_, err := SeriesCells(v[0], v[1])
		refused(t, err, "%v", v)
	}
	for _, c := range []struct {
		v, drop unit.Voltage
		n       int
	}{{0, 0, 1}, {10.5, -0.1, 6}, {10.5, 5.3, 6}, {10.5, 0.3, 0}, {10.5, 0.3, 1001}, {10.5, 0, 1}, {10.5, 0, 60}, {unit.Voltage(math.NaN()), 0, 6}} {
		_, err := CellEndVoltage(c.v, c.drop, c.n)
		refused(t, err, "%v", c)
	}
	for _, c := range []unit.Charge{0, 100, unit.Charge(math.NaN())} {
		_, err := Worksheet{Required: 100 * AmpereHour}.Plates(c)
		refused(t, err)
		_, err = SectionTerm{KT: Hour}.RT(c)
		refused(t, err)
	}
	for _, c := range []unit.Charge{-1, unit.Charge(math.NaN()), unit.Charge(math.Inf(1)), 1.001e12 * AmpereHour} {
		_, err := Worksheet{Required: c}.Plates(plate)
		refused(t, err, c)
	}
	_, err := SectionTerm{}.RT(plate)
	refused(t, err)
}

// fuzzRate picks one of three kinds of rating factor.
func fuzzRate(t testing.TB, which uint8) CellRate {
	rates := []PlateRate{{Minute, 128}, {30 * Minute, 94}, {Hour, 75}, {3 * Hour, 43}, {8 * Hour, 20}, {48 * Hour, 4}}
	curve := must[RateCurve](t)(PlateCurve(1.75, plate, rates))
	return []CellRate{plateLaw{}, hundred, must[RateTable](t)(NewRateTable(curve))}[which%3]
}

// fuzzCycle makes a cycle of up to 8 periods of 0 to 255 A and 1 to 256 min
// from bytes.
func fuzzCycle(data []byte) []DutyPeriod {
	var p []DutyPeriod
	for i := 0; i+1 < len(data) && len(p) < 8; i += 2 {
		p = append(p, DutyPeriod{Current: unit.Current(data[i]), Duration: unit.Time(data[i+1])*Minute + Minute})
	}
	return p
}

// Where a period is cut in two nothing changes, whatever is cut and whether it
// is stated in amperes or watts.
func FuzzSizeSplit(f *testing.F) {
	f.Add([]byte{200, 10, 20, 60, 90, 30}, uint8(1), 0.3)
	f.Add([]byte{255, 0, 0, 255, 3, 255, 200, 1}, uint8(2), 0.999)
	f.Fuzz(func(t *testing.T, data []byte, which uint8, at float64) {
		s := station()
		s.Rate = fuzzRate(t, which)
		s.Cycle.Periods = fuzzCycle(data)
		whole, err := s.Size()
		if err != nil || !(at > 0.01 && at < 0.99) {
			return
		}
		i := int(which) % len(s.Cycle.Periods)
		first, second := s.Cycle.Periods[i], s.Cycle.Periods[i]
		first.Duration *= unit.Time(at)
		second.Duration -= first.Duration
		cut := s
		cut.Cycle.Periods = slices.Concat(s.Cycle.Periods[:i], []DutyPeriod{first, second}, s.Cycle.Periods[i+1:])
		require.InEpsilon(t, float64(whole), float64(must[unit.Charge](t)(cut.Size())), 1e-12)
		w := must[Worksheet](t)(cut.Worksheet())
		require.InEpsilon(t, float64(whole), float64(w.Required), 1e-12)

		power := cut
		power.Cycle.Voltage = Range[unit.Voltage]{Low: 48, High: 48}
		power.Cycle.Periods = slices.Clone(cut.Cycle.Periods)
		for i := range power.Cycle.Periods {
			p := &power.Cycle.Periods[i]
			p.Power, p.Current = unit.Power(48*float64(p.Current)), 0
		}
		require.InEpsilon(t, float64(whole), float64(must[unit.Charge](t)(power.Size())), 1e-12)
	})
}

// The size grows with every load, with the time of the last load, with cold,
// margin and age, and scales with the loads.
func FuzzSizeMonotone(f *testing.F) {
	f.Add([]byte{200, 10, 20, 60, 90, 30}, uint8(1), 10.0)
	f.Add([]byte{9, 1}, uint8(0), 0.5)
	f.Fuzz(func(t *testing.T, data []byte, which uint8, more float64) {
		s := station()
		s.Rate = fuzzRate(t, which)
		s.Cycle.Periods = fuzzCycle(data)
		base, err := s.Size()
		if err != nil || !(more >= 0 && more < 1e4) {
			return
		}
		size := func(change func(*Sizing)) unit.Charge {
			x := s
			x.Cycle.Periods = slices.Clone(s.Cycle.Periods)
			change(&x)
			return must[unit.Charge](t)(x.Size()) * (1 + 1e-12)
		}
		i := int(which) % len(s.Cycle.Periods)
		require.GreaterOrEqual(t, size(func(x *Sizing) { x.Cycle.Periods[i].Current += unit.Current(more) }), base)
		// Never more than the largest load for all the time, never less than
		// the first load for its own.
		require.LessOrEqual(t, base, size(func(x *Sizing) {
			var all DutyPeriod
			for _, p := range x.Cycle.Periods {
				all.Duration += p.Duration
				all.Current = max(all.Current, p.Current)
			}
			x.Cycle.Periods = []DutyPeriod{all}
		}))
		if s.Cycle.Periods[0].Current > 0 {
			require.LessOrEqual(t, must[unit.Charge](t)(Sizing{
				Cycle: DutyCycle{Periods: s.Cycle.Periods[:1], Random: s.Cycle.Random}, Rate: s.Rate, EndVoltage: s.EndVoltage,
				Chemistry: s.Chemistry, Temperature: s.Temperature, DesignMargin: s.DesignMargin, AgingFactor: s.AgingFactor,
			}.Size()), base*(1+1e-12))
		}
		last := len(s.Cycle.Periods) - 1
		require.GreaterOrEqual(t, size(func(x *Sizing) {
			x.Cycle.Periods = append(x.Cycle.Periods, DutyPeriod{Current: x.Cycle.Periods[last].Current, Duration: Hour})
			x.Cycle.Periods = append(x.Cycle.Periods, DutyPeriod{Current: x.Cycle.Periods[last].Current + 1, Duration: Hour})
		}), base)
		require.Greater(t, size(func(x *Sizing) { x.Temperature = Celsius(5) }), base)
		require.Greater(t, size(func(x *Sizing) { x.AgingFactor = 1.3 }), base)
		require.Greater(t, size(func(x *Sizing) { x.DesignMargin = 1.2 }), base)
		double := size(func(x *Sizing) {
			x.Cycle.Random.Current *= 2
			for i := range x.Cycle.Periods {
				x.Cycle.Periods[i].Current *= 2
			}
		})
		require.InEpsilon(t, 2*float64(base), float64(double), 1e-9)
	})
}

// The longest lists hold, one more does not; equal figures are no rise; a fault
// names its period; of two equal sizes the first is taken.
func TestSizingEdges(t *testing.T) {
	many := DutyCycle{Periods: make([]DutyPeriod, 1000)}
	for i := range many.Periods {
		many.Periods[i] = DutyPeriod{Duration: Minute, Current: 1}
	}
	_, err := many.Charge()
	require.NoError(t, err)
	curve := RateCurve{EndVoltage: 1.75}
	for i := range 1000 {
		curve.Points = append(curve.Points, KTPoint{unit.Time(i+1) * Minute, unit.Time(i+1) * Minute})
	}
	must[RateTable](t)(NewRateTable(curve))
	curve.Points = append(curve.Points, KTPoint{1001 * Minute, 1001 * Minute})
	_, err = NewRateTable(curve)
	refused(t, err)
	for _, p := range [][]KTPoint{{{Hour, Hour}, {Hour, 2 * Hour}}, {{Hour, Hour}, {2 * Hour, Hour}}} {
		_, err = NewRateTable(RateCurve{EndVoltage: 1.75, Points: p})
		refused(t, err)
	}
	for h, good := range map[unit.Time]bool{1: true, 500 * Hour: true, 0.999: false, 500.1 * Hour: false} {
		_, err = hundred.KT(h, 1.75)
		assert.Equal(t, good, err == nil, "%v", h)
	}

	s := cabin(t)
	s.Cycle.Periods = amperesFor(Hour, 8, 2, 16, 0.5)
	_, err = s.Size()
	var at *PeriodError
	require.ErrorAs(t, err, &at)
	assert.Equal(t, 2, at.Period, "half an hour is outside the table")

	assert.Equal(t, 100, must[int](t)(AutonomySize{Required: 1000 * AmpereHour}.Strings(10*AmpereHour)))
	_, err = AutonomySize{Required: 1001 * AmpereHour}.Strings(10 * AmpereHour)
	refused(t, err)
	_, i, err := Choose(90*AmpereHour, []unit.Charge{100 * AmpereHour, 100 * AmpereHour})
	require.NoError(t, err)
	assert.Zero(t, i)
	for c, good := range map[unit.Charge]bool{leastCapacity: true, mostCapacity: true, leastCapacity * 0.999: false, mostCapacity * 1.001: false} {
		_, _, err = Choose(1, []unit.Charge{c})
		assert.Equal(t, good, err == nil, "%v", c)
	}
}
