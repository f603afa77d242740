// Command cable decides on the conductor, the fuse and the terminals of one run,
// or of many.
//
//	cable -volts 12 -current-a 150 -length-m 2 [more flags]
//	cable [-format json] runs.csv
//	cable [-format json] - < runs.csv
//
// The first line of the CSV names its columns: the flags below with _ for -, so
// that current-a is current_a. Blank cells, and columns that are left out, take
// the flag of that name or its default. Lengths are one way; runs.csv beside the
// program is a sample.
//
// Exit codes: 0 all runs have a conductor; 1 the input is at fault, with the line
// of the CSV; 2 wrong usage; 3 some run has no conductor that passes its limits.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"ridethrough.example/examples/internal/console"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := console.NewCommand("cable", "cable -volts V -current-a A -length-m M [more flags]\n       cable [flags] runs.csv | -",
		"0 done, 1 input at fault, 2 usage, 3 no conductor passes", stdout, stderr)
	given := map[string]string{}
	for _, col := range columns {
		c.Keep(given, col.name, col.help)
	}
	if code, ok := c.Read(args, 1); !ok {
		return code
	}
	if c.NArg() == 0 && len(given) == 0 {
		return c.Misused()
	}
	inputs, err := readInputs(c.Arg(0), stdin, given)
	if err != nil {
		return c.Fail(err)
	}
	answer, pass := Answer{Cautions: cautions()}, true
	for _, in := range inputs {
		r, err := decide(in)
		if err != nil {
			return c.Fail(fmt.Errorf("%s: %w", in.where, err))
		}
		answer.Runs = append(answer.Runs, r)
		pass = pass && r.Passes
	}
	return c.Answer(answer.text, answer, pass)
}

// readInputs takes one run from the flags, or many from a CSV.
func readInputs(name string, stdin io.Reader, given map[string]string) ([]Input, error) {
	switch name {
	case "":
		in, err := newInput("command line", given, nil)
		return []Input{in}, err
	case "-":
		return readCSV(stdin, given)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	inputs, err := readCSV(f, given)
	return inputs, errors.Join(err, f.Close())
}
