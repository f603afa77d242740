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
	"io"
	"os"

	"ridethrough.example/examples/internal/console"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

func run(args []string, stdout, stderr io.Writer) int {
	c := console.NewCommand("meter", "meter [-v V] [-a A] [-w W] [-dc-v V] [-dc-a A] [-kwh KWH -hours H] [more flags]",
		"0 the readings hold together, 1 input at fault, 2 usage, 3 some do not", stdout, stderr)
	given := map[string]string{}
	for _, col := range columns {
		c.Keep(given, col.name, col.help)
	}
	if code, ok := c.Read(args, 0); !ok {
		return code
	}
	if len(given) == 0 {
		return c.Misused()
	}
	answer, err := answerOf(given)
	if err != nil {
		return c.Fail(err)
	}
	return c.Answer(answer.text, answer, answer.Holds)
}

// answerOf reads the flags and works out what they imply.
func answerOf(given map[string]string) (Answer, error) {
	in, err := newInput(given)
	if err != nil {
		return Answer{}, err
	}
	return decide(in)
}
