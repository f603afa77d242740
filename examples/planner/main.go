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
	_ "embed"
	"errors"
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
	c := console.NewCommand("planner", "planner [-format text|json] [-explain] [-dynamic] [site.toml | -]\n       planner -sample > my-site.toml",
		"0 all checks hold, 1 input at fault, 2 usage, 3 a check does not hold", stdout, stderr)
	explain := c.Bool("explain", false, "show formula, numbers and source of every figure")
	dynamic := c.Bool("dynamic", false, "follow the starts instant by instant as well, at the bad end")
	writeSample := c.Bool("sample", false, "write a commented site file to start from")
	if code, ok := c.Read(args, 1); !ok {
		return code
	}
	if *writeSample {
		return c.Write(sample)
	}
	in, name, err := c.Open(stdin, sample, "the demo site")
	if err != nil {
		return c.Fail(err)
	}
	site, err := plan.Read(in)
	if err := errors.Join(err, in.Close()); err != nil {
		return c.Fail(fmt.Errorf("%s:\n%w", name, err))
	}
	p, err := plan.Options{Dynamic: *dynamic}.Make(site)
	if err != nil {
		return c.Fail(fmt.Errorf("%s:\n%w", name, err))
	}
	return c.Answer(func() []byte { return []byte(report.Text(p, *explain)) }, p, p.Passes())
}
