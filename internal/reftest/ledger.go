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
// [Main] leaves a package's counts.
const LedgerVariable = "RIDETHROUGH_LEDGER"

// A Count is what one test binary found in one file of testdata.
type Count struct {
	Name, Title, Source string
	Values              [Memory + 1]int // by Status
	Negative            int
	Failed              int
	Deviation           float64 // worst, relative
}

// Main runs a package's tests and, where the ledger asks for it, leaves the
// counts. Each package with reference tables has
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

// A check is one comparison of one printed figure.
type check struct {
	table, column    string
	line             int
	status           Status
	deviation        float64
	negative, failed bool
}

// A counter gathers the checks of one test binary. The same figure compared
// twice counts once.
type counter struct {
	mu     sync.Mutex
	tables map[string]*Table
	checks map[string]check
}

var count = counter{tables: map[string]*Table{}, checks: map[string]check{}}

func (c *counter) add(t *Table) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.tables[t.Name] = t
}

func (c *counter) record(k check) {
	c.mu.Lock()
	defer c.mu.Unlock()
	key := fmt.Sprint(k.table, ":", k.line, ":", k.column, ":", k.negative)
	if old, ok := c.checks[key]; ok {
		k.failed = k.failed || old.failed
		k.deviation = max(k.deviation, old.deviation)
	}
	c.checks[key] = k
}

// counts sums the checks by file, in the order of the names.
func (c *counter) counts() []Count {
	c.mu.Lock()
	defer c.mu.Unlock()
	byName := map[string]*Count{}
	for _, k := range c.checks {
		n := byName[k.table]
		if n == nil {
			t := c.tables[k.table]
			n = &Count{Name: t.Name, Title: t.Title, Source: t.Source}
			byName[k.table] = n
		}
		if k.failed {
			n.Failed++
		}
		if k.negative {
			n.Negative++
			continue
		}
		n.Values[k.status]++
		n.Deviation = max(n.Deviation, k.deviation)
	}
	var all []Count
	for _, n := range byName {
		all = append(all, *n)
	}
	slices.SortFunc(all, func(a, b Count) int { return strings.Compare(a.Name, b.Name) })
	return all
}

// write leaves the counts in dir, in a file named after the package's folder.
func (c *counter) write(dir string) error {
	wd, err := os.Getwd()
	if err != nil {
		return err
	}
	data, err := json.MarshalIndent(c.counts(), "", "\t")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, filepath.Base(wd)+".json"), data, 0o600)
}
