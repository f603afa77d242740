package plan

import (
	"encoding/json"
	"fmt"
)

// A Plan is what the planner concludes for a site.
type Plan struct {
	Site        Site
	Verdict     []string
	Sections    []Section
	Schedules   []Schedule
	Checks      []Check
	Assumptions []string
	Cautions    []Caution
	Keys        []string // of the loads, in their order: the first part of their figures' keys
}

// Passes reports whether every check that is no mere advice holds over the
// whole range of what is known.
func (p *Plan) Passes() bool {
	for _, c := range p.Checks {
		if !c.Advice && c.State != Holds {
			return false
		}
	}
	return true
}

// Figure returns the figure with that key.
func (p *Plan) Figure(key string) (Figure, bool) {
	for _, s := range p.Sections {
		for _, f := range s.Figures {
			if f.Key == key {
				return f, true
			}
		}
	}
	return Figure{}, false
}

// A Section is a part of the plan: its figures and what to read into them.
type Section struct {
	Title   string
	Figures []Figure
	Notes   []string
}

func (s *Section) add(f Figure) { s.Figures = append(s.Figures, f) }

func (s *Section) note(format string, args ...any) {
	s.Notes = append(s.Notes, fmt.Sprintf(format, args...))
}

// A Schedule is a list for the one who builds: which wire from where to where,
// what protects it, what is to be measured at it.
type Schedule struct {
	Title   string     `json:"title"`
	Columns []string   `json:"columns"`
	Rows    [][]string `json:"rows"`
	Source  string     `json:"source"`
}

// A Figure is one computed number with everything needed to redo it by hand.
type Figure struct {
	Key       string // dotted, the unit after the last underscore: "well_pump.run_real_w"
	Label     string
	Unit      string
	Low, High float64 // equal where the figure is known exactly
	Also      string  // the same in the trade's other unit
	Basis     Basis
	Formula   string // in the symbols of the source
	Numbers   string // what was put in
	Source    string
	Shortcut  *Shortcut
}

// A Shortcut is what a rule of the trade gives for the same figure.
type Shortcut struct {
	Rule  string
	Value float64
	Why   string // why it differs
}

// Times returns how many times the figure's range the shortcut is: both 1
// where it is right or where there is nothing to divide by, the second +Inf
// where the figure may be 0.
func (f Figure) Times() (low, high float64) {
	if f.Shortcut == nil || f.Low < 0 || f.High <= 0 || f.Shortcut.Value <= 0 {
		return 1, 1
	}
	return f.Shortcut.Value / f.High, f.Shortcut.Value / f.Low
}

// MarshalJSON writes what belongs to a key of the results.
func (f Figure) MarshalJSON() ([]byte, error) {
	type shortcut struct {
		Rule  string  `json:"rule"`
		Value float64 `json:"value"`
		Why   string  `json:"why"`
	}
	out := struct {
		Label    string    `json:"label"`
		Unit     string    `json:"unit"`
		Low      float64   `json:"low"`
		High     float64   `json:"high"`
		Also     string    `json:"also,omitempty"`
		Basis    Basis     `json:"basis"`
		Formula  string    `json:"formula"`
		Numbers  string    `json:"numbers"`
		Source   string    `json:"source"`
		Shortcut *shortcut `json:"shortcut,omitempty"`
	}{f.Label, f.Unit, round(f.Low), round(f.High), f.Also, f.Basis, f.Formula, f.Numbers, f.Source, nil}
	if f.Shortcut != nil {
		out.Shortcut = &shortcut{f.Shortcut.Rule, round(f.Shortcut.Value), f.Shortcut.Why}
	}
	return json.Marshal(out)
}

// A State says how a check came out.
type State byte

// The states of a check. A check that holds at one end of what is known and
// not at the other depends on the figure that is not known well enough, and
// does not pass.
const (
	Fails State = iota
	Depends
	Holds
)

var stateNames = []string{"fails", "depends", "holds"}

// String returns the word that plans use.
func (s State) String() string { return stateNames[s] }

// MarshalText writes the word that plans use.
func (s State) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// A Check compares a figure with its limit.
type Check struct {
	ID    string
	Title string
	Unit  string
	Low   float64 // the figure, as a range
	High  float64
	Limit float64 // at the bad end of what is known
	// GoodLimit is the limit at the good end where that is another one; zero:
	// it is the same.
	GoodLimit float64
	AtLeast   bool // the figure must be at least the limit; otherwise at most
	Advice    bool // a figure of good practice, which does not make a plan fail
	Setting   bool // a match of two settings, whose margin says nothing while it holds
	State     State
	Basis     Basis
	Message   string
	Source    string
}

// Margin is capability over demand at the bad end of the range: 1.25 means a
// quarter to spare, below 1 the check does not hold.
func (c Check) Margin() float64 {
	if c.AtLeast {
		return ratio(c.Low, c.Limit)
	}
	return ratio(c.Limit, c.High)
}

// Limits returns the limit at the bad and at the good end.
func (c Check) Limits() (bad, good float64) {
	if c.GoodLimit > c.Limit {
		return c.Limit, c.GoodLimit
	}
	return c.Limit, c.Limit
}

// ratio is a/b kept finite: a limit or a demand of nothing is met a
// thousandfold.
func ratio(a, b float64) float64 {
	const most = 1000
	if b <= a/most {
		return most
	}
	return a / b
}

// judge sets the state from figure and limit.
func (c Check) judge() Check {
	holds, might := c.High <= c.Limit, c.Low <= max(c.Limit, c.GoodLimit)
	if c.AtLeast {
		holds, might = c.Low >= c.Limit, c.High >= c.Limit
	}
	switch {
	case holds:
		c.State = Holds
	case might:
		c.State = Depends
	default:
		c.State = Fails
	}
	return c
}

// A Caution is what can hurt someone.
type Caution struct {
	Topic string `json:"topic"`
	Text  string `json:"text"`
}
