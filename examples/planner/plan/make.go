package plan

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

// Options are what a plan has besides; the zero value is the plan of [Make].
type Options struct {
	// Dynamic follows the starts instant by instant as well.
	Dynamic bool
}

// A maker holds what has been found out of a site so far.
type maker struct {
	site    Site
	plan    Plan
	options Options

	supply unit.Voltage // the inverter's output
	bank   bank
	inv    converter
	cable  cable
	loads  []load
	water  water
	hours  runtime
	all    together
	runUps []*runUp // of the loads whose start could be followed
}

// Make computes the plan of a site. An error is a fault in the site file; a
// pump that does not start and a bank that does not last are no errors but
// checks that do not hold.
func Make(s Site) (*Plan, error) { return Options{}.Make(s) }

// Make computes the plan of a site with what the options add.
func (o Options) Make(s Site) (*Plan, error) {
	m := &maker{site: s.clone(), options: o}
	m.plan.Site = s
	// Each step needs the ones before it; within a step all faults are found.
	for _, step := range []func() error{
		m.readBank, m.readInverter, m.readCable, m.readWater, m.readWell, m.readLoads, m.findEnd, m.findTogether,
	} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	for _, step := range []func() error{
		m.showRunning, m.showStarting, m.showDCSide, m.showHours, m.showRecharge, m.showWater, m.showWires, m.checkFuse, m.showSchedules,
	} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	m.plan.Cautions = cautions()
	m.giveVerdict()
	return &m.plan, nil
}

// clone copies what Make fills in, so that the plan echoes the site as typed.
func (s *Site) clone() Site {
	c := *s
	c.Loads = slices.Clone(s.Loads)
	for i := range c.Loads {
		c.Loads[i].Run = slices.Clone(c.Loads[i].Run)
	}
	return c
}

func (m *maker) assume(format string, args ...any) {
	m.plan.Assumptions = append(m.plan.Assumptions, fmt.Sprintf(format, args...))
}

func (m *maker) show(s Section) {
	if len(s.Figures)+len(s.Notes) > 0 {
		m.plan.Sections = append(m.plan.Sections, s)
	}
}

func (m *maker) check(c Check) {
	m.plan.Checks = append(m.plan.Checks, c.judge())
}

// fault places an error of the library in the site file: each argument error
// at the key named like its quantity, if the table has one, and otherwise at
// the table.
func (m *maker) fault(table string, err error) error {
	if err == nil {
		return nil
	}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		var all []error
		for _, e := range joined.Unwrap() {
			all = append(all, m.fault(table, e))
		}
		return errors.Join(all...)
	}
	if errors.Is(err, tank.ErrBeyondCurve) {
		return m.site.at("well.pump", fmt.Errorf("%w; add a point of less head and more flow", err))
	}
	key := table
	var domain *motor.DomainError // one type, which all packages share
	if errors.As(err, &domain) {
		for _, k := range []string{snake(domain.Quantity), keyOf[domain.Quantity], "measured." + keyOf[domain.Quantity]} {
			if m.site.where[table+"."+k] > 0 {
				key = table + "." + k
				break
			}
		}
		if domain.Quantity == "battery temperature" || domain.Quantity == "electrolyte temperature" {
			err = fmt.Errorf("%w; elsewhere the key temperature_factor takes the maker's figure", err)
		}
	}
	return m.site.at(key, err)
}

// keyOf maps quantities whose key has another name.
var keyOf = map[string]string{
	"battery temperature":        "temperature",
	"electrolyte temperature":    "temperature",
	"rating temperature":         "temperature",
	"rated capacity":             "capacity",
	"rated time":                 "rate",
	"state of health":            "health",
	"state of charge":            "charge_at_start",
	"depth limit":                "depth_limit",
	"nominal voltage":            "unit_voltage",
	"Peukert exponent":           "exponent",
	"resistance of a block":      "unit_resistance",
	"blocks in series":           "series",
	"parallel strings":           "parallel",
	"open-circuit voltage":       "open_circuit",
	"rated power":                "power",
	"continuous rating":          "power",
	"idle draw":                  "idle",
	"running cut-off":            "cut_off",
	"start cut-off":              "start_cut_off",
	"surge rating":               "surge",
	"surge time":                 "surge",
	"one-way length":             "length",
	"real power":                 "power",
	"apparent power":             "apparent",
	"current":                    "current",
	"inrush current":             "inrush",
	"voltage during the inrush":  "voltage",
	"battery current":            "dc_current",
	"battery voltage":            "dc_voltage",
	"apparent power at the plug": "apparent",
	"pump flow":                  "flow",
	"lift":                       "water_level",
	"water temperature":          "temperature",
}

// snake turns "full-load current" into "full_load_current".
func snake(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '_'
	}, s)
}

// slug turns the name of a load into the first part of its keys.
func slug(name string) string {
	s := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return '_'
	}, name)
	for strings.Contains(s, "__") {
		s = strings.ReplaceAll(s, "__", "_")
	}
	s = strings.Trim(s, "_")
	if s == "" || s[0] < 'a' {
		s = "load_" + s
	}
	return strings.TrimRight(s, "_")
}
