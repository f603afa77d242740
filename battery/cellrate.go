package battery

import (
	"errors"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A CellRate knows what capacity an ampere asks for: the rating factor K_T of
// IEEE 485. [RateTable] has it from a maker's figures, [Peukert] from a law.
type CellRate interface {
	// KT returns the rated capacity over the current that it sustains for a
	// time to an end voltage per cell. It must not fall where the time grows.
	KT(t unit.Time, end unit.Voltage) (unit.Time, error)
}

// A KTPoint is one figure of a maker's table: the capacity rating factor for a
// discharge of some time.
type KTPoint struct {
	Time unit.Time // T; 1 s to 500 h
	KT   unit.Time // K_T: rated ampere-hours over amperes, 1 s to 2000 h
}

// A RateCurve is what one type of cell sustains to one end voltage.
type RateCurve struct {
	EndVoltage unit.Voltage // per cell; 0.5 to 4.5 V
	Points     []KTPoint    // two or more, with time and factor rising
}

// A PlateRate is one figure of a table in the R_T form: the current of one
// positive plate for a discharge of some time.
type PlateRate struct {
	Time unit.Time    // T
	RT   unit.Current // R_T, amperes for each positive plate
}

const (
	leastRateTime = unit.Time(1)
	mostRateTime  = 500 * Hour
	leastKT       = unit.Time(1)
	mostKT        = 2000 * Hour

	leastEndVoltage = unit.Voltage(0.5)
	mostEndVoltage  = unit.Voltage(4.5)

	// sameVoltage is how near an end voltage must be to that of a curve to
	// stand for it.
	sameVoltage = unit.Voltage(0.5e-3)
)

func checkEndVoltage(v unit.Voltage) error {
	return pkg.Range("end voltage of a cell", float64(v), float64(leastEndVoltage), float64(mostEndVoltage), domain.Volt)
}

// PlateCurve turns a table in the R_T form into the K_T form,
//
//	K_T = Cp/R_T
//
// where Cp is the rated capacity of one positive plate (Ah) and R_T the
// current that it sustains for the time T (A). Sizes then come in ampere-hours;
// over Cp they are positive plates. A figure outside the bounds of [RateCurve]
// is an [ErrDomain].
//
// Source: IEEE Std 485 (the two forms of the rating factor).
func PlateCurve(end unit.Voltage, perPlate unit.Charge, rates []PlateRate) (RateCurve, error) {
	if err := checkCapacity("capacity of a positive plate", perPlate); err != nil {
		return RateCurve{}, err
	}
	c := RateCurve{EndVoltage: end}
	for _, r := range rates {
		if err := checkCurrent("current of a positive plate", r.RT); err != nil {
			return RateCurve{}, err
		}
		c.Points = append(c.Points, KTPoint{Time: r.Time, KT: unit.Time(float64(perPlate) / float64(r.RT))})
	}
	if err := c.validate(); err != nil {
		return RateCurve{}, err
	}
	return c, nil
}

// Curve turns a maker's table of capacities at several hour rates into rating
// factors on the basis of one of them,
//
//	K_T = C·T/C_T
//
// where C is the capacity that the size is stated by (Ah), T the time of a rate
// (h) and C_T its capacity (Ah). A table with a time twice, or with a capacity
// that makes the current rise with the time, as mixed tests do, and any figure
// outside the bounds of [RateCurve] is an [ErrDomain].
//
// Source: the definition of the rating factor in IEEE Std 485.
func (r Rates) Curve(end unit.Voltage, c unit.Charge) (RateCurve, error) {
	if err := checkCapacity("rated capacity", c); err != nil {
		return RateCurve{}, err
	}
	curve := RateCurve{EndVoltage: end}
	for _, x := range r {
		if err := x.validate(); err != nil {
			return RateCurve{}, err
		}
		curve.Points = append(curve.Points, KTPoint{Time: x.Time, KT: unit.Time(float64(c) / float64(x.current()))})
	}
	slices.SortFunc(curve.Points, func(a, b KTPoint) int {
		switch {
		case a.Time < b.Time:
			return -1
		case a.Time > b.Time:
			return 1
		}
		return 0
	})
	if err := curve.validate(); err != nil {
		return RateCurve{}, err
	}
	return curve, nil
}

func (c RateCurve) validate() error {
	err := checkEndVoltage(c.EndVoltage)
	if n := len(c.Points); n < 2 || n > mostPeriods {
		return errors.Join(err, pkg.Invalid("points of a rate curve", strconv.Itoa(n), "2 to "+strconv.Itoa(mostPeriods)))
	}
	for i, p := range c.Points {
		err = errors.Join(err,
			pkg.Range("time of a rating factor", float64(p.Time), float64(leastRateTime), float64(mostRateTime), domain.Hour),
			pkg.Range("rating factor K_T", float64(p.KT), float64(leastKT), float64(mostKT), domain.Hour))
		if i > 0 && !(p.Time > c.Points[i-1].Time && p.KT > c.Points[i-1].KT) {
			err = errors.Join(err, pkg.Invalid("point "+strconv.Itoa(i+1)+" of a rate curve", "not above the one before", "time and factor rising"))
		}
	}
	return err
}

// A RateTable is a maker's rating factors against time, to one or more end
// voltages. The zero value is invalid; [NewRateTable] makes one.
type RateTable struct {
	curves []logCurve // by rising end voltage
}

// A logCurve holds the logarithms of a curve's points, in hours.
type logCurve struct {
	end    unit.Voltage
	lo, hi unit.Time
	t, k   []float64
}

// NewRateTable makes a table from curves, in any order of end voltage. A curve
// outside its bounds, an end voltage given twice, and a factor that falls
// where the end voltage rises (a higher end voltage ends the discharge sooner)
// is an [ErrDomain].
//
// Definition: the figures of a maker's sheet.
func NewRateTable(curves ...RateCurve) (RateTable, error) {
	if len(curves) == 0 {
		return RateTable{}, pkg.Invalid("rate table", "no curve", "one or more")
	}
	var err error
	for _, c := range curves {
		err = errors.Join(err, c.validate())
	}
	if err != nil {
		return RateTable{}, err
	}
	var table RateTable
	for _, c := range curves {
		l := logCurve{end: c.EndVoltage, lo: c.Points[0].Time, hi: c.Points[len(c.Points)-1].Time}
		for _, p := range c.Points {
			l.t = append(l.t, math.Log(float64(p.Time)))
			l.k = append(l.k, math.Log(float64(p.KT)))
		}
		table.curves = append(table.curves, l)
	}
	slices.SortStableFunc(table.curves, func(a, b logCurve) int {
		switch {
		case a.end < b.end:
			return -1
		case a.end > b.end:
			return 1
		}
		return 0
	})
	for i := 1; i < len(table.curves); i++ {
		low, high := &table.curves[i-1], &table.curves[i]
		if !(high.end-low.end > 2*sameVoltage) {
			return RateTable{}, pkg.Invalid("end voltages of a rate table", "two the same", "1 mV or more between them")
		}
		for j, t := range high.t {
			at := unit.Time(math.Exp(t))
			if at < low.lo || at > low.hi {
				continue
			}
			if low.logKT(t) > high.k[j]+1e-9 {
				return RateTable{}, pkg.Invalid("rating factor", "falling with the end voltage", "rising with it")
			}
		}
	}
	return table, nil
}

// logKT returns ln K_T at ln t, which lies inside the curve but for the last
// bits of its ends.
func (c *logCurve) logKT(t float64) float64 {
	lo, hi := 0, len(c.t)-1
	for hi-lo > 1 {
		if mid := int(uint(lo+hi) >> 1); c.t[mid] <= t {
			lo = mid
		} else {
			hi = mid
		}
	}
	return c.k[lo] + (c.k[hi]-c.k[lo])*(t-c.t[lo])/(c.t[hi]-c.t[lo])
}

// KT returns the rating factor for a time t to an end voltage per cell: read
// between the points of a curve along a straight line of ln K_T against ln t,
// which is a Peukert law of its own between each two, and between two end
// voltages along a straight line of ln K_T against the voltage.
//
// A time outside the curves, or an end voltage outside them, is an [ErrDomain]:
// a table is not run on.
//
// Source: IEEE Std 485 (the rating factor). Common practice: how it is read
// between the figures of a table.
func (r RateTable) KT(t unit.Time, end unit.Voltage) (unit.Time, error) {
	i := 0
	for i < len(r.curves) && r.curves[i].end < end-sameVoltage {
		i++
	}
	if i == len(r.curves) || !(end >= r.curves[0].end-sameVoltage) {
		return 0, r.outside(end)
	}
	high := &r.curves[i]
	if err := high.check(t); err != nil {
		return 0, err
	}
	x := math.Log(float64(t))
	k := high.logKT(x)
	if i > 0 && high.end-end > sameVoltage {
		low := &r.curves[i-1]
		if err := low.check(t); err != nil {
			return 0, err
		}
		a := low.logKT(x)
		k = a + (k-a)*float64((end-low.end)/(high.end-low.end))
	}
	return unit.Time(math.Exp(k)), nil
}

func (c *logCurve) check(t unit.Time) error {
	return pkg.Range("time of a rating factor", float64(t), float64(c.lo), float64(c.hi), domain.Hour)
}

// outside is the error for an end voltage that the table does not have.
func (r RateTable) outside(end unit.Voltage) error {
	if len(r.curves) == 0 {
		return pkg.Invalid("rate table", "empty", "one made by NewRateTable")
	}
	lo, hi := r.curves[0].end, r.curves[len(r.curves)-1].end
	return pkg.Range("end voltage of a cell", float64(end), float64(lo), float64(hi), domain.Volt)
}

// shortestPeukert is the shortest time for which Peukert's law gives a rating
// factor: below it the end voltage, of which the law knows nothing, decides.
// The ratings that exponents come from end near 1 h.
const shortestPeukert = 30 * Minute

// KT returns the rating factor by Peukert's law,
//
//	K_T = C/I, with I the current that [Peukert.Current] gives for T
//
// where C is the rated capacity (Ah) and T the time (h). It holds to the end
// voltage of the ratings that gave the exponent; end is only checked for its
// bounds. For times below 30 min the factor of 30 min is returned: at such
// rates the voltage ends the discharge and not the charge, the law alone would
// promise too much, and only a maker's table knows. Where short heavy loads
// decide, use a [RateTable].
//
// Valid for 1 s to 500 h; outside, and for a p outside its bounds, err wraps
// [ErrDomain].
//
// Source: Peukert's law in the form of the rating factor of IEEE Std 485.
// Common practice: the factor held below 30 min.
func (p Peukert) KT(t unit.Time, end unit.Voltage) (unit.Time, error) {
	err := checkEndVoltage(end)
	if !(t >= leastRateTime && t <= mostRateTime) {
		err = errors.Join(err, pkg.Range("time of a rating factor", float64(t), float64(leastRateTime), float64(mostRateTime), domain.Hour))
	}
	if err != nil {
		return 0, err
	}
	i, err := p.Current(max(t, shortestPeukert))
	if err != nil {
		return 0, err
	}
	return unit.Time(float64(p.Rating.Capacity) / float64(i)), nil
}
