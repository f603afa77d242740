// Command start follows a motor from rest to speed on a source that sags: a line
// with an impedance, a generator, or an inverter that holds its current.
//
//	start -type capacitor-start -output-hp 0.5 -volts 115 -code L -full-load-a 9.8 \
//	      -source generator -rating-va 5000 -feeder-ft 100 -feeder-size "12 AWG"
//	start -main-r-ohm 2.02 -main-x-ohm 2.79 ... [more flags]
//
// What is known of the motor decides how sure the answer is: ohms of its circuit,
// or else its nameplate. Where the plate leaves a range, such as that of its code
// letter, the start is followed at both ends and in the middle.
//
// With -plot it writes torque against speed and voltage, current and speed against
// time into a folder, as SVG.
//
// Units stand in the names of the flags. Flags that are left out take the default
// that the help tells, and the answer lists what was assumed.
//
// Exit codes: 0 the motor starts over the whole range of what is known; 1 the
// input is at fault, or a file cannot be written; 2 wrong usage; 3 computed, but
// it does not start, only just starts, or depends on what is not known.
package main

import (
	"fmt"
	"io"
	"os"

	"ridethrough.example/examples/internal/console"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

func run(args []string, stdout, stderr io.Writer) int {
	c := console.NewCommand("start", "start -volts V -output-hp HP -type TYPE [-code LETTER] [-full-load-a A] [-locked-rotor-a A] [source, feeder, load and more flags]\n"+
		"       start -volts V -main-r-ohm R -main-x-ohm X -rotor-r-ohm R -rotor-x-ohm X -magnetizing-ohm X [more flags]",
		"0 starts over the whole range of what is known, 1 input at fault, 2 usage, 3 does not start, only just, or depends", stdout, stderr)
	plots := c.String("plot", "", "`folder` for plots in SVG: torque-speed, voltage-time and, with -dynamic yes, current-time")
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
	if *plots != "" {
		if err := answer.plot(*plots); err != nil {
			return c.Fail(fmt.Errorf("plot: %w", err))
		}
	}
	return c.Answer(answer.text, answer, answer.Verdict == starts)
}

// answerOf reads the flags and follows the start.
func answerOf(given map[string]string) (Answer, error) {
	in, err := newInput(given)
	if err != nil {
		return Answer{}, err
	}
	return decide(in)
}
