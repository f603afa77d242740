// Command meter says what readings taken of a load and its inverter imply, how
// sure that is by the meters' accuracy, and which mistakes are near.
//
//	meter -v 118 -a 6.60 -w 520 -dc-v 24.1 -dc-a 26.0
//	meter -kwh 104 -hours 670 [more flags]
//
// Give what was read, as it was read: the last digit typed is the last digit of
// the meter, so that 6.6 is a coarser reading than 6.60. Units stand in the names
// of the flags. What a flag's help tells as default is listed in the answer as
// assumed.
//
// Exit codes: 0 computed, and the readings hold together; 1 an input is at fault;
// 2 wrong usage; 3 computed, but readings contradict each other, or one of them
// does not show what it is taken for.
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
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("meter", flag.ContinueOnError)
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
		fmt.Fprintln(stderr, "usage: meter [-v V] [-a A] [-w W] [-dc-v V] [-dc-a A] [-kwh KWH -hours H] [more flags]")
		flags.PrintDefaults()
		fmt.Fprintln(stderr, "exit codes: 0 the readings hold together, 1 input at fault, 2 usage, 3 some do not")
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return console.Done
		}
		return console.Usage
	}
	if flags.NArg() > 0 || len(given) == 0 || *format != "text" && *format != "json" {
		flags.Usage()
		return console.Usage
	}
	answer, err := answerOf(given)
	if err != nil {
		return console.Fail(stderr, "meter", err)
	}
	out := answer.text()
	if *format == "json" {
		if out, err = console.JSON(answer); err != nil {
			return console.Fail(stderr, "meter", err)
		}
	}
	if _, err := stdout.Write(out); err != nil {
		return console.Fail(stderr, "meter", err)
	}
	if !answer.Holds {
		return console.Fails
	}
	return console.Done
}

// answerOf reads the flags and works out what they imply.
func answerOf(given map[string]string) (Answer, error) {
	in, err := newInput(given)
	if err != nil {
		return Answer{}, err
	}
	return decide(in)
}
