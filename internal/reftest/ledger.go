package reftest

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
)

// LedgerVariable is the environment variable that names the folder in which
// [Main] leaves a package's [Report].
const LedgerVariable = "RIDETHROUGH_LEDGER"

// A Report is what one test binary leaves for the ledger: the files of
// testdata that it read, and every figure that it compared.
type Report struct {
	Package string // the folder its tests ran in
	Files   []File
	Checks  []Check
}

// A File is one CSV that a test read.
type File struct {
	Path, Title, Source string
}

// A Figure is one cell of one file. A figure compared twice, in one package
// or in two, counts once.
type Figure struct {
	Path     string
	Line     int
	Column   string
	Negative bool // a wrong figure that must not be reproduced
}

// A Check is the comparison of one figure.
type Check struct {
	Figure
	Status    Status
	Deviation float64 // relative
	Failed    bool
}

// Merge joins two checks of one figure: the worse of each.
func (c Check) Merge(other Check) Check {
	c.Status = max(c.Status, other.Status)
	c.Deviation = max(c.Deviation, other.Deviation)
	c.Failed = c.Failed || other.Failed
	return c
}

// Main runs a package's tests and, where the ledger asks for it, leaves their
// report. Each package with reference tables has
//
//	func TestMain(m *testing.M) { reftest.Main(m) }
func Main(m *testing.M) {
	code := m.Run()
	if dir := os.Getenv(LedgerVariable); dir != "" {
		if err := count.write(dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			code = 1
		}
	}
	os.Exit(code)
}

// A counter gathers the checks of one test binary.
type counter struct {
	mu     sync.Mutex
	files  map[string]File
	checks map[Figure]Check
}

func newCounter() *counter {
	return &counter{files: map[string]File{}, checks: map[Figure]Check{}}
}

var count = newCounter()

func (c *counter) add(t *Table) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.files[t.path] = File{Path: t.path, Title: t.Title, Source: t.Source}
}

func (c *counter) record(k Check) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if old, ok := c.checks[k.Figure]; ok {
		k = k.Merge(old)
	}
	c.checks[k.Figure] = k
}

// report lists files and checks in the order of path, line and column.
func (c *counter) report(pkg string) Report {
	c.mu.Lock()
	defer c.mu.Unlock()
	r := Report{Package: pkg}
	for _, f := range c.files {
		r.Files = append(r.Files, f)
	}
	for _, k := range c.checks {
		r.Checks = append(r.Checks, k)
	}
	slices.SortFunc(r.Files, func(a, b File) int { return strings.Compare(a.Path, b.Path) })
	slices.SortFunc(r.Checks, func(a, b Check) int {
		return strings.Compare(a.key(), b.key())
	})
	return r
}

func (f Figure) key() string {
	return fmt.Sprintf("%s:%06d:%s:%t", f.Path, f.Line, f.Column, f.Negative)
}

// write leaves the report in dir, in a new file of its own, so that two
// packages of one name do not overwrite each other.
func (c *counter) write(dir string) error {
	wd, err := os.Getwd()
	if err != nil {
		return err
	}
	data, err := json.Marshal(c.report(wd))
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(dir, filepath.Base(wd)+"-*.json")
	if err != nil {
		return err
	}
	if _, err = f.Write(data); err != nil {
		_ = f.Close()
		return err
	}
	return f.Close()
}
