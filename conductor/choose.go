package conductor

import (
	"errors"
	"fmt"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Candidate is a conductor that can be had.
type Candidate struct {
	Wire Wire
	// Price of a metre of one conductor in any currency; zero where prices do
	// not matter.
	Price float64
	// Ampacity that the maker or a table states, 1 mA to 100 kA; read where the
	// limits go by it. Zero: not stated.
	Ampacity unit.Current
	// Hole of the terminals that it is sold with; zero where lugs of any hole can
	// be had for it.
	Hole Range[unit.Length]
}

// An Order says which of the conductors that pass is the best. The zero value
// is the smallest.
type Order uint8

const (
	// BySize takes the smallest area; of equal areas the cheaper, then the one
	// that stands first in the list.
	BySize Order = iota
	// ByPrice takes the lowest price; of equal prices the smaller, then the one
	// that stands first.
	ByPrice
)

// String returns "smallest" or "cheapest".
//
// Definition: the words of this package.
func (o Order) String() string {
	switch o {
	case BySize:
		return "smallest"
	case ByPrice:
		return "cheapest"
	default:
		return "no order"
	}
}

// A Choice is the best conductor of a list that passes all limits, with what
// decided it.
type Choice struct {
	// Index in the list, and the candidate that stands there.
	Index     int
	Candidate Candidate
	// Checks of the limits at the choice, by [Limit]; all pass.
	Checks [NumLimits]LimitCheck
	// Governs is the limit that rules out Down, the one it fails by most where it
	// fails several; without a Down, the limit with the highest use.
	Governs Limit
	// Down is the next one in the order, the next size down or the next
	// cheaper, which fails. HasDown is false where nothing stands before the
	// choice.
	HasDown    bool
	DownIndex  int
	Down       Candidate
	DownChecks [NumLimits]LimitCheck
}

// Choose returns the best conductor of a catalogue that passes all limits. The
// list is the caller's, may come in any order, and is only read; nothing is
// allocated. A conductor of which a limit cannot be worked out, such as a size
// that an ampacity table does not have, fails that limit.
//
// Every conductor that stands before the choice in the order fails some limit;
// Choice.Down is the nearest of them.
//
// Where none passes, err is a [NoConductorError]. Limits out of their range, an
// empty list, a wire with a zero field or a price that is not 0 to 1e9 give an
// error that wraps [ErrDomain] and names the row, counted from 1.
//
// Source: the limits' own, as [Limits] names them.
func (l Limits) Choose(catalogue []Candidate, order Order) (Choice, error) {
	return l.choose(offer{catalogue: catalogue, n: len(catalogue)}, order)
}

// ChooseSize returns the smallest of the sizes that passes all limits, for a
// wire whose metal, stranding and tinning are given: w.Size is not read. It is
// [Limits.Choose] without prices, holes and stated ampacities.
//
// Valid and with the errors of [Limits.Choose].
//
// Source: the limits' own, as [Limits] names them.
func (l Limits) ChooseSize(w Wire, sizes []Size) (Choice, error) {
	return l.choose(offer{wire: w, sizes: sizes, n: len(sizes)}, BySize)
}

// AWGSizes returns the sizes of the American Wire Gauge, 40 AWG to 4/0 AWG,
// smallest first.
//
// Source: ASTM B258.
func AWGSizes() []Size {
	sizes := make([]Size, 0, finestGauge-largestGauge+1)
	for n := finestGauge; n >= largestGauge; n-- {
		sizes = append(sizes, AWG(n))
	}
	return sizes
}

// An offer is a catalogue, or a list of sizes of one wire.
type offer struct {
	catalogue []Candidate
	wire      Wire
	sizes     []Size
	n         int
}

func (o *offer) at(i int) Candidate {
	if o.sizes == nil {
		return o.catalogue[i]
	}
	w := o.wire
	w.Size = o.sizes[i]
	return Candidate{Wire: w}
}

// gaugeAreas holds Size.area of the gauge from 4/0, which costs a power each.
var gaugeAreas = func() (areas [finestGauge - largestGauge + 1]float64) {
	for i := range areas {
		areas[i] = Size{gauge, int32(i + largestGauge)}.area()
	}
	return areas
}()

// areaOf is Size.area for sizes known to be valid.
func areaOf(s Size) float64 {
	if s.system == gauge {
		return gaugeAreas[s.number-largestGauge]
	}
	return s.area()
}

// place is where a candidate stands in an order: the lesser is the better.
type place struct {
	first, second float64
	index         int
}

func (p place) before(q place) bool {
	if p.first != q.first {
		return p.first < q.first
	}
	if p.second != q.second {
		return p.second < q.second
	}
	return p.index < q.index
}

func (o *offer) place(i int, order Order) place {
	if o.sizes != nil {
		return place{areaOf(o.sizes[i]), 0, i}
	}
	c := &o.catalogue[i]
	if order == ByPrice {
		return place{c.Price, areaOf(c.Wire.Size), i}
	}
	return place{areaOf(c.Wire.Size), c.Price, i}
}

func (l Limits) choose(o offer, order Order) (Choice, error) {
	w, err := prepare(&l)
	if err = errors.Join(err, o.check(order)); err != nil {
		return Choice{}, err
	}
	best, last := -1, 0
	var at, end place
	for i := range o.n {
		p := o.place(i, order)
		if i == 0 || end.before(p) {
			last, end = i, p
		}
		if best >= 0 && at.before(p) {
			continue
		}
		if c := o.at(i); w.passes(&c) {
			best, at = i, p
		}
	}
	if best < 0 {
		c := o.at(last)
		got := w.checks(&c)
		return Choice{}, &NoConductorError{Last: c, Checks: got, Fails: worst(&got)}
	}
	choice := Choice{Index: best, Candidate: o.at(best)}
	choice.Checks = w.checks(&choice.Candidate)
	choice.Governs = worst(&choice.Checks)
	var below place
	for i := range o.n {
		if p := o.place(i, order); p.before(at) && (!choice.HasDown || below.before(p)) {
			below, choice.HasDown, choice.DownIndex = p, true, i
		}
	}
	if choice.HasDown {
		choice.Down = o.at(choice.DownIndex)
		choice.DownChecks = w.checks(&choice.Down)
		choice.Governs = worst(&choice.DownChecks)
	}
	return choice, nil
}

const maxPrice = 1e9

// check looks over the list before anything is worked out.
func (o *offer) check(order Order) error {
	var err error
	if order > ByPrice {
		err = pkg.Invalid("order", strconv.Itoa(int(order)), "BySize or ByPrice")
	}
	if o.n == 0 {
		return errors.Join(err, pkg.Invalid("list of conductors", "empty", "at least one"))
	}
	if o.sizes != nil {
		w := o.wire
		w.Size = AWG(0)
		err = errors.Join(err, w.check())
		for i, s := range o.sizes {
			if !s.IsValid() {
				err = errors.Join(err, fmt.Errorf("row %d: %w", i+1, s.refuse(wantSize)))
			}
		}
		return err
	}
	for i := range o.catalogue {
		if e := o.catalogue[i].check(); e != nil {
			err = errors.Join(err, fmt.Errorf("row %d: %w", i+1, e))
		}
	}
	return err
}

func (c *Candidate) check() error {
	err := errors.Join(c.Wire.check(), pkg.Range("price", c.Price, 0, maxPrice, domain.One))
	if c.Ampacity != 0 {
		err = errors.Join(err, pkg.Range("ampacity", float64(c.Ampacity), 1e-3, maxCurrent, domain.Ampere))
	}
	if c.Hole != (Range[unit.Length]{}) {
		err = errors.Join(err, checkHole(c.Hole))
	}
	return err
}
