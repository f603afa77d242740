package main

import (
	"encoding/json"
	"math"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/tank"
)

// Answer is all that the program says.
type Answer struct {
	Name     string    `json:"name"`
	Holds    bool      `json:"holds"`
	Checks   []Check   `json:"checks"`
	Sections []Section `json:"sections"`
	Assumed  []string  `json:"assumed"`
	Cautions []string  `json:"cautions"`
	Inputs   *System   `json:"inputs"`
}

// A Check is something that must hold, or of mere advice should.
type Check struct {
	ID     string `json:"id"`
	Holds  bool   `json:"holds"`
	Advice bool   `json:"advice"`
	Says   string `json:"says"`
	Source string `json:"source"`
}

// A Section is a part of the answer.
type Section struct {
	Title   string   `json:"title"`
	Basis   string   `json:"rests_on"` // the worst of what was typed for it
	Figures []Figure `json:"figures,omitempty"`
	Tables  []Table  `json:"tables,omitempty"`
	Notes   []string `json:"notes,omitempty"`
}

// A Figure is one number. Its key ends in its unit.
type Figure struct {
	Key       string     `json:"key"`
	Label     string     `json:"label"`
	Value     float64    `json:"value"`
	Unit      string     `json:"unit"`
	Also      string     `json:"also,omitempty"` // in the trade's unit
	Source    string     `json:"source"`
	Shortcuts []Shortcut `json:"shortcuts,omitempty"`

	exact float64 // the value before it was rounded
}

// A Shortcut is what the trade reckons in place of a figure.
type Shortcut struct {
	Rule    string  `json:"rule"`
	Value   float64 `json:"value"`
	Percent float64 `json:"error_percent"` // of the figure; 0 where that is 0
	Why     string  `json:"why,omitempty"`
}

// against adds a shortcut to a figure.
func (f Figure) against(rule string, value float64, why string) Figure {
	s := Shortcut{Rule: rule, Value: rounded(value), Why: why}
	if f.exact != 0 {
		s.Percent = rounded(100 * (value/f.exact - 1))
	}
	f.Shortcuts = append(f.Shortcuts[:len(f.Shortcuts):len(f.Shortcuts)], s)
	return f
}

// A Table has a line a case and a column a figure.
type Table struct {
	Key     string
	Title   string
	Columns []Column
	Rows    []Row
	Source  string
}

// A Column has a key that ends in its unit, a heading and decimals.
type Column struct {
	Key, Head string
	Decimals  int
}

// A Row holds a figure a column, or says why there are none. A figure that is
// not known is NaN.
type Row struct {
	Name   string
	Values []float64
	Why    string
}

// MarshalJSON writes each row as an object.
func (t Table) MarshalJSON() ([]byte, error) {
	rows := make([]map[string]any, len(t.Rows))
	for i, r := range t.Rows {
		rows[i] = map[string]any{"row": r.Name}
		if r.Why != "" {
			rows[i]["why"] = r.Why
		}
		for k, x := range r.Values {
			if !math.IsNaN(x) {
				rows[i][t.Columns[k].Key] = rounded(x)
			}
		}
	}
	return json.Marshal(struct {
		Key    string           `json:"key"`
		Title  string           `json:"title"`
		Rows   []map[string]any `json:"rows"`
		Source string           `json:"source"`
	}{t.Key, t.Title, rows, t.Source})
}

// rounded keeps six digits, so that the last bits of a machine do not show.
func rounded(x float64) float64 {
	if math.Abs(x) < 1e-9 {
		return 0
	}
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 6, 64), 64)
	if err != nil {
		return 0
	}
	return y
}

// short writes three digits, or whole numbers, without an exponent.
func short(x float64) string {
	if math.Abs(x) >= 1000 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	if err != nil {
		return "?"
	}
	return strconv.FormatFloat(y, 'f', -1, 64)
}

// Quantities in the units of the answer, metric and the trade's.

func litres(v unit.Volume) float64        { return float64(v / tank.Litre) }
func gallons(v unit.Volume) float64       { return float64(v / tank.USGallon) }
func kilopascals(p unit.Pressure) float64 { return float64(p / tank.Kilopascal) }
func psi(p unit.Pressure) float64         { return float64(p / tank.PSI) }
func feet(h unit.Length) float64          { return float64(h / tank.Foot) }
func minutes(t unit.Time) float64         { return float64(t / tank.Minute) }
func wattHours(e unit.Energy) float64     { return float64(e / tank.WattHour) }
func lpm(q tank.FlowRate) float64         { return float64(q / tank.LitrePerMinute) }
func gpm(q tank.FlowRate) float64         { return float64(q / tank.USGallonPerMinute) }

func plain(key, label string, x float64, of, source string) Figure {
	return Figure{Key: key, Label: label, Value: rounded(x), Unit: of, Source: source, exact: x}
}

// both is a figure in metric units with the trade's beside it.
func both(key, label string, x float64, of string, trade float64, tradeOf, source string) Figure {
	f := plain(key, label, x, of, source)
	f.Also = short(trade) + " " + tradeOf
	return f
}

func volume(key, label string, v unit.Volume, source string) Figure {
	return both(key+"_l", label, litres(v), "L", gallons(v), "gal", source)
}

func pressure(key, label string, p unit.Pressure, source string) Figure {
	return both(key+"_kpa", label, kilopascals(p), "kPa", psi(p), "psi", source)
}

func length(key, label string, h unit.Length, source string) Figure {
	return both(key+"_m", label, float64(h), "m", feet(h), "ft", source)
}

func flow(key, label string, q tank.FlowRate, source string) Figure {
	return both(key+"_lpm", label, lpm(q), "L/min", gpm(q), "gal/min", source)
}
