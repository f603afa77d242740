// Package console holds what the example programs share as commands: exit
// codes, faults on standard error, JSON on standard output, text that cannot
// steer a terminal, and what reads a flag or a cell into a field.
package console

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"
)

// The exit codes of the programs.
const (
	Done  = iota // computed, and all is well
	Input        // an input is at fault
	Usage        // wrong usage
	Fails        // computed, but something does not hold
)

// Fail reports an error of a program and returns [Input].
func Fail(stderr io.Writer, program string, err error) int {
	fmt.Fprintf(stderr, "%s: %s\n", program, Printable(err.Error(), '\n'))
	return Input
}

// Printable returns text whose control and direction characters are replaced,
// save for one: what a file says must not make a terminal show something else.
func Printable(text string, but rune) string {
	return strings.Map(func(r rune) rune {
		if r != but && !unicode.IsPrint(r) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// JSON returns v as indented JSON with a newline at its end.
func JSON(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(v)
	return b.Bytes(), err
}
