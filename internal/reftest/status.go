package reftest

import (
	"fmt"
	"slices"
	"strings"
)

// A Status says who stands behind an expected value.
type Status byte

// The statuses, best first.
const (
	Published      Status = iota + 1 // seen printed
	Independent                      // computed by other means than the code under test
	CommonPractice                   // used by the trade, backed by no standard
	Memory                           // recalled; nobody has seen the page
)

// Statuses lists all of them, best first.
var Statuses = [...]Status{Published, Independent, CommonPractice, Memory}

// statusNames are the words of a file's header, in the order of the constants.
var statusNames = []string{"", "published", "independent", "common practice", "memory"}

// String returns the word that headers and the ledger use.
func (s Status) String() string {
	if int(s) >= len(statusNames) {
		return fmt.Sprintf("Status(%d)", byte(s))
	}
	return statusNames[s]
}

func parseStatus(word string) (Status, error) {
	if i := slices.Index(statusNames, word); i > 0 {
		return Status(i), nil
	}
	return 0, fmt.Errorf("status %q, want one of %s", word, strings.Join(statusNames[1:], ", "))
}

// parseVerified reads a cell of the column "verified". Such a cell may say
// several things, as in "page (inputs); derived": the weakest counts. A page
// that printed only what a figure was computed from makes it independent. An
// empty cell says nothing and returns 0.
func parseVerified(cell string) (Status, error) {
	word := strings.ToLower(strings.TrimSpace(cell))
	says := func(parts ...string) bool {
		return slices.ContainsFunc(parts, func(p string) bool { return strings.Contains(word, p) })
	}
	switch {
	case word == "":
		return 0, nil
	case says("memory"):
		return Memory, nil
	case says("common practice"):
		return CommonPractice, nil
	case says("derived", "independent", "(claim", "(input", "(coefficient", "(data", "(question", "(statement"):
		return Independent, nil
	case says("page", "published"):
		return Published, nil
	}
	return 0, fmt.Errorf("verified %q, want page, two-pages, derived, common practice or memory", cell)
}
