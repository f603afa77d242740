package doccheck

import (
	"fmt"
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// sources are the words of which a comment must hold one.
var sources = []string{"Source:", "Common practice", "common practice", "Definition"}

// plain are the methods that fit a type to the standard library and state no
// formula.
var plain = []string{
	"String", "Format", "GoString", "Error", "Is", "As", "Unwrap", "Unit",
	"MarshalText", "UnmarshalText", "MarshalJSON", "UnmarshalJSON",
}

// allowed are the import paths and prefixes besides the standard library, and
// inTests those that a test may have too, besides the package that it tests.
var (
	allowed = []string{"gonum.org/v1/gonum", "ridethrough.example/internal"}
	inTests = []string{"github.com/stretchr/testify", "github.com/google/go-cmp"}
)

// A checker gathers the faults of one package.
type checker struct {
	files  *token.FileSet
	faults []string
}

// checkPackage reads the Go files of a folder and returns its faults, each
// with its place.
func checkPackage(root fs.FS, dir, importPath string) ([]string, error) {
	names, err := fs.Glob(root, path.Join(dir, "*.go"))
	if err != nil {
		return nil, err
	}
	c := checker{files: token.NewFileSet()}
	var files []*ast.File
	for _, name := range names {
		text, err := fs.ReadFile(root, name)
		if err != nil {
			return nil, err
		}
		file, err := parser.ParseFile(c.files, name, text, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files = append(files, file)
		if strings.HasSuffix(name, "_test.go") {
			c.imports(file, slices.Concat(allowed, inTests, []string{importPath}))
		} else {
			c.imports(file, allowed)
		}
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("%s: no Go files", dir)
	}
	p, err := doc.NewFromFiles(c.files, files, importPath)
	if err != nil {
		return nil, err
	}
	c.pkg(p, dir)
	slices.Sort(c.faults)
	return c.faults, nil
}

func (c *checker) fault(at token.Pos, format string, args ...any) {
	c.faults = append(c.faults, fmt.Sprintf("%s: %s", c.files.Position(at), fmt.Sprintf(format, args...)))
}

func (c *checker) imports(file *ast.File, allowed []string) {
	for _, spec := range file.Imports {
		name, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			c.fault(spec.Pos(), "import %s: %v", spec.Path.Value, err)
			continue
		}
		first, _, _ := strings.Cut(name, "/")
		ours := slices.ContainsFunc(allowed, func(a string) bool { return name == a || strings.HasPrefix(name, a+"/") })
		if !ours && strings.Contains(first, ".") || name == "C" || name == "unsafe" {
			c.fault(spec.Pos(), "import %s, want the standard library, gonum or internal", name)
		}
	}
}

func (c *checker) pkg(p *doc.Package, dir string) {
	if strings.TrimSpace(p.Doc) == "" {
		c.faults = append(c.faults, dir+": no package comment")
	}
	examples := len(p.Examples)
	for _, f := range p.Funcs {
		examples += len(f.Examples)
		c.function(f)
	}
	c.values(p.Consts, "constant")
	c.values(p.Vars, "variable")
	for _, t := range p.Types {
		examples += len(t.Examples)
		c.typ(t)
		c.values(t.Consts, "constant")
		c.values(t.Vars, "variable")
		for _, f := range slices.Concat(t.Funcs, t.Methods) {
			examples += len(f.Examples)
			c.function(f)
		}
	}
	if examples == 0 {
		c.faults = append(c.faults, dir+": no Example")
	}
}

func (c *checker) function(f *doc.Func) {
	name := f.Name
	if f.Recv != "" {
		name = f.Recv + "." + name
	}
	switch {
	case strings.TrimSpace(f.Doc) == "":
		c.fault(f.Decl.Pos(), "%s has no comment", name)
	case f.Recv != "" && slices.Contains(plain, f.Name):
	case !slices.ContainsFunc(sources, func(s string) bool { return strings.Contains(f.Doc, s) }):
		c.fault(f.Decl.Pos(), "%s names no source: want %q, %q or %q", name, sources[0], sources[1], sources[3])
	}
}

func (c *checker) typ(t *doc.Type) {
	if strings.TrimSpace(t.Doc) == "" {
		c.fault(t.Decl.Pos(), "type %s has no comment", t.Name)
	}
	for _, spec := range t.Decl.Specs {
		if spec, ok := spec.(*ast.TypeSpec); ok {
			switch body := spec.Type.(type) {
			case *ast.StructType:
				c.fields(t, body.Fields)
			case *ast.InterfaceType:
				c.fields(t, body.Methods)
			}
		}
	}
}

// fields wants a comment at each field, or at the first of a run of lines: a
// comment above "Low, High" or above a block speaks for the block. The type's
// own comment may speak for a field, by its name, and so may the equation at
// another field. One named after its type, as in "Rating Rating", speaks for
// itself.
func (c *checker) fields(t *doc.Type, list *ast.FieldList) {
	said := t.Doc
	for _, f := range list.List {
		said += " " + f.Doc.Text() + " " + f.Comment.Text()
	}
	words := strings.FieldsFunc(strings.ToLower(said), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	last, spoken := 0, false
	for _, f := range list.List {
		start := f.Pos()
		if f.Doc != nil {
			start = f.Doc.Pos()
		}
		if c.files.Position(start).Line > last+1 || f.Doc != nil {
			spoken = f.Doc != nil
		}
		last = c.files.Position(f.End()).Line
		if spoken || f.Comment != nil {
			continue
		}
		typeName := ""
		if id, ok := f.Type.(*ast.Ident); ok {
			typeName = id.Name
		}
		for _, id := range f.Names {
			if id.IsExported() && id.Name != typeName && !slices.Contains(words, strings.ToLower(id.Name)) {
				c.fault(id.Pos(), "field %s.%s has no comment", t.Name, id.Name)
			}
		}
	}
}

// values wants a comment at each group, or at each name of it.
func (c *checker) values(values []*doc.Value, kind string) {
	for _, v := range values {
		if strings.TrimSpace(v.Doc) != "" {
			continue
		}
		for _, spec := range v.Decl.Specs {
			spec, ok := spec.(*ast.ValueSpec)
			if !ok || spec.Doc != nil || spec.Comment != nil {
				continue
			}
			for _, id := range spec.Names {
				if id.IsExported() {
					c.fault(id.Pos(), "%s %s has no comment", kind, id.Name)
				}
			}
		}
	}
}
