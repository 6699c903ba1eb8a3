package engine

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const spreadsheetLibrary = "github.com/xuri/excelize/v2"

// source is one file of the program that is no test, by its path from the
// module's root.
type source struct {
	path    string
	file    *ast.File
	imports []string
}

func (s source) folder() string { return path.Dir(s.path) }

func sources(t *testing.T) []source {
	t.Helper()
	var out []source
	root := filepath.Join("..")
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && name != root && strings.HasPrefix(d.Name(), "."):
			return filepath.SkipDir
		case d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, name)
		s := source{path: filepath.ToSlash(rel), file: file}
		for _, i := range file.Imports {
			p, _ := strconv.Unquote(i.Path.Value)
			s.imports = append(s.imports, p)
		}
		out = append(out, s)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// within reports whether a path is that folder or below it.
func within(p, folder string) bool { return p == folder || strings.HasPrefix(p, folder+"/") }

// The engine has no doors: it asks neither the system nor the clock, writes no
// log, and knows of no file format, network or spreadsheet.
func TestEngineImports(t *testing.T) {
	shut := []string{
		"os", "io", "time", "net", "log", "syscall", "embed", "path/filepath",
		"encoding/csv", "encoding/json", "encoding/xml", "archive", "compress",
		"lapwright/convert", "lapwright/cmd", "lapwright/templates",
	}
	seen := 0
	for _, s := range sources(t) {
		if !within(s.path, "engine") {
			continue
		}
		seen++
		for _, i := range s.imports {
			first, _, _ := strings.Cut(i, "/")
			outside := strings.Contains(first, ".")
			if outside || slices.ContainsFunc(shut, func(door string) bool { return within(i, door) }) {
				t.Errorf("%s imports %s", s.path, i)
			}
		}
	}
	if seen < 20 {
		t.Errorf("only %d files of the engine were seen", seen)
	}
}

// A stage knows no other one, only lengths and shapes; the engine alone knows
// them all, and how names are ordered. The layout of boards is the one that stands on the bare solver,
// and the audit least of all may share code with what it checks.
func TestStagesKnowNothingOfEachOther(t *testing.T) {
	allowed := map[string][]string{"engine/layout": {"lapwright/engine/cutting"}, "engine/audit": {"lapwright/engine/parallel"}}
	for _, s := range sources(t) {
		if !within(s.path, "engine") || s.folder() == "engine" {
			continue
		}
		for _, i := range s.imports {
			if within(i, "lapwright") && i != "lapwright/engine/measure" && i != "lapwright/engine/natural" && !slices.Contains(allowed[s.folder()], i) {
				t.Errorf("%s imports %s", s.path, i)
			}
		}
	}
}

// Only what reads and writes workbooks knows the spreadsheet library.
func TestSpreadsheetLibraryStaysInside(t *testing.T) {
	users := 0
	for _, s := range sources(t) {
		if !slices.ContainsFunc(s.imports, func(i string) bool { return within(i, "github.com/xuri") }) {
			continue
		}
		users++
		if !within(s.folder(), "convert/survey") && s.folder() != "convert/report" {
			t.Errorf("%s imports the spreadsheet library", s.path)
		}
		for _, name := range showing(s) {
			t.Errorf("%s: exported %s shows the spreadsheet library", s.path, name)
		}
	}
	if users == 0 {
		t.Errorf("nobody imports %s", spreadsheetLibrary)
	}
}

// showing returns the exported declarations of a file in whose signature or
// exported fields the spreadsheet library stands.
func showing(s source) []string {
	local := "excelize"
	for _, i := range s.file.Imports {
		if i.Name != nil && strings.Contains(i.Path.Value, spreadsheetLibrary) {
			local = i.Name.Name
		}
	}
	var out []string
	for _, d := range s.file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Name.IsExported() && mentions(d.Type, local) {
				out = append(out, d.Name.Name)
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				out = append(out, shownBy(spec, local)...)
			}
		}
	}
	return out
}

func shownBy(spec ast.Spec, local string) []string {
	switch spec := spec.(type) {
	case *ast.TypeSpec:
		if spec.Name.IsExported() && mentions(publicPart(spec.Type), local) {
			return []string{spec.Name.Name}
		}
	case *ast.ValueSpec:
		var out []string
		for _, n := range spec.Names {
			if n.IsExported() && mentions(spec, local) {
				out = append(out, n.Name)
			}
		}
		return out
	}
	return nil
}

// publicPart is a struct without the fields that nobody outside can see.
func publicPart(e ast.Expr) ast.Node {
	s, ok := e.(*ast.StructType)
	if !ok {
		return e
	}
	list := &ast.FieldList{}
	for _, f := range s.Fields.List {
		if len(f.Names) == 0 || slices.ContainsFunc(f.Names, (*ast.Ident).IsExported) {
			list.List = append(list.List, f)
		}
	}
	return list
}

func mentions(n ast.Node, name string) bool {
	found := false
	ast.Inspect(n, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if id, ok := sel.X.(*ast.Ident); ok && id.Name == name {
				found = true
			}
		}
		return !found
	})
	return found
}

// The check above must be able to fail.
func TestShowing(t *testing.T) {
	const text = `package p
import x "github.com/xuri/excelize/v2"
func Bad(f *x.File) {}
func bad(f *x.File) {}
func Good() { _ = x.NewFile() }
type Open struct { F *x.File }
type Shut struct { f *x.File; N int }
type Embeds struct { *x.File }
var V = x.NewFile
var v = x.NewFile
`
	file, err := parser.ParseFile(token.NewFileSet(), "p.go", text, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"Bad", "Open", "Embeds", "V"}
	if got := showing(source{file: file}); !slices.Equal(got, want) {
		t.Errorf("showing: got %q, want %q", got, want)
	}
}
