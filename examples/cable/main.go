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
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"ridethrough.example/examples/internal/console"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("cable", flag.ContinueOnError)
	flags.SetOutput(stderr)
	format := flags.String("format", "text", "form of the answer: text or json")
	given := map[string]string{}
	for _, c := range columns {
		flags.Func(strings.ReplaceAll(c.name, "_", "-"), c.help, func(text string) error {
			given[c.name] = text
			return nil
		})
	}
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: cable -volts V -current-a A -length-m M [more flags]\n       cable [flags] runs.csv | -")
		flags.PrintDefaults()
		fmt.Fprintln(stderr, "exit codes: 0 done, 1 input at fault, 2 usage, 3 no conductor passes")
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return console.Done
		}
		return console.Usage
	}
	if flags.NArg() > 1 || flags.NArg() == 0 && len(given) == 0 || *format != "text" && *format != "json" {
		flags.Usage()
		return console.Usage
	}
	inputs, err := readInputs(flags.Arg(0), stdin, given)
	if err != nil {
		return console.Fail(stderr, "cable", err)
	}
	var answer Answer
	for _, in := range inputs {
		r, err := decide(in)
		if err != nil {
			return console.Fail(stderr, "cable", fmt.Errorf("%s: %w", in.where, err))
		}
		answer.Runs = append(answer.Runs, r)
	}
	answer.Cautions = cautions()
	out := answer.text()
	if *format == "json" {
		if out, err = console.JSON(answer); err != nil {
			return console.Fail(stderr, "cable", err)
		}
	}
	if _, err := stdout.Write(out); err != nil {
		return console.Fail(stderr, "cable", err)
	}
	for _, r := range answer.Runs {
		if !r.Passes {
			return console.Fails
		}
	}
	return console.Done
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
