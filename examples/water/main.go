// Command water follows a house's water system from the well to the tap: what the
// tank holds, what the pump works against, how long a fill takes while the pump's
// flow falls, and what a day's use costs in starts, minutes and energy.
//
//	water [-format text|json] [-plot DIR] [system.toml | -]
//	water -sample > my-system.toml
//
// Without a file it reckons an invented demo; "-" reads standard input.
//
// With -plot it writes the pressure over a day, and pump and system curves, into
// a folder, as SVG.
//
// Exit codes: 0 all checks hold; 1 the input is at fault, or a file cannot be
// written; 2 wrong usage; 3 computed, but a check does not hold.
package main

import (
	_ "embed"
	"errors"
	"fmt"
	"io"
	"os"

	"ridethrough.example/examples/internal/console"
)

//go:embed system.toml
var sample []byte

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := console.NewCommand("water", "water [-format text|json] [-plot DIR] [system.toml | -]\n       water -sample > my-system.toml",
		"0 all checks hold, 1 input at fault, 2 usage, 3 a check does not hold", stdout, stderr)
	plots := c.String("plot", "", "`folder` for plots in SVG: pressure-day and pump-curve")
	writeSample := c.Bool("sample", false, "write a commented system file to start from")
	if code, ok := c.Read(args, 1); !ok {
		return code
	}
	if *writeSample {
		return c.Write(sample)
	}
	in, name, err := c.Open(stdin, sample, "the demo")
	if err != nil {
		return c.Fail(err)
	}
	system, err := read(in)
	if err := errors.Join(err, in.Close()); err != nil {
		return c.Fail(fmt.Errorf("%s:\n%w", name, err))
	}
	r, err := reckon(system)
	if err != nil {
		return c.Fail(fmt.Errorf("%s:\n%w", name, err))
	}
	if *plots != "" {
		if err := r.plot(*plots); err != nil {
			return c.Fail(fmt.Errorf("plot: %w", err))
		}
	}
	return c.Answer(r.answer.text, r.answer, r.answer.Holds)
}
