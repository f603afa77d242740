package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
)

// mostLines is the longest CSV that is read.
const mostLines = 1001

// A row is one line of a CSV, by the names of its columns.
type row struct {
	file  string
	line  int
	cells map[string]string
	err   error // everything wrong with the cells read so far
}

// readRows reads a CSV whose first line names columns that are known.
func readRows(file string, r io.Reader, known ...string) ([]*row, error) {
	in := csv.NewReader(r)
	in.Comment = '#'
	in.TrimLeadingSpace = true
	head, err := in.Read()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: line 1: want a line with the names of the columns", file)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	line, _ := in.FieldPos(0)
	for i, name := range head {
		name = strings.TrimSpace(strings.TrimPrefix(name, "\ufeff"))
		if !slices.Contains(known, name) {
			return nil, fmt.Errorf("%s: line %d: column %s is not known; the columns are %s", file, line, quote(name), strings.Join(known, ", "))
		}
		if slices.Contains(head[:i], name) {
			return nil, fmt.Errorf("%s: line %d: column %s stands twice", file, line, name)
		}
		head[i] = name
	}
	var rows []*row
	for {
		record, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		line, _ := in.FieldPos(0)
		if len(rows) == mostLines {
			return nil, fmt.Errorf("%s: line %d: more than %d lines", file, line, mostLines)
		}
		cells := map[string]string{}
		for i, name := range head {
			cells[name] = strings.TrimSpace(record[i])
		}
		rows = append(rows, &row{file: file, line: line, cells: cells})
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("%s: line %d: nothing below the names of the columns", file, line)
	}
	return rows, nil
}

func quote(text string) string {
	const longest = 40
	if len(text) > longest {
		text = text[:longest] + "..."
	}
	return strconv.QuoteToASCII(text)
}

// fault adds what is wrong with a row.
func (r *row) fault(format string, args ...any) {
	r.err = errors.Join(r.err, fmt.Errorf("%s: line %d: %w", r.file, r.line, fmt.Errorf(format, args...)))
}

// number reads a cell; a blank one is 0.
func (r *row) number(column string) float64 {
	text := r.cells[column]
	if text == "" {
		return 0
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		r.fault("%s %s, want a number", column, quote(text))
		return 0
	}
	return x
}

// one reads the one cell of several columns that is filled in, in the unit of
// each.
func (r *row) one(columns []string, units []unit.Time) unit.Time {
	var t unit.Time
	filled := 0
	for i, c := range columns {
		if r.cells[c] != "" {
			filled++
			t = unit.Time(r.number(c)) * units[i]
		}
	}
	if filled != 1 {
		r.fault("%d of %s filled in, want one", filled, strings.Join(columns, ", "))
	}
	return t
}

// A duty is a duty cycle with the lines that its periods stand in.
type duty struct {
	file       string
	cycle      battery.DutyCycle
	names      []string // of the periods
	lines      []int    // of the periods
	random     string   // its name
	randomLine int      // zero: there is none
}

// readDuty reads a duty cycle, all faults at once.
func readDuty(file string, r io.Reader) (duty, error) {
	d := duty{file: file}
	rows, err := readRows(file, r, "kind", "name", "duration_s", "duration_min", "duration_h",
		"current_a", "power_w", "voltage_low_v", "voltage_high_v")
	if err != nil {
		return d, err
	}
	for _, row := range rows {
		p := battery.DutyPeriod{
			Duration: row.one([]string{"duration_s", "duration_min", "duration_h"}, []unit.Time{1, battery.Minute, battery.Hour}),
			Current:  unit.Current(row.number("current_a")),
			Power:    unit.Power(row.number("power_w")),
			Voltage: battery.Range[unit.Voltage]{
				Low: unit.Voltage(row.number("voltage_low_v")), High: unit.Voltage(row.number("voltage_high_v")),
			},
		}
		// One voltage stands for both.
		if p.Voltage.High == 0 {
			p.Voltage.High = p.Voltage.Low
		}
		switch kind := row.cells["kind"]; kind {
		case "", "period":
			d.cycle.Periods = append(d.cycle.Periods, p)
			d.names = append(d.names, row.cells["name"])
			d.lines = append(d.lines, row.line)
		case "random":
			if d.randomLine != 0 {
				row.fault("a second random load; the first is in line %d", d.randomLine)
			}
			d.cycle.Random, d.random, d.randomLine = p, row.cells["name"], row.line
		default:
			row.fault("kind %s, want period or random", quote(kind))
		}
		err = errors.Join(err, row.err)
	}
	if err == nil && len(d.cycle.Periods) == 0 {
		err = fmt.Errorf("%s: line %d: no period, only a random load", file, rows[0].line)
	}
	return d, err
}

// locate puts the line of its period before each fault that names one.
func (d *duty) locate(err error) error {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		var all error
		for _, e := range joined.Unwrap() {
			all = errors.Join(all, d.locate(e))
		}
		return all
	}
	var at *battery.PeriodError
	if !errors.As(err, &at) {
		return err
	}
	line := d.randomLine
	if at.Period > 0 {
		line = d.lines[at.Period-1]
	}
	return fmt.Errorf("%s: line %d: %w", d.file, line, at.Err)
}

// A rate is one line of a table of rating factors.
type rate struct {
	where   string // file and line
	end     unit.Voltage
	time    unit.Time
	kt      unit.Time    // zero: the current is given
	current unit.Current // zero: the factor is given
}

func readRates(file string, r io.Reader) ([]rate, error) {
	rows, err := readRows(file, r, "end_voltage_v", "time_min", "time_h", "kt_h", "current_a")
	if err != nil {
		return nil, err
	}
	var all []rate
	for _, row := range rows {
		x := rate{
			where:   fmt.Sprintf("%s: line %d", file, row.line),
			end:     unit.Voltage(row.number("end_voltage_v")),
			time:    row.one([]string{"time_min", "time_h"}, []unit.Time{battery.Minute, battery.Hour}),
			kt:      unit.Time(row.number("kt_h")) * battery.Hour,
			current: unit.Current(row.number("current_a")),
		}
		if (x.kt != 0) == (x.current != 0) {
			row.fault("want either kt_h or current_a")
		}
		err = errors.Join(err, row.err)
		all = append(all, x)
	}
	return all, err
}

// A sizeOf is one size that can be bought.
type sizeOf struct {
	where    string // file and line
	name     string
	capacity unit.Charge
}

func readSizes(file string, r io.Reader) ([]sizeOf, error) {
	rows, err := readRows(file, r, "name", "capacity_ah")
	if err != nil {
		return nil, err
	}
	var all []sizeOf
	for _, row := range rows {
		x := sizeOf{
			where:    fmt.Sprintf("%s: line %d", file, row.line),
			name:     row.cells["name"],
			capacity: unit.Charge(row.number("capacity_ah")) * battery.AmpereHour,
		}
		// What the list holds is looked at as a list of one, so that a fault
		// names its line.
		if row.err == nil {
			if _, _, e := battery.Choose(battery.AmpereHour, []unit.Charge{x.capacity}); e != nil && !errors.Is(e, battery.ErrNoCell) {
				row.fault("%w", e)
			}
		}
		err = errors.Join(err, row.err)
		all = append(all, x)
	}
	return all, err
}
