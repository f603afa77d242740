// Command ledger writes testdata/README.md: which published figures the tests
// compare with, how many of them, and how far off the worst result is.
//
//	go run ./internal/reftest/ledger         runs all tests and writes the file
//	go run ./internal/reftest/ledger -check  runs all tests and compares with the file
//
// It refuses where a test fails, where a comparison failed without failing its
// test, and where a CSV of testdata is read by no test. Exit codes: 0 done, or
// the file is fresh; 1 refused, or the file is stale; 2 usage.
//
//   - main.go: running the tests of both modules
//   - merge.go: joining the reports of the test binaries, a figure once
//   - render.go: the page
//   - diff.go: what is stale
package main

import (
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"ridethrough.example/internal/reftest"
)

const page = "testdata/README.md"

func main() {
	check := flag.Bool("check", false, "compare with "+page+" instead of writing it")
	flag.Parse()
	if flag.NArg() > 0 {
		fmt.Fprintln(os.Stderr, "ledger: takes no arguments")
		os.Exit(2)
	}
	if err := run(*check); err != nil {
		fmt.Fprintln(os.Stderr, "ledger:", err)
		os.Exit(1)
	}
}

// run tests, renders, and writes or compares.
func run(check bool) error {
	root, err := findRoot()
	if err != nil {
		return err
	}
	reports, err := collect(root)
	if err != nil {
		return err
	}
	files, err := csvFiles(os.DirFS(root))
	if err != nil {
		return err
	}
	sources, err := merge(root, reports, files)
	if err != nil {
		return err
	}
	text := render(sources)
	path := filepath.Join(root, filepath.FromSlash(page))
	if !check {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			return err
		}
		fmt.Println("wrote", page+":", lastLine(text))
		return nil
	}
	old, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if d := diff(string(old), text); d != "" {
		return fmt.Errorf("%s is stale, run go run ./internal/reftest/ledger\n%s", page, d)
	}
	fmt.Println(page, "is fresh:", lastLine(text))
	return nil
}

// findRoot returns the folder of go.work, here or above.
func findRoot() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.work")); err == nil {
			return dir, nil
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			return "", errors.New("no go.work here or above")
		}
		dir = parent
	}
}

// collect runs the tests of both modules and reads what they left.
func collect(root string) ([]reftest.Report, error) {
	dir, err := os.MkdirTemp("", "ledger-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	test := exec.Command("go", "test", "-count=1", "./...", "./examples/...")
	test.Dir = root
	test.Env = append(os.Environ(), reftest.LedgerVariable+"="+dir)
	test.Stdout, test.Stderr = os.Stderr, os.Stderr
	if err := test.Run(); err != nil {
		return nil, fmt.Errorf("%s: %w: no ledger of failing tests", strings.Join(test.Args, " "), err)
	}
	return readReports(os.DirFS(dir))
}

// csvFiles lists every CSV that lies in a folder testdata, at any depth.
func csvFiles(root fs.FS) ([]string, error) {
	var files []string
	err := fs.WalkDir(root, ".", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != "." && strings.HasPrefix(d.Name(), "."):
			return fs.SkipDir
		case !d.IsDir() && strings.HasSuffix(path, ".csv") && slices.Contains(strings.Split(path, "/"), "testdata"):
			files = append(files, path)
		}
		return nil
	})
	return files, err
}
