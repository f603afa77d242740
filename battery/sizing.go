package battery

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ErrNoCell says that no size of a list is large enough.
var ErrNoCell = errors.New("battery: no cell of the list is large enough")

// momentary is the time that a shorter load is taken to last.
const momentary = 1 * Minute

// A Sizing is what the size of a battery follows from by the section method of
// IEEE 485. The zero value is invalid.
type Sizing struct {
	Cycle      DutyCycle    // what is to be carried
	Rate       CellRate     // K_T of the type of cell: a [RateTable] or a [Peukert]
	EndVoltage unit.Voltage // per cell, the lowest allowed; see [CellEndVoltage]
	Chemistry  Chemistry

	// Temperature is the lowest expected of the electrolyte. Where Rate already
	// holds at that temperature, set TemperatureFactor to 1.
	Temperature unit.Temperature
	// TemperatureFactor multiplies the size, 0.8 to 4. Zero: from Temperature,
	// with nothing credited for warmth.
	TemperatureFactor float64
	// DesignMargin multiplies the size, 1 to 2, for what is added later and for
	// less than the best of care: 1.10 to 1.15 is usual.
	DesignMargin float64
	// AgingFactor multiplies the size, 1 to 2: 1.25 lets the battery carry the
	// load until 80 % of its capacity is left; see [AgingFactor].
	AgingFactor float64
}

// A Worksheet is the result of a [Sizing] with every number on the way.
type Worksheet struct {
	Periods  []WorksheetPeriod // the cycle in amperes
	Sections []Section         // those that end where the load changes
	Random   SectionTerm       // of the random load; zero: there is none

	Deciding    int         // index into Sections of the largest
	Largest     unit.Charge // size of that section
	RandomSize  unit.Charge // of the random load
	Uncorrected unit.Charge // Largest + RandomSize

	TemperatureFactor float64     // F_t
	DesignMargin      float64     // F_m
	AgingFactor       float64     // F_a
	Required          unit.Charge // Uncorrected times the three factors

	Plain   unit.Charge  // the plain ampere-hours of the cycle, for comparison
	Convert PowerVoltage // how constant powers became currents
}

// A WorksheetPeriod is one period of the cycle as it was sized for.
type WorksheetPeriod struct {
	Start    unit.Time    // from the start of the cycle
	Duration unit.Time    // of the period
	Load     unit.Current // A_P
	Change   unit.Current // A_P less the load before
	Voltage  unit.Voltage // at which its power was converted; zero: it has none
}

// A Section is the start of the cycle up to the end of one period, which the
// battery must be able to carry by itself.
type Section struct {
	Last  int // index of its last period
	Terms []SectionTerm
	Size  unit.Charge // the sum of the terms
}

// A SectionTerm is one line of a section.
type SectionTerm struct {
	Period    int          // index of the period that starts here
	Change    unit.Current // A_P - A_(P-1), below zero where the load falls
	Remaining unit.Time    // T, from the start of the period to the end of the section
	KT        unit.Time    // K_T at T
	Size      unit.Charge  // Change·KT
}

// RT returns the rating factor of a term in the R_T form,
//
//	R_T = Cp/K_T
//
// where Cp is the rated capacity of one positive plate (Ah) and K_T the term's
// factor (h). A term without a factor, or a capacity outside 0.5 Ah to 100
// kAh, is an [ErrDomain].
//
// Source: IEEE Std 485 (the two forms of the rating factor).
func (s SectionTerm) RT(perPlate unit.Charge) (unit.Current, error) {
	err := errors.Join(
		checkCapacity("capacity of a positive plate", perPlate),
		pkg.Range("rating factor K_T", float64(s.KT), float64(leastKT), float64(mostKT), domain.Hour),
	)
	if err != nil {
		return 0, err
	}
	return unit.Current(float64(perPlate) / float64(s.KT)), nil
}

func validateSizing(s *Sizing) error {
	var err error
	if s.Rate == nil {
		err = pkg.Invalid("cell rate", "none", "a RateTable or a Peukert")
	}
	err = errors.Join(
		err,
		validateCycle(&s.Cycle),
		checkEndVoltage(s.EndVoltage),
		s.Chemistry.validate(),
		pkg.Range("design margin", s.DesignMargin, 1, 2, domain.One),
		pkg.Range("aging factor", s.AgingFactor, 1, 2, domain.One),
	)
	if s.TemperatureFactor != 0 {
		return errors.Join(err, checkSizingFactor(s.TemperatureFactor))
	}
	return errors.Join(err, checkTemperature("electrolyte temperature", s.Temperature))
}

func checkSizingFactor(f float64) error {
	return pkg.Range("temperature factor of a size", f, 0.8, 4, domain.One)
}

// temperatureFactor returns what a size found for 25 °C is multiplied by, for
// a discharge of time t.
func temperatureFactor(given float64, c Chemistry, t unit.Temperature, discharge unit.Time) (float64, error) {
	if given != 0 {
		return given, nil
	}
	if c == Flooded {
		f, err := SizingFactor(t)
		if err != nil {
			return 0, err
		}
		return max(1, f), nil
	}
	f, err := CapacityFactor(c, t, discharge)
	if err != nil {
		return 0, err
	}
	return max(1, 1/f), nil
}

// sectionTerm returns the line of a section for a change of load that lasts a time.
func sectionTerm(s *Sizing, change unit.Current, remaining unit.Time) (unit.Time, unit.Charge, error) {
	k, err := s.Rate.KT(max(remaining, momentary), s.EndVoltage)
	if err != nil {
		return 0, 0, err
	}
	if !(k >= leastKT && k <= mostKT) {
		return 0, 0, pkg.Range("rating factor K_T", float64(k), float64(leastKT), float64(mostKT), domain.Hour)
	}
	return k, unit.Charge(float64(change) * float64(k)), nil
}

// A sized is what sizeSections gives back: the largest section and its length.
type sized struct {
	last  int
	size  unit.Charge
	after unit.Time
}

// sizeSections works out every section that ends where the load changes, and hands
// each line to visit, if there is one.
func sizeSections(s *Sizing, visit func(last int, term SectionTerm)) (sized, error) {
	d := &s.Cycle
	best := sized{last: -1}
	var end unit.Time
	for last := range d.Periods {
		end += d.Periods[last].Duration
		here, _ := dutyLoad(d, &d.Periods[last])
		if last+1 < len(d.Periods) {
			// A period cut in two is one period: no section ends inside it.
			if next, _ := dutyLoad(d, &d.Periods[last+1]); next == here {
				continue
			}
		}
		var sum unit.Charge
		var start unit.Time
		var before unit.Current
		for i := range d.Periods[:last+1] {
			load, _ := dutyLoad(d, &d.Periods[i])
			if change := load - before; change != 0 {
				k, size, err := sectionTerm(s, change, end-start)
				if err != nil {
					return sized{}, &PeriodError{Period: i + 1, Err: err}
				}
				sum += size
				if visit != nil {
					visit(last, SectionTerm{Period: i, Change: change, Remaining: end - start, KT: k, Size: size})
				}
			}
			before = load
			start += d.Periods[i].Duration
		}
		if best.last < 0 || sum > best.size {
			best = sized{last: last, size: sum, after: end}
		}
	}
	return best, nil
}

// randomTerm returns the line of the random load.
func randomTerm(s *Sizing) (SectionTerm, error) {
	r := &s.Cycle.Random
	load, _ := dutyLoad(&s.Cycle, r)
	if load == 0 {
		return SectionTerm{}, nil
	}
	k, size, err := sectionTerm(s, load, r.Duration)
	if err != nil {
		return SectionTerm{}, &PeriodError{Err: err}
	}
	return SectionTerm{Period: -1, Change: load, Remaining: r.Duration, KT: k, Size: size}, nil
}

// Size returns the capacity that a battery must have when new, on the basis of
// s.Rate,
//
//	F_S = Σ (A_P - A_(P-1))·K_T,  P = 1 to S
//	C = (max F_S + A_R·K_T)·F_t·F_m·F_a
//
// where A_P is the load of period P (A, A_0 = 0), K_T the rating factor (h) at
// T, the time from the start of period P to the end of section S, A_R the
// random load, F_t the temperature factor, F_m the design margin and F_a the
// aging factor. A load that falls makes a negative term. Times below 1 min
// count as 1 min. A period cut in two changes nothing: sections end where the
// load changes, and at the end.
//
// F_t is s.TemperatureFactor, or that of [SizingFactor] for flooded cells and 1
// over [CapacityFactor] for others, for a discharge as long as the section that
// decides, but not below 1.
//
// A sizing outside its bounds, and a T, end voltage or temperature that no
// table covers, is an [ErrDomain]; a [PeriodError] says in which period.
//
// Source: IEEE Std 485, section method. The method is one for lead-acid cells;
// for lithium iron phosphate it is common practice to use it in the same way.
func (s Sizing) Size() (unit.Charge, error) {
	if err := validateSizing(&s); err != nil {
		return 0, err
	}
	best, err := sizeSections(&s, nil)
	if err != nil {
		return 0, err
	}
	random, err := randomTerm(&s)
	if err != nil {
		return 0, err
	}
	f, err := temperatureFactor(s.TemperatureFactor, s.Chemistry, s.Temperature, best.after)
	if err != nil {
		return 0, err
	}
	return unit.Charge(float64(best.size+random.Size) * f * s.DesignMargin * s.AgingFactor), nil
}

// Worksheet returns the size of [Sizing.Size] with every number on the way.
// Periods in which the load does not change have no line of their own.
//
// Source: as for [Sizing.Size].
func (s Sizing) Worksheet() (Worksheet, error) {
	if err := validateSizing(&s); err != nil {
		return Worksheet{}, err
	}
	w := Worksheet{
		DesignMargin: s.DesignMargin, AgingFactor: s.AgingFactor,
		Plain: cycleCharge(&s.Cycle), Convert: s.Cycle.Convert,
	}
	var start unit.Time
	var before unit.Current
	for i := range s.Cycle.Periods {
		p := &s.Cycle.Periods[i]
		load, v := dutyLoad(&s.Cycle, p)
		w.Periods = append(w.Periods, WorksheetPeriod{
			Start: start, Duration: p.Duration, Load: load, Change: load - before, Voltage: v,
		})
		start, before = start+p.Duration, load
	}
	best, err := sizeSections(&s, func(last int, term SectionTerm) {
		if n := len(w.Sections); n == 0 || w.Sections[n-1].Last != last {
			w.Sections = append(w.Sections, Section{Last: last})
		}
		section := &w.Sections[len(w.Sections)-1]
		section.Terms = append(section.Terms, term)
		section.Size += term.Size
	})
	if err != nil {
		return Worksheet{}, err
	}
	if w.Random, err = randomTerm(&s); err != nil {
		return Worksheet{}, err
	}
	if w.TemperatureFactor, err = temperatureFactor(s.TemperatureFactor, s.Chemistry, s.Temperature, best.after); err != nil {
		return Worksheet{}, err
	}
	for i := range w.Sections {
		if w.Sections[i].Last == best.last {
			w.Deciding = i
		}
	}
	w.Largest, w.RandomSize = best.size, w.Random.Size
	w.Uncorrected = w.Largest + w.RandomSize
	w.Required = unit.Charge(float64(w.Uncorrected) * w.TemperatureFactor * w.DesignMargin * w.AgingFactor)
	return w, nil
}

// mostRequired is beyond 200 kA for 500 h with every factor at its largest.
const mostRequired = 1e12 * float64(AmpereHour)

// Plates returns the size in the R_T form,
//
//	n = C/Cp
//
// where C is w.Required (Ah) and Cp the rated capacity of one positive plate
// (Ah): the number of positive plates, to be rounded up. A plate outside 0.5 Ah
// to 100 kAh, and a worksheet of 1e12 Ah and more, which no cycle within its
// bounds gives, is an [ErrDomain].
//
// Source: IEEE Std 485 (the two forms of the rating factor).
func (w Worksheet) Plates(perPlate unit.Charge) (float64, error) {
	err := errors.Join(
		checkCapacity("capacity of a positive plate", perPlate),
		pkg.Range("required capacity", float64(w.Required), 0, mostRequired, domain.AmpereHour),
	)
	if err != nil {
		return 0, err
	}
	return float64(w.Required / perPlate), nil
}

// Choose returns the smallest capacity of a list, in any order, that is not
// below what is required, and its index. If none is, err is [ErrNoCell]; a
// capacity outside 0.5 Ah to 100 kAh is an [ErrDomain].
//
// Source: IEEE Std 485 (the next larger size is taken).
func Choose(required unit.Charge, sizes []unit.Charge) (unit.Charge, int, error) {
	if !(required > 0) || math.IsInf(float64(required), 0) {
		return 0, 0, pkg.Range("required capacity", float64(required), float64(leastCapacity), float64(mostCapacity), domain.AmpereHour)
	}
	best := -1
	for i, c := range sizes {
		if !(c >= leastCapacity && c <= mostCapacity) {
			return 0, 0, checkCapacity("capacity "+strconv.Itoa(i+1)+" of the list", c)
		}
		if c >= required && (best < 0 || c < sizes[best]) {
			best = i
		}
	}
	if best < 0 {
		return 0, 0, ErrNoCell
	}
	return sizes[best], best, nil
}

// AgingFactor returns what a size is multiplied by so that the load can still
// be carried at the end of life,
//
//	F = 1/e
//
// where e is the capacity then left over that when new: 1.25 for 0.8. Valid for
// e from 0.5 to 1; otherwise err wraps [ErrDomain].
//
// Source: IEEE Std 485 (aging factor); replacement at 80 % is that of IEEE Std
// 450 and 1188.
func AgingFactor(endOfLife float64) (float64, error) {
	if err := checkFraction("capacity left at the end of life", endOfLife, 0.5); err != nil {
		return 0, err
	}
	return 1 / endOfLife, nil
}

// SeriesCells returns how many cells may stand in series,
//
//	n = Vm/Vc, rounded down
//
// where Vm is the highest voltage that the system stands (V) and Vc that to
// which a cell is charged, equalising included (V). Valid for 1 to 1500 V and
// 1 to 5 V where at least one cell fits; otherwise err wraps [ErrDomain].
//
// Source: IEEE Std 485 (number of cells).
func SeriesCells(system, charging unit.Voltage) (int, error) {
	err := errors.Join(
		pkg.Range("highest voltage of the system", float64(system), float64(leastBusVoltage), float64(mostBusVoltage), domain.Volt),
		pkg.Range("charging voltage of a cell", float64(charging), 1, 5, domain.Volt),
	)
	if err != nil {
		return 0, err
	}
	// The last bits of the quotient must not cost a cell: 14.4 V over 2.4 V.
	n := math.Floor(float64(system/charging) * (1 + 1e-12))
	if n < 1 {
		return 0, pkg.Range("highest voltage of the system", float64(system), float64(charging), float64(mostBusVoltage), domain.Volt)
	}
	return int(n), nil
}

// CellEndVoltage returns the voltage per cell at which a discharge must end,
//
//	Ve = (Vm + ΔV)/n
//
// where Vm is the lowest voltage that the load works at (V), ΔV the drop in the
// cable between (V) and n the number of cells. Valid for 1 to 1500 V, a drop
// from zero to half of the voltage, 1 to 1000 cells and a result of 0.5 to 4.5
// V; otherwise err wraps [ErrDomain].
//
// Source: IEEE Std 485 (end-of-discharge voltage), with the cable's drop added
// by Kirchhoff's voltage law.
func CellEndVoltage(lowest, drop unit.Voltage, cells int) (unit.Voltage, error) {
	err := errors.Join(
		pkg.Range("lowest voltage of the system", float64(lowest), float64(leastBusVoltage), float64(mostBusVoltage), domain.Volt),
		pkg.Range("voltage drop", float64(drop), 0, float64(lowest)/2, domain.Volt),
		checkCount("cells in series", cells, 1000),
	)
	if err != nil {
		return 0, err
	}
	v := (lowest + drop) / unit.Voltage(cells)
	if err := checkEndVoltage(v); err != nil {
		return 0, err
	}
	return v, nil
}
