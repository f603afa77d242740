package battery

import (
	"errors"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A DutyPeriod is one period of a [DutyCycle], over which the load is steady:
// a constant current, a constant power, or both beside each other. Both zero
// is a rest.
type DutyPeriod struct {
	Duration unit.Time    // 0.1 s to 500 h
	Current  unit.Current // drawn whatever the voltage; 0 to 100 kA
	Power    unit.Power   // drawn whatever the voltage, as an inverter does; 0 to 10 MW

	// Voltage of the battery during the period, from its lowest to its
	// highest, 1 to 1500 V. It is looked at where there is a Power. Zero:
	// [DutyCycle].Voltage.
	Voltage Range[unit.Voltage]
}

// A PowerVoltage says at which voltage of a period a constant power is turned
// into a current.
type PowerVoltage byte

// The two conventions in use.
const (
	// LowestVoltage takes the low end: most amperes, on the safe side.
	LowestVoltage PowerVoltage = iota
	// AverageVoltage takes the middle of the range.
	AverageVoltage
)

// String returns "lowest voltage", "average voltage" or "PowerVoltage(9)".
//
// Definition: the names of the two conventions.
func (v PowerVoltage) String() string {
	switch v {
	case LowestVoltage:
		return "lowest voltage"
	case AverageVoltage:
		return "average voltage"
	}
	return "PowerVoltage(" + strconv.Itoa(int(v)) + ")"
}

// A DutyCycle is all that a battery must carry before it is charged again:
// periods one after another, and a load that may come at any moment. The order
// counts: what comes late meets a battery that is nearly empty. The zero value
// is invalid.
type DutyCycle struct {
	Periods []DutyPeriod // 1 to 1000, in the order in which they come

	// Random is a load whose moment nobody knows; its size is added to that of
	// the worst section. Its zero value: none.
	Random DutyPeriod

	// Voltage is that of every period with a Power and no Voltage of its own.
	Voltage Range[unit.Voltage]

	// Convert says where in the range of the voltage a Power is converted.
	Convert PowerVoltage
}

const (
	leastPeriod = unit.Time(0.1)
	mostPeriod  = 500 * Hour
	mostPeriods = 1000

	mostLoadPower   = unit.Power(10e6)
	leastBusVoltage = unit.Voltage(1)
	mostBusVoltage  = unit.Voltage(1500)

	// mostCycle is the longest cycle sized for: no rate table reaches farther.
	mostCycle = 500 * Hour
)

// dutyLoad returns the current of a period, and the voltage at which its power was
// converted (zero: it has none).
func dutyLoad(d *DutyCycle, p *DutyPeriod) (unit.Current, unit.Voltage) {
	if p.Power == 0 {
		return p.Current, 0
	}
	r := p.Voltage
	if r == (Range[unit.Voltage]{}) {
		r = d.Voltage
	}
	v := r.Low
	if d.Convert == AverageVoltage {
		v = r.Mid()
	}
	return p.Current + unit.Current(float64(p.Power)/float64(v)), v
}

// checkDutyPeriod refuses a period that is none.
func checkDutyPeriod(d *DutyCycle, p *DutyPeriod) error {
	ok := p.Duration >= leastPeriod && p.Duration <= mostPeriod &&
		p.Current >= 0 && p.Current <= mostCurrent && p.Power >= 0 && p.Power <= mostLoadPower
	if !ok {
		return errors.Join(
			pkg.Range("duration of a period", float64(p.Duration), float64(leastPeriod), float64(mostPeriod), domain.Hour),
			pkg.Range("current of a period", float64(p.Current), 0, float64(mostCurrent), domain.Ampere),
			pkg.Range("power of a period", float64(p.Power), 0, float64(mostLoadPower), domain.Watt),
		)
	}
	if p.Power == 0 {
		return nil
	}
	r := p.Voltage
	if r == (Range[unit.Voltage]{}) {
		r = d.Voltage
	}
	return checkRange("voltage of a period with a power", r, float64(leastBusVoltage), float64(mostBusVoltage), domain.Volt)
}

// validateCycle says what is wrong with the cycle, period by period.
func validateCycle(d *DutyCycle) error {
	if n := len(d.Periods); n < 1 || n > mostPeriods {
		return pkg.Invalid("periods of a duty cycle", strconv.Itoa(n), "1 to "+strconv.Itoa(mostPeriods))
	}
	if d.Convert > AverageVoltage {
		return pkg.Invalid("voltage of conversion", d.Convert.String(), "lowest or average voltage")
	}
	var err error
	var total unit.Time
	var most unit.Current
	for i := range d.Periods {
		if e := checkDutyPeriod(d, &d.Periods[i]); e != nil {
			err = errors.Join(err, &PeriodError{Period: i + 1, Err: e})
			continue
		}
		load, _ := dutyLoad(d, &d.Periods[i])
		most = max(most, load)
		total += d.Periods[i].Duration
	}
	if d.Random != (DutyPeriod{}) {
		if e := checkDutyPeriod(d, &d.Random); e != nil {
			err = errors.Join(err, &PeriodError{Err: e})
		}
	}
	if err != nil {
		return err
	}
	return errors.Join(
		checkCurrent("largest load of a duty cycle", most),
		pkg.Range("length of a duty cycle", float64(total), float64(leastPeriod), float64(mostCycle), domain.Hour),
	)
}

// A PeriodError says in which period of a duty cycle something is wrong.
type PeriodError struct {
	Period int   // from 1; 0 is the random load
	Err    error // the fault itself
}

// Error returns "battery: period 2: ...", or "battery: random load: ...".
func (e *PeriodError) Error() string {
	fault := "refused"
	if e.Err != nil {
		fault = e.Err.Error()
	}
	if e.Period == 0 {
		return "battery: random load: " + fault
	}
	return "battery: period " + strconv.Itoa(e.Period) + ": " + fault
}

// Unwrap returns the fault itself, an [ErrDomain].
func (e *PeriodError) Unwrap() error { return e.Err }

// Load returns the current of period i, from 0,
//
//	A = I + P/V
//
// where I is its current (A), P its power (W) and V the voltage (V) that
// d.Convert names. A cycle outside its bounds, or an i that is no period, is
// an [ErrDomain].
//
// Source: IEEE Std 485 (constant-power loads).
func (d DutyCycle) Load(i int) (unit.Current, error) {
	if err := validateCycle(&d); err != nil {
		return 0, err
	}
	if i < 0 || i >= len(d.Periods) {
		return 0, pkg.Invalid("period", strconv.Itoa(i), "0 to "+strconv.Itoa(len(d.Periods)-1))
	}
	a, _ := dutyLoad(&d, &d.Periods[i])
	return a, nil
}

// Charge returns the plain ampere-hours of the cycle,
//
//	Q = Σ A·t, the random load included
//
// where A is the load of a period (A) and t its duration (h). It knows nothing
// of rates and of the order of the loads, and is here to be laid beside
// [Sizing.Size]. A cycle outside its bounds is an [ErrDomain].
//
// Definition: charge moved.
func (d DutyCycle) Charge() (unit.Charge, error) {
	if err := validateCycle(&d); err != nil {
		return 0, err
	}
	return cycleCharge(&d), nil
}

func cycleCharge(d *DutyCycle) unit.Charge {
	var q float64
	for i := range d.Periods {
		a, _ := dutyLoad(d, &d.Periods[i])
		q += float64(a) * float64(d.Periods[i].Duration)
	}
	a, _ := dutyLoad(d, &d.Random)
	return unit.Charge(q + float64(a)*float64(d.Random.Duration))
}

// Duration returns how long the cycle lasts, the random load aside. A cycle
// outside its bounds is an [ErrDomain].
//
// Definition: the sum of the durations.
func (d DutyCycle) Duration() (unit.Time, error) {
	if err := validateCycle(&d); err != nil {
		return 0, err
	}
	var t unit.Time
	for i := range d.Periods {
		t += d.Periods[i].Duration
	}
	return t, nil
}
