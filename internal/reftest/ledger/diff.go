package main

import (
	"fmt"
	"strings"
)

// diff lists the lines that only one of two pages has, the first dozen of
// each, and returns "" where the pages are the same.
func diff(old, fresh string) string {
	if old == fresh {
		return ""
	}
	var b strings.Builder
	before, after := strings.Split(old, "\n"), strings.Split(fresh, "\n")
	list(&b, "- ", before, after)
	list(&b, "+ ", after, before)
	if b.Len() == 0 {
		return "the same lines stand in another order or number"
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// list writes the lines that other does not have.
func list(b *strings.Builder, mark string, lines, other []string) {
	const most = 12
	has := map[string]bool{}
	for _, line := range other {
		has[line] = true
	}
	n := 0
	for _, line := range lines {
		if has[line] {
			continue
		}
		n++
		if n <= most {
			fmt.Fprintln(b, mark+line)
		}
	}
	if n > most {
		fmt.Fprintf(b, "%s(%d more)\n", mark, n-most)
	}
}
