// Command planner answers, for one site, whether motor-driven necessities
// start and how long they run on a battery and an inverter.
//
//	planner [-format text|json] [-explain] [site.toml | -]
//	planner -sample > my-site.toml
//
// Without a file it plans an invented demo site; "-" reads standard input.
// Exit codes: 0 all checks hold; 1 the input is at fault; 2 wrong usage;
// 3 computed, but a check does not hold.
package main

import (
	"bytes"
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode"

	"ridethrough.example/examples/planner/plan"
	"ridethrough.example/examples/planner/report"
)

//go:embed site.toml
var sample []byte

// The exit codes.
const (
	exitHolds = iota
	exitInput
	exitUsage
	exitFails
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("planner", flag.ContinueOnError)
	flags.SetOutput(stderr)
	format := flags.String("format", "text", "form of the plan: text or json")
	explain := flags.Bool("explain", false, "show formula, numbers and source of every figure")
	writeSample := flags.Bool("sample", false, "write a commented site file to start from")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: planner [-format text|json] [-explain] [site.toml | -]\n       planner -sample > my-site.toml")
		flags.PrintDefaults()
		fmt.Fprintln(stderr, "exit codes: 0 all checks hold, 1 input at fault, 2 usage, 3 a check does not hold")
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return exitHolds
		}
		return exitUsage
	}
	if flags.NArg() > 1 || *format != "text" && *format != "json" {
		flags.Usage()
		return exitUsage
	}
	if *writeSample {
		if _, err := stdout.Write(sample); err != nil {
			return fail(stderr, err)
		}
		return exitHolds
	}
	in, name, err := open(flags.Arg(0), stdin)
	if err != nil {
		return fail(stderr, err)
	}
	site, err := plan.Read(in)
	if err := errors.Join(err, in.Close()); err != nil {
		return fail(stderr, fmt.Errorf("%s:\n%w", name, err))
	}
	p, err := plan.Make(site)
	if err != nil {
		return fail(stderr, fmt.Errorf("%s:\n%w", name, err))
	}
	out := []byte(report.Text(p, *explain))
	if *format == "json" {
		if out, err = report.JSON(p); err != nil {
			return fail(stderr, err)
		}
	}
	if _, err := stdout.Write(out); err != nil {
		return fail(stderr, err)
	}
	if !p.Passes() {
		return exitFails
	}
	return exitHolds
}

func open(name string, stdin io.Reader) (in io.ReadCloser, shown string, err error) {
	switch name {
	case "":
		return io.NopCloser(bytes.NewReader(sample)), "the demo site", nil
	case "-":
		return io.NopCloser(stdin), "standard input", nil
	}
	in, err = os.Open(name)
	return in, name, err
}

// fail reports an error. What it quotes of a site file must not reach the
// terminal as control characters.
func fail(stderr io.Writer, err error) int {
	text := strings.Map(func(r rune) rune {
		if r != '\n' && !unicode.IsPrint(r) {
			return unicode.ReplacementChar
		}
		return r
	}, err.Error())
	fmt.Fprintln(stderr, "planner:", text)
	return exitInput
}
