package conductor

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// prepared holds what does not depend on the conductor.
type prepared struct {
	*Limits
	factor   float64 // of the circuit
	derating float64 // of the code's ampacity: ambient times number
	boat     float64 // of boat cable: engine space times bundle
	k        [Aluminium + 1]float64
	smallest float64 // areas of the terminals
	largest  float64
}

// prepare checks the limits and works out what all conductors share.
func prepare(l *Limits) (prepared, error) {
	p := prepared{Limits: l}
	err := checkLimits(l)
	if l.AllowedRunning != 0 || l.AllowedStarting != 0 {
		var e error
		p.factor, e = l.Circuit.Factor()
		err = errors.Join(err, e)
	}
	switch l.Basis {
	case NoAmpacityBasis, StatedAmpacity:
	case CodeAmpacity:
		b := l.Branch
		b.Size, b.Metal = AWG(0), Copper // a size that every table has
		_, e := b.Current()
		err = errors.Join(err, e)
		p.derating = derating(&b)
	case BoatAmpacity:
		b := l.Boat
		b.Size = AWG(0)
		i, e := b.Ampacity()
		err = errors.Join(err, e)
		p.boat = float64(i) / boatCable[boatZero].outside
	default:
		err = errors.Join(err, pkg.Invalid("basis of ampacity", strconv.Itoa(int(l.Basis)), "NoAmpacityBasis to StatedAmpacity"))
	}
	if l.Surge != 0 {
		for m := Copper; m <= Aluminium; m++ {
			law, e := m.HeatingIEC()
			k, e2 := law.Factor(l.Initial, l.Final)
			if m == Copper {
				err = errors.Join(err, e, e2)
			}
			p.k[m] = float64(k)
		}
	}
	p.smallest, p.largest = l.SmallestTerminal.area(), l.LargestTerminal.area()
	return p, err
}

const boatZero = 11 // row of 1/0 AWG in boatCable

func checkLimits(l *Limits) error {
	drop := l.AllowedRunning != 0 || l.AllowedStarting != 0
	var err error
	if !drop && l.Basis == NoAmpacityBasis && l.Surge == 0 && !l.SmallestTerminal.IsValid() && !l.LargestTerminal.IsValid() && !l.Stud.IsValid() {
		return pkg.Invalid("limits", "none stated", "at least one")
	}
	if drop {
		x := float64(l.Reactance)
		err = errors.Join(checkOneWay(float64(l.OneWay)), checkTemperature(float64(l.Temperature)),
			pkg.Range("reactance", x, 0, maxReactance, perKilometre))
		if l.Source != 0 {
			err = errors.Join(err, checkSource(l.Source))
		}
	}
	if l.AllowedRunning != 0 {
		err = errors.Join(err, l.Running.check(), DropLimit{Allowed: l.AllowedRunning}.checkAllowed())
	}
	if l.AllowedStarting != 0 {
		err = errors.Join(err, l.Starting.check(), DropLimit{Allowed: l.AllowedStarting}.checkAllowed())
	}
	if l.Basis != NoAmpacityBasis {
		err = errors.Join(err, pkg.Range("least ampacity", float64(l.LeastAmpacity), 1e-3, maxCurrent, domain.Ampere))
	}
	if l.Surge != 0 {
		err = errors.Join(err, checkFault(l.Surge), checkShort(l.SurgeTime))
	}
	if l.SmallestTerminal.IsValid() && l.LargestTerminal.IsValid() && l.SmallestTerminal.Compare(l.LargestTerminal) > 0 {
		err = errors.Join(err, l.LargestTerminal.refuse("not below the smallest terminal, "+l.SmallestTerminal.String()))
	}
	return err
}

// passes is whether all checks pass, for one conductor known to be good: the
// quickest first, and no more after the first that fails.
func (p *prepared) passes(c *Candidate) bool {
	area := areaOf(c.Wire.Size)
	if p.smallest > 0 || p.largest > 0 {
		if !p.terminal(area).Passes {
			return false
		}
	}
	if p.Basis != NoAmpacityBasis {
		if i := p.ampacity(c); !(i > 0 && float64(p.LeastAmpacity) <= i) {
			return false
		}
	}
	if p.Surge != 0 && !(p.leastArea(c.Wire.Metal) <= area) {
		return false
	}
	if p.Stud.IsValid() && !p.hole(c.Hole).Passes {
		return false
	}
	if p.AllowedRunning == 0 && p.AllowedStarting == 0 {
		return true
	}
	r, known := p.resistance(&c.Wire)
	return known && (p.AllowedRunning == 0 || p.drop(r, true, &p.Running, p.AllowedRunning).Passes) &&
		(p.AllowedStarting == 0 || p.drop(r, true, &p.Starting, p.AllowedStarting).Passes)
}

// leastArea that stands the surge (m²).
func (p *prepared) leastArea(m Metal) float64 {
	return float64(p.Surge) * math.Sqrt(float64(p.SurgeTime)) / p.k[m]
}

// checks works out all limits for one conductor known to be good.
func (p *prepared) checks(c *Candidate) (checks [NumLimits]LimitCheck) {
	if p.AllowedRunning != 0 || p.AllowedStarting != 0 {
		r, known := p.resistance(&c.Wire)
		if p.AllowedRunning != 0 {
			checks[RunningDrop] = p.drop(r, known, &p.Running, p.AllowedRunning)
		}
		if p.AllowedStarting != 0 {
			checks[StartingDrop] = p.drop(r, known, &p.Starting, p.AllowedStarting)
		}
	}
	if p.Basis != NoAmpacityBasis {
		i := p.ampacity(c)
		checks[LongTermCurrent] = bounded(i > 0, float64(p.LeastAmpacity), i)
	}
	area := areaOf(c.Wire.Size)
	if p.Surge != 0 {
		checks[ShortTimeCurrent] = bounded(true, p.leastArea(c.Wire.Metal), area)
	}
	if p.smallest > 0 || p.largest > 0 {
		checks[TerminalRange] = p.terminal(area)
	}
	if p.Stud.IsValid() {
		checks[StudHole] = p.hole(c.Hole)
	}
	for i := range checks {
		if !checks[i].Stated {
			checks[i].Passes = true
		}
	}
	return checks
}

// bounded is the check of a value that must not be above a bound.
func bounded(known bool, value, bound float64) LimitCheck {
	if !known {
		return LimitCheck{Stated: true, Value: value}
	}
	return LimitCheck{true, true, value, bound, value / bound, value <= bound}
}

// resistance is that of one conductor of the run (Ω), without an error for metric
// sizes that do not exist in a metal or stranding.
func (p *prepared) resistance(w *Wire) (r float64, known bool) {
	if w.Size.system == metric {
		for i := range iec {
			if row := &iec[i]; row.hundredths == w.Size.number {
				if row.maximum(*w) == 0 {
					return 0, false
				}
				break
			}
		}
	}
	per, err := w.Resistance(p.Temperature)
	return float64(per) * float64(p.OneWay), err == nil
}

func (p *prepared) drop(r float64, known bool, load *Load, allowed unit.Voltage) LimitCheck {
	if !known {
		return LimitCheck{Stated: true, Bound: float64(allowed)}
	}
	sin, cos := load.sincos()
	r *= p.factor
	x := p.factor * float64(p.Reactance) * float64(p.OneWay)
	i, vs := float64(load.Current), float64(p.Source)
	along := i * (r*cos + x*sin)
	if vs == 0 {
		return bounded(true, along, float64(allowed))
	}
	across := i * (x*cos - r*sin)
	drop := vs
	if left := vs*vs - across*across; left > 0 {
		drop = min(vs, vs-math.Sqrt(left)+along)
	}
	return bounded(true, drop, float64(allowed))
}

// ampacity is 0 where none is known.
func (p *prepared) ampacity(c *Candidate) float64 {
	switch p.Basis {
	case CodeAmpacity:
		return p.codeAmpacity(&c.Wire)
	case BoatAmpacity:
		if c.Wire.Metal != Copper {
			return 0
		}
		for i := range boatCable {
			if r := &boatCable[i]; r.size == c.Wire.Size {
				return r.outside * p.boat
			}
		}
		return 0
	default:
		return float64(c.Ampacity)
	}
}

// derating is the factor for ambient temperature and number, for branches known
// to be good.
func derating(b *Branch) float64 {
	count, _ := CountFactor(b.Conductors)
	if b.AmbientRule == ByFormula {
		tc, _ := b.Insulation.Temperature()
		law, _ := AmbientLaw(tc, Celsius(30), b.Ambient)
		return law * count
	}
	band, _ := AmbientFactor(b.Insulation, Base30C, b.Ambient)
	return band * count
}

// codeAmpacity is Branch.Current, and 0 for sizes that its tables do not have.
func (p *prepared) codeAmpacity(w *Wire) float64 {
	row, b := w.Size.codeRow(), &p.Branch
	if row < 0 {
		return 0
	}
	raceway := &raceway2011[row]
	if b.Edition == Before2011 {
		raceway = &racewayBefore2011[row]
	}
	metal := 0
	if w.Metal == Aluminium {
		metal = 3
	}
	table := raceway[metal+int(b.Insulation-Rated60C)]
	if b.Place == InFreeAir {
		if w.Metal != Copper || row >= len(freeAirCopper) {
			return 0
		}
		table = freeAirCopper[row][b.Insulation-Rated60C]
	}
	column, err := TerminationColumn(w.Size, b.Rating, b.Terminals)
	if err != nil {
		return 0
	}
	return min(table*p.derating, raceway[metal+int(column-Rated60C)])
}

func (p *prepared) terminal(area float64) LimitCheck {
	const slack = 1e-9
	if p.smallest > 0 && area < p.smallest*(1-slack) {
		return LimitCheck{true, true, area, p.smallest, p.smallest / area, false}
	}
	if p.largest > 0 {
		return LimitCheck{true, true, area, p.largest, area / p.largest, area <= p.largest*(1+slack)}
	}
	return LimitCheck{true, true, area, p.smallest, p.smallest / area, true}
}

func (p *prepared) hole(hole Range[unit.Length]) LimitCheck {
	d := studs[p.Stud.row-1].diameter * 1e-3
	if hole == (Range[unit.Length]{}) {
		return LimitCheck{Stated: true, Known: true, Value: d, Passes: true}
	}
	f, err := p.Stud.Fit(hole)
	return LimitCheck{true, err == nil, d, float64(hole.Low), d / float64(hole.Low), err == nil && f.Verdict == Fits}
}

// worst is the limit with the highest use, one that fails before one that passes
// and one of which nothing is known before all.
func worst(checks *[NumLimits]LimitCheck) Limit {
	best, class, use := Limit(0), -1, 0.0
	for i := range checks {
		c := &checks[i]
		if !c.Stated {
			continue
		}
		k := 0
		switch {
		case !c.Known:
			k = 2
		case !c.Passes:
			k = 1
		}
		if k > class || k == class && c.Use > use {
			best, class, use = Limit(i), k, c.Use
		}
	}
	return best
}
