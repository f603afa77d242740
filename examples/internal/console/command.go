package console

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
)

// A Command is what the programs are made of: flags, one of which chooses the
// form of the answer, and where they write.
type Command struct {
	*flag.FlagSet

	stdout, stderr io.Writer
	format         *string
}

// NewCommand returns a command with the flag format. Usage and codes are the
// lines above and below the list of flags.
func NewCommand(name, usage, codes string, stdout, stderr io.Writer) *Command {
	c := &Command{FlagSet: flag.NewFlagSet(name, flag.ContinueOnError), stdout: stdout, stderr: stderr}
	c.SetOutput(stderr)
	c.format = c.String("format", "text", "form of the answer: text or json")
	c.Usage = func() {
		fmt.Fprintln(stderr, "usage: "+usage)
		c.PrintDefaults()
		fmt.Fprintln(stderr, "exit codes: "+codes)
	}
	return c
}

// Keep adds a flag whose text is kept as it was typed, under the name that it has
// in a file: with _ for -.
func (c *Command) Keep(given map[string]string, name, help string) {
	c.Func(strings.ReplaceAll(name, "_", "-"), help, func(text string) error {
		given[name] = text
		return nil
	})
}

// Read parses arguments, of which so many may be no flags. With ok false the
// program ends with the code: help was asked for, or the usage is wrong.
func (c *Command) Read(args []string, most int) (code int, ok bool) {
	if err := c.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return Done, false
		}
		return Usage, false
	}
	if c.NArg() > most || *c.format != "text" && *c.format != "json" {
		return c.Misused(), false
	}
	return Done, true
}

// Open opens the file that the first argument names: without one it reads the
// sample, and "-" stands for standard input. Shown is what faults call it.
func (c *Command) Open(stdin io.Reader, sample []byte, sampleName string) (in io.ReadCloser, shown string, err error) {
	switch name := c.Arg(0); name {
	case "":
		return io.NopCloser(bytes.NewReader(sample)), sampleName, nil
	case "-":
		return io.NopCloser(stdin), "standard input", nil
	default:
		in, err = os.Open(name)
		return in, name, err
	}
}

// Misused writes the usage and returns [Usage].
func (c *Command) Misused() int {
	c.Usage()
	return Usage
}

// Fail reports an error and returns [Input].
func (c *Command) Fail(err error) int { return Fail(c.stderr, c.Name(), err) }

// Write writes bytes and returns [Done].
func (c *Command) Write(out []byte) int {
	if _, err := c.stdout.Write(out); err != nil {
		return c.Fail(err)
	}
	return Done
}

// Answer writes an answer in the form that was asked for, and returns [Done] if
// it holds, [Fails] otherwise.
func (c *Command) Answer(text func() []byte, answer any, holds bool) int {
	var out []byte
	if *c.format == "json" {
		var err error
		if out, err = JSON(answer); err != nil {
			return c.Fail(err)
		}
	} else {
		out = text()
	}
	if code := c.Write(out); code != Done || holds {
		return code
	}
	return Fails
}
