// Command water follows a house's water system from the well to the tap: what the
// tank holds, what the pump works against, how long a fill takes while the pump's
// flow falls, and what a day's use costs in starts, minutes and energy.
//
//	water [-format text|json] [-plots DIR] [system.toml | -]
//	water -sample > my-system.toml
//
// Without a file it reckons an invented demo; "-" reads standard input.
//
// With -plots it writes the pressure over a day, and pump and system curves, into
// a folder, as SVG.
//
// Exit codes: 0 all checks hold; 1 the input is at fault, or a file cannot be
// written; 2 wrong usage; 3 computed, but a check does not hold.
package main

import (
	"bytes"
	_ "embed"
	"errors"
	"flag"
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
	flags := flag.NewFlagSet("water", flag.ContinueOnError)
	flags.SetOutput(stderr)
	format := flags.String("format", "text", "form of the answer: text or json")
	plots := flags.String("plots", "", "`folder` for plots in SVG: pressure-day and pump-curve")
	writeSample := flags.Bool("sample", false, "write a commented system file to start from")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: water [-format text|json] [-plots DIR] [system.toml | -]\n       water -sample > my-system.toml")
		flags.PrintDefaults()
		fmt.Fprintln(stderr, "exit codes: 0 all checks hold, 1 input at fault, 2 usage, 3 a check does not hold")
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return console.Done
		}
		return console.Usage
	}
	if flags.NArg() > 1 || *format != "text" && *format != "json" {
		flags.Usage()
		return console.Usage
	}
	if *writeSample {
		return write(stdout, stderr, sample)
	}
	in, name, err := open(flags.Arg(0), stdin)
	if err != nil {
		return console.Fail(stderr, "water", err)
	}
	system, err := read(in)
	if err := errors.Join(err, in.Close()); err != nil {
		return console.Fail(stderr, "water", fmt.Errorf("%s:\n%w", name, err))
	}
	r, err := reckon(system)
	if err != nil {
		return console.Fail(stderr, "water", fmt.Errorf("%s:\n%w", name, err))
	}
	if *plots != "" {
		if err := r.plot(*plots); err != nil {
			return console.Fail(stderr, "water", fmt.Errorf("plots: %w", err))
		}
	}
	out := r.answer.text()
	if *format == "json" {
		if out, err = console.JSON(r.answer); err != nil {
			return console.Fail(stderr, "water", err)
		}
	}
	if code := write(stdout, stderr, out); code != console.Done {
		return code
	}
	if !r.answer.Holds {
		return console.Fails
	}
	return console.Done
}

func write(stdout, stderr io.Writer, out []byte) int {
	if _, err := stdout.Write(out); err != nil {
		return console.Fail(stderr, "water", err)
	}
	return console.Done
}

func open(name string, stdin io.Reader) (in io.ReadCloser, shown string, err error) {
	switch name {
	case "":
		return io.NopCloser(bytes.NewReader(sample)), "the demo", nil
	case "-":
		return io.NopCloser(stdin), "standard input", nil
	}
	in, err = os.Open(name)
	return in, name, err
}
