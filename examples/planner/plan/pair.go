package plan

import (
	"encoding"
	"fmt"
	"strings"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// A SurgePoint is an apparent power and how long an inverter carries it, typed
// as "4000 VA for 5 s".
type SurgePoint struct {
	Apparent Value[motor.ApparentPower] `toml:"-"`
	For      Value[unit.Time]           `toml:"-"`
	Text     string                     `toml:"-"`
}

// UnmarshalText reads "4000 VA for 5 s". Labels that print the surge in watts
// mean what the switches carry, so "4000 W for 5 s" is read as volt-amperes.
func (p *SurgePoint) UnmarshalText(text []byte) error {
	p.Text = strings.TrimSpace(string(text))
	left, right, err := splitPair(p.Text, " for ", `"4000 VA for 5 s"`)
	if err != nil {
		return err
	}
	var watts Value[unit.Power]
	if err := watts.UnmarshalText([]byte(left)); err == nil && !strings.Contains(strings.ToLower(left), "hp") {
		p.Apparent = Value[motor.ApparentPower]{
			Low: motor.ApparentPower(watts.Low), High: motor.ApparentPower(watts.High),
			Basis: watts.Basis, Text: left, given: true,
		}
	} else if err := p.Apparent.UnmarshalText([]byte(left)); err != nil {
		return err
	}
	return p.For.UnmarshalText([]byte(right))
}

// MarshalText returns the pair as it was typed.
func (p SurgePoint) MarshalText() ([]byte, error) { return []byte(p.Text), nil }

// An EfficiencyPoint is an efficiency at an ac power, typed as "91 % at 500 W".
type EfficiencyPoint struct {
	Efficiency Value[Ratio]      `toml:"-"`
	Power      Value[unit.Power] `toml:"-"`
	Text       string            `toml:"-"`
}

// UnmarshalText reads "91 % at 500 W".
func (p *EfficiencyPoint) UnmarshalText(text []byte) error {
	p.Text = strings.TrimSpace(string(text))
	return readPair(p.Text, " at ", `"91 % at 500 W"`, &p.Efficiency, &p.Power)
}

// MarshalText returns the pair as it was typed.
func (p EfficiencyPoint) MarshalText() ([]byte, error) { return []byte(p.Text), nil }

// readPair reads two quantities with a word between them.
func readPair(text, word, example string, left, right encoding.TextUnmarshaler) error {
	l, r, err := splitPair(text, word, example)
	if err != nil {
		return err
	}
	if err := left.UnmarshalText([]byte(l)); err != nil {
		return err
	}
	return right.UnmarshalText([]byte(r))
}

func splitPair(text, word, example string) (left, right string, err error) {
	left, right, ok := strings.Cut(text, word)
	if !ok || len(text) > 200 {
		return "", "", fmt.Errorf("%.40q, want something like %s", text, example)
	}
	return strings.TrimSpace(left), strings.TrimSpace(right), nil
}
