package conductor

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A LoadCycle is a current that comes and goes, as of a pump that runs and
// rests.
type LoadCycle struct {
	On, Rest    unit.Time    // running and resting, each at least 1 ms
	Current     unit.Current // while on
	RestCurrent unit.Current // while resting; zero: off
}

// CycleTemperatures are those of a conductor at the two ends of a cycle.
type CycleTemperatures struct {
	AfterOn   unit.Temperature // at the end of the on-time, the peak of a pump's cycle
	AfterRest unit.Temperature // at the end of the rest
}

// AfterCycles returns the temperatures at the end of the n-th on-time and of
// the rest that follows it: [ThermalModel.After] applied 2n times, in closed
// form.
//
// A temperature above 1083 °C in one of the cycles gives a [TooHotError].
//
// Valid for −60 to 1083 °C at the start, 1 to 1e9 cycles, 0 to 100 kA and 1 ms
// to ten years each of on-time and rest; otherwise err wraps [ErrDomain].
//
// Source: superposition of exponentials, the principle of IEC 60853-1; derived
// from the equation of [ThermalModel].
func (m ThermalModel) AfterCycles(start unit.Temperature, c LoadCycle, n int) (CycleTemperatures, error) {
	if !(modelOK(&m) && cycleOK(&c) && hotOK(start) && n >= 1 && n <= maxCycles) {
		err := errors.Join(m.check(), c.check(), checkHot("temperature at the start", start))
		if n < 1 || n > maxCycles {
			err = errors.Join(err, pkg.Invalid("number of cycles", strconv.Itoa(n), "1 to 1000000000"))
		}
		return CycleTemperatures{}, err
	}
	p := periodOf(&m, &c)
	// Before the n-th on-time θ = e·θ0 + c·(1 − eⁿ)/(1 − e) with n − 1 for n,
	// and the ends of on-times rise or fall in one direction: the first and the
	// last are the extremes.
	before := start - m.Ambient
	first := p.temperatures(m.Ambient, float64(before))
	last := p.temperatures(m.Ambient, p.advance(float64(before), float64(n-1)))
	if !(first.AfterOn <= hottest && first.AfterRest <= hottest && last.AfterOn <= hottest && last.AfterRest <= hottest) {
		return CycleTemperatures{}, &TooHotError{Current: max(c.Current, c.RestCurrent)}
	}
	return last, nil
}

// CyclicLimit returns the temperatures that a cycle tends to when it goes on
// for ever. With θ the rise above ambient, a = exp(−k1·ton) and b =
// exp(−k2·toff), where k = (G − I²·R·α)/C of each part, and θ1 and θ2 the rises
// at which either part alone would settle,
//
//	θon = (θ1·(1 − a) + θ2·(1 − b)·a) / (1 − a·b)
//
// and the like for the end of the rest. A rest can save a cable whose current
// is above the runaway current; a cycle that has no limit gives a
// [RunawayError], and one above 1083 °C a [TooHotError].
//
// Valid as [ThermalModel.AfterCycles].
//
// Source: as [ThermalModel.AfterCycles], n without end.
func (m ThermalModel) CyclicLimit(c LoadCycle) (CycleTemperatures, error) {
	if !(modelOK(&m) && cycleOK(&c)) {
		return CycleTemperatures{}, errors.Join(m.check(), c.check())
	}
	p := periodOf(&m, &c)
	if p.gain1 == 0 && p.gain2 == 0 { // no current at all
		return CycleTemperatures{m.Ambient, m.Ambient}, nil
	}
	most := max(c.Current, c.RestCurrent)
	if !(p.exponent > 0) {
		return CycleTemperatures{}, &RunawayError{Current: most, Limit: m.runaway()}
	}
	got := p.temperatures(m.Ambient, p.gain()/p.closing())
	if !(got.AfterOn <= hottest && got.AfterRest <= hottest) {
		return CycleTemperatures{}, &TooHotError{Current: most}
	}
	return got, nil
}

// A period is one cycle as two straight maps of the rise, θ → decay·θ + gain.
type period struct {
	decay1, gain1 float64 // on
	decay2, gain2 float64 // rest
	exponent      float64 // k1·ton + k2·toff, which is positive if the cycle has a limit
}

func periodOf(m *ThermalModel, c *LoadCycle) period {
	on, rest := float64(c.On), float64(c.Rest)
	s1, k1 := rates(m, c.Current)
	s2, k2 := rates(m, c.RestCurrent)
	d1, t1 := decay(k1, on)
	d2, t2 := decay(k2, rest)
	return period{decay1: d1, gain1: s1 * t1, decay2: d2, gain2: s2 * t2, exponent: k1*on + k2*rest}
}

// closing is 1 − exp(−k1·ton − k2·toff).
func (p *period) closing() float64 {
	if p.exponent > shortest {
		return 1 - p.decay1*p.decay2
	}
	return -math.Expm1(-p.exponent)
}

// gain is that of the whole cycle.
func (p *period) gain() float64 { return p.gain1*p.decay2 + p.gain2 }

// advance returns the rise after n cycles.
func (p *period) advance(rise, n float64) float64 {
	if n == 0 {
		return rise
	}
	sum := n // of the powers of the decay
	if p.exponent != 0 {
		sum = math.Expm1(-n*p.exponent) / math.Expm1(-p.exponent)
	}
	return rise*math.Exp(-n*p.exponent) + p.gain()*sum
}

// temperatures are those of the cycle that starts at a rise.
func (p *period) temperatures(ambient unit.Temperature, rise float64) CycleTemperatures {
	on := p.decay1*rise + p.gain1
	rest := p.decay2*on + p.gain2
	return CycleTemperatures{ambient + unit.Temperature(on), ambient + unit.Temperature(rest)}
}

const (
	maxCycles = 1e9
	minPart   = 1e-3 // (s)
)

func cycleOK(c *LoadCycle) bool {
	return c.On >= minPart && c.On <= maxTime && c.Rest >= minPart && c.Rest <= maxTime &&
		currentOK(c.Current) && currentOK(c.RestCurrent)
}

func (c LoadCycle) check() error {
	return errors.Join(pkg.Range("on-time", float64(c.On), minPart, maxTime, domain.Second),
		pkg.Range("rest", float64(c.Rest), minPart, maxTime, domain.Second),
		checkAnyCurrent(c.Current),
		pkg.Range("current at rest", float64(c.RestCurrent), 0, maxCurrent, domain.Ampere))
}
