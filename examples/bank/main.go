// Command bank prints the worksheet by which a battery is sized for a duty
// cycle: the section method of IEEE 485 with every number on the way.
//
//	bank [flags] [duty.csv | -]
//
// Without a file it sizes for an invented demo; "-" reads standard input. The
// first line of the CSV names its columns, in any order:
//
//	kind            period (default) or random, a load that may come at any moment
//	name            free text
//	duration_s, duration_min, duration_h    one of them in each line
//	current_a       drawn at any voltage
//	power_w         drawn at any voltage, as an inverter does
//	voltage_low_v, voltage_high_v           of the battery while power_w is drawn
//
// The file of -rates holds what the cell sustains, in the columns
// end_voltage_v, time_min or time_h, and kt_h, which is K_T, or current_a,
// which is the current of a cell or positive plate of -basis-ah. The file of
// -sizes holds capacity_ah and, if wanted, name. Lines that start with # are
// comments. duty.csv, rates.csv and sizes.csv beside the program are samples.
//
// Exit codes: 0 sized; 1 an input is at fault, with its line; 2 wrong usage;
// 3 no size of the list is large enough.
package main

import (
	"bytes"
	_ "embed"
	"errors"
	"io"
	"os"

	"ridethrough.example/examples/internal/console"
)

//go:embed duty.csv
var sample []byte

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := console.NewCommand("bank", "bank [flags] [duty.csv | -]", "0 sized, 1 input at fault, 2 usage, 3 no size of the list is large enough", stdout, stderr)
	rates := c.String("rates", "", "`file` with the rating factors of the cell (by default Peukert's law)")
	sizes := c.String("sizes", "", "`file` with the sizes that can be bought")
	settings := addFlags(c.FlagSet)
	if code, ok := c.Read(args, 1); !ok {
		return code
	}
	in, err := gather(c.Arg(0), *rates, *sizes, stdin)
	if err != nil {
		return c.Fail(err)
	}
	answer, err := size(settings, in)
	if err != nil {
		return c.Fail(err)
	}
	return c.Answer(answer.text, answer, answer.Result.Choice == nil || answer.Result.Choice.Found)
}

// files are the inputs besides the flags.
type files struct {
	duty  duty
	rates []rate
	sizes []sizeOf
}

// gather reads all files and reports the faults of all.
func gather(dutyName, ratesName, sizesName string, stdin io.Reader) (files, error) {
	var in files
	var err error
	switch dutyName {
	case "":
		in.duty, err = readDuty("demo", bytes.NewReader(sample))
	case "-":
		in.duty, err = readDuty("standard input", stdin)
	default:
		err = open(dutyName, func(r io.Reader) (err error) {
			in.duty, err = readDuty(dutyName, r)
			return err
		})
	}
	if ratesName != "" {
		err = errors.Join(err, open(ratesName, func(r io.Reader) (err error) {
			in.rates, err = readRates(ratesName, r)
			return err
		}))
	}
	if sizesName != "" {
		err = errors.Join(err, open(sizesName, func(r io.Reader) (err error) {
			in.sizes, err = readSizes(sizesName, r)
			return err
		}))
	}
	return in, err
}

func open(name string, read func(io.Reader) error) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(read(f), f.Close())
}
