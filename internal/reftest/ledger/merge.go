package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"ridethrough.example/internal/reftest"
)

// A source is one CSV with what the tests found in it.
type source struct {
	Path, Title, Source string
	Values              map[reftest.Status]int
	Negative            int
	Deviation           float64 // worst, relative
}

// total is the number of values checked.
func (s source) total() int {
	n := 0
	for _, v := range s.Values {
		n += v
	}
	return n
}

// group is the package whose figures the file holds: the folder below
// testdata, or the folder that testdata lies in.
func (s source) group() string {
	before, after, _ := strings.Cut(s.Path, "testdata/")
	if before != "" {
		return strings.TrimSuffix(before, "/")
	}
	dir, _, ok := strings.Cut(after, "/")
	if !ok {
		return "testdata"
	}
	return dir
}

// readReports reads the reports that the test binaries left.
func readReports(dir fs.FS) ([]reftest.Report, error) {
	names, err := fs.Glob(dir, "*.json")
	if err != nil {
		return nil, err
	}
	reports := make([]reftest.Report, len(names))
	for i, name := range names {
		data, err := fs.ReadFile(dir, name)
		if err != nil {
			return nil, err
		}
		if err := json.Unmarshal(data, &reports[i]); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return reports, nil
}

// merge joins the reports into one source a file, in the order of the paths.
// A figure that several packages compared counts once, with the worst of its
// deviations. files are the CSVs on disk below root; one that no test read is
// an error, and so is a failed comparison.
func merge(root string, reports []reftest.Report, files []string) ([]source, error) {
	var faults []error
	sources := map[string]*source{}
	checks := map[reftest.Figure]reftest.Check{}
	for _, r := range reports {
		for _, f := range r.Files {
			path, err := filepath.Rel(root, f.Path)
			if err != nil {
				return nil, err
			}
			sources[f.Path] = &source{
				Path: filepath.ToSlash(path), Title: f.Title, Source: f.Source,
				Values: map[reftest.Status]int{},
			}
		}
		for _, c := range r.Checks {
			if old, ok := checks[c.Figure]; ok {
				c = c.Merge(old)
			}
			checks[c.Figure] = c
		}
	}
	read := map[string]bool{}
	for _, s := range sources {
		read[s.Path] = true
	}
	for _, c := range checks {
		s := sources[c.Path]
		if s == nil {
			return nil, fmt.Errorf("a check of %s, which its report does not list", c.Path)
		}
		if c.Failed {
			faults = append(faults, fmt.Errorf("%s:%d: %s: a comparison failed that failed no test", s.Path, c.Line, c.Column))
		}
		if c.Negative {
			s.Negative++
			continue
		}
		s.Values[c.Status]++
		s.Deviation = max(s.Deviation, c.Deviation)
	}
	for _, path := range files {
		if !read[path] {
			faults = append(faults, fmt.Errorf("%s: no test reads it", path))
		}
	}
	if len(faults) > 0 {
		slices.SortFunc(faults, func(a, b error) int { return strings.Compare(a.Error(), b.Error()) })
		return nil, errors.Join(faults...)
	}
	var all []source
	for _, s := range sources {
		all = append(all, *s)
	}
	slices.SortFunc(all, func(a, b source) int { return strings.Compare(a.Path, b.Path) })
	return all, nil
}
