// Command planner answers, for one site, whether motor-driven necessities
// start and how long they run on a battery and an inverter.
//
//	planner [-format text|json] [-explain] [-dynamic] [site.toml | -]
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

	"ridethrough.example/examples/internal/console"
	"ridethrough.example/examples/planner/plan"
	"ridethrough.example/examples/planner/report"
)

//go:embed site.toml
var sample []byte

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("planner", flag.ContinueOnError)
	flags.SetOutput(stderr)
	format := flags.String("format", "text", "form of the plan: text or json")
	explain := flags.Bool("explain", false, "show formula, numbers and source of every figure")
	dynamic := flags.Bool("dynamic", false, "follow the starts instant by instant as well, at the bad end")
	writeSample := flags.Bool("sample", false, "write a commented site file to start from")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: planner [-format text|json] [-explain] [-dynamic] [site.toml | -]\n       planner -sample > my-site.toml")
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
		if _, err := stdout.Write(sample); err != nil {
			return console.Fail(stderr, "planner", err)
		}
		return console.Done
	}
	in, name, err := open(flags.Arg(0), stdin)
	if err != nil {
		return console.Fail(stderr, "planner", err)
	}
	site, err := plan.Read(in)
	if err := errors.Join(err, in.Close()); err != nil {
		return console.Fail(stderr, "planner", fmt.Errorf("%s:\n%w", name, err))
	}
	p, err := plan.Options{Dynamic: *dynamic}.Make(site)
	if err != nil {
		return console.Fail(stderr, "planner", fmt.Errorf("%s:\n%w", name, err))
	}
	out := []byte(report.Text(p, *explain))
	if *format == "json" {
		if out, err = console.JSON(p); err != nil {
			return console.Fail(stderr, "planner", err)
		}
	}
	if _, err := stdout.Write(out); err != nil {
		return console.Fail(stderr, "planner", err)
	}
	if !p.Passes() {
		return console.Fails
	}
	return console.Done
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
