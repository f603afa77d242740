// Package tour holds the programs that README.md shows. Its test fails where
// the page shows other code or other output than there is.
package tour

import (
	"flag"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// update writes what there is into README.md:
//
//	go test ./examples/tour -update
var update = flag.Bool("update", false, "write code and output into README.md")

const readme = "../../README.md"

// block finds the fenced block between <!-- name --> and <!-- /name -->.
func block(name string) *regexp.Regexp {
	return regexp.MustCompile("(?s)(<!-- " + name + " -->\n```[a-z]*\n)(.*?)(```\n<!-- /" + name + " -->)")
}

func shown(t *testing.T, page, name string) string {
	t.Helper()
	m := block(name).FindStringSubmatch(page)
	require.NotNil(t, m, "README.md has no block %q", name)
	return m[2]
}

// output runs a program of the examples and returns what it prints.
func output(t *testing.T, program string) string {
	t.Helper()
	cmd := exec.Command("go", "run", program)
	out, err := cmd.Output()
	require.NoError(t, err)
	return string(out)
}

// code returns a program without its package comment.
func code(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	_, body, ok := strings.Cut(string(data), "package main\n")
	require.True(t, ok)
	return "package main\n" + body
}

// shorten keeps the verdict, the first lines of each other section and the
// dots that say that more follows.
func shorten(text string) string {
	var out []string
	kept := 0
	for _, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		if line != "" && !strings.HasPrefix(line, " ") {
			kept = 5
			if strings.HasPrefix(line, "PLAN") || strings.HasPrefix(line, "VERDICT") {
				kept = 100
			}
		}
		switch {
		case line == "" && kept <= 0:
			out = append(out, "  ...", "")
		case kept > 0:
			out = append(out, line)
		}
		kept--
	}
	return strings.Join(out, "\n") + "\n  ...\n"
}

func TestReadmeShowsWhatThereIs(t *testing.T) {
	want := map[string]string{
		"planner":         shorten(output(t, "../planner")),
		"embed":           code(t, "embed/main.go"),
		"embed output":    output(t, "./embed"),
		"homework":        code(t, "homework/main.go"),
		"homework output": output(t, "./homework"),
	}
	data, err := os.ReadFile(readme)
	require.NoError(t, err)
	page := string(data)
	if *update {
		for name, text := range want {
			page = block(name).ReplaceAllStringFunc(page, func(old string) string {
				m := block(name).FindStringSubmatch(old)
				return m[1] + text + m[3]
			})
		}
		require.NoError(t, os.WriteFile(readme, []byte(page), 0o600))
	}
	for name, text := range want {
		assert.Equal(t, text, shown(t, page, name), "README.md is stale: go test ./examples/tour -update")
	}
}
