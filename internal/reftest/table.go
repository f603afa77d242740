// Package reftest lays the library's results beside published tables. A test
// reads a CSV of testdata, computes, and compares with the digits that the
// source prints; every comparison is counted for the ledger.
//
//   - table.go: reading a CSV with its source header
//   - row.go: a row's cells, inputs and status
//   - check.go: comparing a result with a printed figure, and refusing a wrong one
//   - status.go: who stands behind a figure
//   - ledger.go: counting the checks; command ledger in the folder below writes testdata/README.md
//
// A file starts with header lines:
//
//	# title: one line
//	# source: standard with edition and table, or book and example
//	# status: published | independent | common practice | memory
//	# status COLUMN: the same, for one column that differs
//	# notes: anything else (repeatable)
//
// A row's own column "verified" (page, two-pages, derived, common practice,
// memory) overrides the file's status, and a column's status overrides both.
// Where "verified" says several things, the weakest counts.
//
// A row whose column "counted_in" names another file of testdata holds figures
// that stand there as well: it is compared, but counts there and not here.
package reftest

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A Table is one CSV file of testdata.
type Table struct {
	Name    string // path below testdata, with slashes
	Title   string
	Source  string
	Columns []string
	path    string            // of the file
	status  map[string]Status // by column; "" is the file's
	rows    [][]string
	lines   []int
}

// Rows returns the rows of testdata/name, in order. It fails the test where
// the file is missing, is malformed or has no source.
func Rows(tb testing.TB, name string) []Row {
	tb.Helper()
	table, err := load(name)
	if err != nil {
		tb.Fatal(err)
	}
	count.add(table)
	rows := make([]Row, len(table.rows))
	for i := range rows {
		rows[i] = Row{tb: tb, table: table, index: i}
	}
	return rows
}

// load reads and checks testdata/name.
func load(name string) (*Table, error) {
	path, err := find(name)
	if err != nil {
		return nil, err
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	table, err := parse(name, data)
	if err != nil {
		return nil, err
	}
	table.path = path
	if i := slices.Index(table.Columns, countedIn); i >= 0 {
		for k, row := range table.rows {
			if row[i] == "" {
				continue
			}
			if other, err := find(row[i]); err != nil || other == path {
				return nil, fmt.Errorf("reftest: %s: line %d: counted in %q, want another file of testdata", name, table.lines[k], row[i])
			}
		}
	}
	return table, nil
}

// countedIn is the column that says where else a row's figures stand.
const countedIn = "counted_in"

// find looks for testdata/name from the working directory upwards.
func find(name string) (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		path := filepath.Join(dir, "testdata", filepath.FromSlash(name))
		if _, err := os.Stat(path); err == nil {
			return path, nil
		}
		if parent := filepath.Dir(dir); parent != dir {
			dir = parent
			continue
		}
		return "", fmt.Errorf("reftest: no testdata/%s here or above", name)
	}
}

// parse reads the header lines and the cells of one file.
func parse(name string, data []byte) (*Table, error) {
	t := &Table{Name: name, path: name, status: map[string]Status{}}
	if err := t.parseHeader(data); err != nil {
		return nil, fmt.Errorf("reftest: %s: %w", name, err)
	}
	if err := t.parseCells(data); err != nil {
		return nil, fmt.Errorf("reftest: %s: %w", name, err)
	}
	return t, nil
}

// parseHeader reads the lines that start with # at the top of a file.
func (t *Table) parseHeader(data []byte) error {
	for line := range strings.Lines(string(data)) {
		line, ok := strings.CutPrefix(line, "#")
		if !ok {
			break
		}
		key, value, _ := strings.Cut(strings.TrimSpace(line), ":")
		value = strings.TrimSpace(value)
		switch column, isStatus := strings.CutPrefix(key, "status"); {
		case key == "title":
			t.Title = value
		case key == "source" && t.Source == "":
			t.Source = value
		case key == "source":
			t.Source += "; " + value
		case isStatus:
			status, err := parseStatus(value)
			if err != nil {
				return err
			}
			t.status[strings.TrimSpace(column)] = status
		}
	}
	if t.Title == "" || t.Source == "" || t.status[""] == 0 {
		return errors.New("want header lines title, source and status")
	}
	return nil
}

// parseCells reads the head of the columns and the rows. Only a line that
// starts with "# " is a comment below the head, so that a row named "#12"
// cannot vanish.
func (t *Table) parseCells(data []byte) error {
	r := csv.NewReader(bytes.NewReader(data))
	r.Comment = '#'
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		line, _ := r.FieldPos(0)
		if t.Columns == nil {
			t.Columns = record
			continue
		}
		t.rows = append(t.rows, record)
		t.lines = append(t.lines, line)
	}
	if len(t.rows) == 0 {
		return errors.New("no rows")
	}
	for i, column := range t.Columns {
		if slices.Index(t.Columns, column) != i {
			return fmt.Errorf("column %q stands twice", column)
		}
	}
	for column := range t.status {
		if column != "" && !slices.Contains(t.Columns, column) {
			return fmt.Errorf("status of column %q, which the file does not have", column)
		}
	}
	head := false
	for line := range strings.Lines(string(data)) {
		comment, isComment := strings.CutPrefix(line, "#")
		if head && isComment && strings.TrimSpace(comment) != "" && comment[0] != ' ' {
			return fmt.Errorf("line %q reads as a comment: quote its first cell", strings.TrimSpace(line))
		}
		head = head || !isComment
	}
	if i := slices.Index(t.Columns, "verified"); i >= 0 {
		for k, row := range t.rows {
			if _, err := parseVerified(row[i]); err != nil {
				return fmt.Errorf("line %d: %w", t.lines[k], err)
			}
		}
	}
	return nil
}
