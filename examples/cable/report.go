package main

import (
	"bytes"
	"fmt"
	"strings"

	"ridethrough.example/examples/internal/console"
)

// Answer is all that the program says.
type Answer struct {
	Runs     []Run    `json:"runs"`
	Cautions []string `json:"cautions"`
}

// cautions are part of every answer.
func cautions() []string {
	return []string{
		"Fire: a conductor without a fuse or breaker near its source can set fire to a house or a boat. Loose or undersized terminals burn too: crimp and torque as their maker says.",
		"A bolted short circuit of a battery bank is thousands of amperes, far above the ratings here. The device at the battery must be marked to interrupt that current at the bank's dc voltage; an ac mark does not count. Remove rings and insulate tools.",
		"Cable sold by gauge for vehicles may hold 3 to 11 % less copper than its AWG number says, and drops and heats by as much more.",
		"The branch circuit of a motor follows rules of its own (NEC 430): its fuse may be larger, and it needs overload protection.",
		"Local code decides, and often asks for a larger size. The rules stand here without their exceptions.",
		"Have the plan and the work checked by a licensed electrician.",
	}
}

const width = 22

func (a Answer) text() []byte {
	var b bytes.Buffer
	for i, r := range a.Runs {
		name := r.Input.Name
		if name == "" {
			name = fmt.Sprintf("run %d", i+1)
		}
		verdict := "passes"
		if !r.Passes {
			verdict = "DOES NOT PASS"
		}
		fmt.Fprintf(&b, "%s: %s\n", console.Printable(name, ' '), verdict)
		in := r.Input
		fmt.Fprintf(&b, "  %-*s %s, %g V, %g A, %.4g m one way, %s %s, ambient %g °C, practice %s\n",
			width, "asked for", in.System, in.Volts, in.CurrentA, in.LengthM, in.Stranding, in.Metal, in.AmbientC, in.Practice)
		for _, d := range r.Decisions {
			fmt.Fprintf(&b, "  %-*s %s\n  %-*s [%s]\n", width, d.About, d.Answer, width, "", d.Source)
		}
		b.WriteByte('\n')
	}
	b.WriteString("Cautions\n")
	for _, c := range a.Cautions {
		b.WriteString("  - " + strings.TrimSpace(c) + "\n")
	}
	return b.Bytes()
}
