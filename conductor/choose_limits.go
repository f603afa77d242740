package conductor

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Limit is one of the things that bound the choice of a conductor.
type Limit uint8

const (
	// RunningDrop is the voltage lost while the load runs.
	RunningDrop Limit = iota
	// StartingDrop is the voltage lost while it starts.
	StartingDrop
	// LongTermCurrent is the ampacity.
	LongTermCurrent
	// ShortTimeCurrent is the adiabatic limit of a surge or fault.
	ShortTimeCurrent
	// TerminalRange is the range of sizes that the terminals take.
	TerminalRange
	// StudHole is the fit of the terminal's hole on the stud.
	StudHole
	// NumLimits is their number.
	NumLimits
)

var limitNames = [...]string{"running drop", "starting drop", "ampacity", "short-time current", "terminal size", "stud"}

// String returns the name of the limit.
//
// Definition: the words of this package.
func (l Limit) String() string {
	if int(l) < len(limitNames) {
		return limitNames[l]
	}
	return "no limit"
}

// A LimitCheck lays one conductor beside one limit.
type LimitCheck struct {
	Stated bool // whether the limit was stated; one that was not passes
	// Known: the figures could be worked out. Where they could not, as for a size
	// that a table does not have, the conductor fails.
	Known bool
	// Value and Bound in SI units: the drop and the allowed one (V), the current
	// and the ampacity (A), the least area and the area (m²). For terminals and
	// studs, the area and the bound it breaks or is nearest to (m²), and the stud
	// and the hole (m).
	Value, Bound float64
	// Use is what part of the limit is used: above 1 it fails. It is 0 where
	// nothing is known.
	Use    float64
	Passes bool
}

// An AmpacityBasis says where the ampacity of a conductor comes from. The zero
// value is none: ampacity is then no limit.
type AmpacityBasis uint8

const (
	// NoAmpacityBasis leaves ampacity out.
	NoAmpacityBasis AmpacityBasis = iota
	// CodeAmpacity is [Branch.Current] with the wire's size and metal.
	CodeAmpacity
	// BoatAmpacity is [BoatCable.Ampacity] with the wire's size.
	BoatAmpacity
	// StatedAmpacity is the one that the catalogue states.
	StatedAmpacity
)

// Limits are what a conductor has to pass. A limit whose allowed value is zero is
// not stated; at least one has to be.
type Limits struct {
	Circuit     Circuit             // two-wire or three-phase
	OneWay      unit.Length         // from source to load, not out and back
	Temperature unit.Temperature    // of the conductor, for the drop
	Reactance   ResistancePerLength // of one conductor; zero for direct current
	// Source is the voltage at the head of the run, for the exact drop; zero: the
	// usual approximation, which is exact for direct current.
	Source unit.Voltage

	Running        Load         // steady load, for the drop
	AllowedRunning unit.Voltage // the drop itself; zero: no limit
	// Starting is the load at the start as a current, which for a motor is the
	// locked-rotor current: the real one is less where the voltage sinks.
	Starting        Load
	AllowedStarting unit.Voltage // zero: no limit

	Basis AmpacityBasis // of the ampacity; zero: no limit
	// LeastAmpacity is what is asked of it, 125 % of a continuous load.
	LeastAmpacity unit.Current
	// Branch and Boat hold the conditions of the run, with no size; in Branch the
	// metal is not read either.
	Branch Branch
	Boat   BoatCable

	// Surge for SurgeTime must not heat the conductor from Initial to above Final;
	// zero Surge: no limit.
	Surge          unit.Current
	SurgeTime      unit.Time // 0.1 to 5 s
	Initial, Final unit.Temperature

	// SmallestTerminal and LargestTerminal are the sizes that the terminals at
	// both ends take; zero: no limit.
	SmallestTerminal, LargestTerminal Size
	// Stud that the terminals have to go on; zero: no limit. Candidates without a
	// hole pass.
	Stud Stud
}

// Check lays one conductor beside all limits and reports whether it passes them.
//
//   - running and starting drop: [Impedance.Drop] of the run with one segment, or
//     source less [Impedance.LoadVoltage] where Source is given; a line that
//     leaves no voltage drops all of it
//   - ampacity: LeastAmpacity/Iz
//   - short-time current: S' = I·√t/k over the area, k of [HeatingLaw.Factor] by
//     the IEC
//   - terminal size: the area between those of the two sizes, by name
//   - stud: [Stud.Fit] in the candidate's hole, which has to be [Fits]
//
// Limits or a candidate out of their range give an error that wraps [ErrDomain];
// an ambient that leaves no ampacity gives [ErrNoAmpacity].
//
// Source: as [Run.Impedance], [Branch.Ampacity], [BoatCable.Ampacity],
// [AdiabaticFactor.LeastArea] and [Stud.Fit].
func (l Limits) Check(c Candidate) ([NumLimits]LimitCheck, bool, error) {
	w, err := l.prepare()
	if err = errors.Join(err, c.check()); err != nil {
		return [NumLimits]LimitCheck{}, false, err
	}
	checks, ok := w.checks(&c)
	return checks, ok, nil
}

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
func (l *Limits) prepare() (prepared, error) {
	p := prepared{Limits: l}
	err := l.check()
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
		p.derating = b.derating()
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

func (l *Limits) check() error {
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

// checks works out all limits for one conductor known to be good.
func (p *prepared) checks(c *Candidate) (checks [NumLimits]LimitCheck, ok bool) {
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
	area := c.Wire.Size.area()
	if p.Surge != 0 {
		least := float64(p.Surge) * math.Sqrt(float64(p.SurgeTime)) / p.k[c.Wire.Metal]
		checks[ShortTimeCurrent] = bounded(true, least, area)
	}
	if p.smallest > 0 || p.largest > 0 {
		checks[TerminalRange] = p.terminal(area)
	}
	if p.Stud.IsValid() {
		checks[StudHole] = p.hole(c.Hole)
	}
	ok = true
	for i := range checks {
		if !checks[i].Stated {
			checks[i].Passes = true
		}
		ok = ok && checks[i].Passes
	}
	return checks, ok
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
func (b *Branch) derating() float64 {
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
	best := Limit(0)
	rank := math.Inf(-1)
	for i := range checks {
		c := &checks[i]
		if !c.Stated {
			continue
		}
		use := c.Use
		switch {
		case !c.Known:
			use = math.MaxFloat64
		case !c.Passes:
			use += 1e100
		}
		if use > rank {
			best, rank = Limit(i), use
		}
	}
	return best
}
