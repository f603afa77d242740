package main

import (
	"bytes"
	"fmt"

	"ridethrough.example/examples/internal/console"
)

// Answer is all that the program says.
type Answer struct {
	Input    Input     `json:"input"`
	Holds    bool      `json:"holds"`
	Result   Result    `json:"result"`
	Findings []Finding `json:"findings"`
	Mistakes []Mistake `json:"mistakes,omitempty"`
	Assumed  []string  `json:"assumed,omitempty"`
	Cautions []string  `json:"cautions"`
}

// cautions are part of every answer.
func cautions() []string {
	return []string{
		"Readings inside a panel or at battery terminals are taken on live parts: a battery drives thousands of amperes through a slipped probe. If you are not used to it, have them taken.",
		"A clamp goes around one wire; around a whole cord it shows nothing. A clamp for ac shows nothing of dc.",
		"Accuracies are those of a data sheet at best: a worn cord, a cold clamp that was not zeroed or a reading a minute later add to them.",
		"Power-factor capacitors stay charged after the supply is gone. Inverters may not bear them.",
		"What follows from readings is arithmetic. Local code and a licensed electrician decide.",
	}
}

const width = 18

func (a *Answer) text() []byte {
	var b bytes.Buffer
	name := a.Input.Name
	if name == "" {
		name = "readings"
	}
	verdict := "hold together"
	if !a.Holds {
		verdict = "DO NOT HOLD"
	}
	fmt.Fprintf(&b, "%s: %s\n", console.Printable(name, ' '), verdict)
	for _, f := range a.Findings {
		fmt.Fprintf(&b, "  %-*s %s\n  %-*s [%s]\n", width, f.About, f.Answer, width, "", f.Source)
	}
	list := func(head string, lines []string) {
		if len(lines) == 0 {
			return
		}
		b.WriteString("\n" + head + "\n")
		for _, l := range lines {
			b.WriteString("  - " + l + "\n")
		}
	}
	var wrong []string
	for _, m := range a.Mistakes {
		wrong = append(wrong, fmt.Sprintf("%s: %s; instead %s", m.Mistake, m.Gives, m.Instead))
	}
	list("Usual mistakes", wrong)
	list("Assumed", a.Assumed)
	list("Cautions", a.Cautions)
	return b.Bytes()
}
