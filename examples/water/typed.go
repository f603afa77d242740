package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/examples/planner/plan"
	"ridethrough.example/tank"
)

// What is typed into a system file. A quantity is text as in the planner's site
// files, "28 psi (measured)", but no range: one system is followed, and another
// file is the way to ask what if.

// A quantity is one figure with its unit.
type quantity[T ~float64] struct{ plan.Value[T] }

// UnmarshalText reads a quantity and refuses a range.
func (q *quantity[T]) UnmarshalText(text []byte) error {
	if err := q.Value.UnmarshalText(text); err != nil {
		return err
	}
	if q.Low != q.High {
		return errors.New("want one figure, not a range")
	}
	return nil
}

func (q quantity[T]) or(x T) T {
	if q.Given() {
		return q.Low
	}
	return x
}

// atFlow is what a quantity is at a flow, typed as "120 ft at 10 gpm".
type atFlow[T ~float64] struct {
	What quantity[T]             `toml:"-"`
	Flow quantity[tank.FlowRate] `toml:"-"`
	Text string                  `toml:"-"`
}

// UnmarshalText reads "120 ft at 10 gpm"; a word in brackets is the basis of
// both.
func (p *atFlow[T]) UnmarshalText(text []byte) error {
	p.Text = strings.TrimSpace(string(text))
	body, basis, _ := strings.Cut(p.Text, "(")
	what, flow, ok := strings.Cut(body, " at ")
	if !ok {
		return fmt.Errorf("%.40q, want something like \"120 ft at 10 gpm\"", p.Text)
	}
	if basis != "" {
		basis = "(" + basis
	}
	if err := p.What.UnmarshalText([]byte(what + basis)); err != nil {
		return err
	}
	return p.Flow.UnmarshalText([]byte(flow + basis))
}

// MarshalText returns the pair as it was typed.
func (p atFlow[T]) MarshalText() ([]byte, error) { return []byte(p.Text), nil }

// Given reports whether the file has the pair.
func (p atFlow[T]) Given() bool { return p.Text != "" }

// IsZero reports whether it has not, for omitzero in JSON.
func (p atFlow[T]) IsZero() bool { return p.Text == "" }

func (p atFlow[T]) basis() plan.Basis { return max(p.What.Basis, p.Flow.Basis) }

// figureOf is a quantity as it was typed, without its basis.
func figureOf(text string) string {
	figure, _, _ := strings.Cut(text, "(")
	return strings.TrimSpace(figure)
}

// Hertz is a frequency, typed as "57 Hz".
type Hertz float64

// UnmarshalText reads a frequency.
func (f *Hertz) UnmarshalText(text []byte) error {
	s := strings.TrimSpace(string(text))
	number, ok := strings.CutSuffix(s, "Hz")
	x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if !ok || err != nil || !(x >= 10 && x <= 150) {
		return fmt.Errorf("%.40q, want 10 Hz to 150 Hz", s)
	}
	*f = Hertz(x)
	return nil
}

// fittingNames are the words for fittings.
var fittingNames = map[string]tank.Fitting{
	"elbow": tank.Elbow90, "long elbow": tank.Elbow90Long, "elbow 45": tank.Elbow45,
	"tee run": tank.TeeRun, "tee branch": tank.TeeBranch, "union": tank.Union,
	"gate valve": tank.GateValve, "ball valve": tank.BallValve, "globe valve": tank.GlobeValve,
	"check valve": tank.SwingCheck, "foot valve": tank.FootValve, "water meter": tank.WaterMeter,
	"entrance": tank.SharpEntrance, "exit": tank.Exit,
}

// A Fitting is one or several alike, typed as "3 elbow" or "K 2.5".
type Fitting struct {
	Count     int                 `toml:"-"`
	K         tank.Range[float64] `toml:"-"` // of each
	FromTable bool                `toml:"-"`
	Text      string              `toml:"-"`
}

// UnmarshalText reads a fitting.
func (f *Fitting) UnmarshalText(text []byte) error {
	*f = Fitting{Count: 1, Text: strings.TrimSpace(string(text))}
	name := f.Text
	if first, rest, ok := strings.Cut(name, " "); ok {
		if n, err := strconv.Atoi(first); err == nil {
			f.Count, name = n, strings.TrimSpace(rest)
		}
	}
	if f.Count < 1 || f.Count > 100 {
		return fmt.Errorf("%d fittings, want 1 to 100", f.Count)
	}
	if number, ok := strings.CutPrefix(name, "K "); ok {
		k, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
		if err != nil || !(k >= 0 && k <= 1000) {
			return fmt.Errorf("%.40q, want K of 0 to 1000", f.Text)
		}
		f.K = tank.Range[float64]{Low: k, High: k}
		return nil
	}
	kind, ok := fittingNames[name]
	if !ok {
		return fmt.Errorf("%.40q, want one of %s, or K and its number", f.Text, words(fittingNames))
	}
	var err error
	f.FromTable = true
	f.K, err = kind.Coefficient()
	return err
}

// MarshalJSON returns the fitting as it was typed.
func (f Fitting) MarshalJSON() ([]byte, error) { return json.Marshal(f.Text) }

// A curvePoint is a head at a flow.
type curvePoint = atFlow[unit.Length]
