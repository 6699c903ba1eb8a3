package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"

	"lapwright/engine"
	"lapwright/templates"
)

// Tables of the README that the program itself knows better stand between
// markers, and must be what the program says. UPDATE_README=1 writes them.
func TestReadme(t *testing.T) {
	path := filepath.Join("..", "..", "README.md")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	columns, err := templates.Markdown()
	if err != nil {
		t.Fatal(err)
	}
	readme := string(text)
	for _, part := range []struct{ name, want string }{
		{"options", optionTable()},
		{"exit codes", "| Code | Meaning |\n| --- | --- |\n" + exitTable("| %d | %s |\n") + "\n"},
		{"columns", columns},
	} {
		before, rest, found := strings.Cut(readme, "<!-- "+part.name+":")
		note, rest, _ := strings.Cut(rest, "-->\n")
		got, after, closed := strings.Cut(rest, "<!-- /"+part.name+" -->")
		if !found || !closed {
			t.Fatalf("the README has no place for %s", part.name)
		}
		if got != part.want && os.Getenv("UPDATE_README") == "" {
			t.Errorf("%s in the README differ from the program's at\n%s\nUPDATE_README=1 go test ./cmd/lapwright -run Readme writes them", part.name, firstDifference(got, part.want))
		}
		readme = before + "<!-- " + part.name + ":" + note + "-->\n" + part.want + "<!-- /" + part.name + " -->" + after
	}
	if os.Getenv("UPDATE_README") != "" {
		if err := os.WriteFile(path, []byte(readme), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return "got  " + g[i] + "\nwant " + w[i]
		}
	}
	return fmt.Sprintf("got %d lines, want %d", len(g), len(w))
}

// optionTable lists the options of every command, each once.
func optionTable() string {
	app := newApp(nil, nil)
	var names []string
	what, with := map[string]string{}, map[string][]string{}
	for _, c := range app.Commands {
		for _, f := range c.Flags {
			name := f.Names()[0]
			if what[name] == "" {
				names = append(names, name)
				what[name] = optionText(f)
			}
			with[name] = append(with[name], c.Name)
		}
	}
	var b strings.Builder
	b.WriteString("| Option | With | What it does |\n| --- | --- | --- |\n")
	for _, n := range names {
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", dashed(n), strings.Join(with[n], ", "), what[n])
	}
	return b.String()
}

func optionText(f cli.Flag) string {
	return strings.ReplaceAll(f.(cli.DocGenerationFlag).GetUsage(), "`", "")
}

// The README names its two commands on lines of their own, which the checks of
// the project run word for word, and repeats the defaults that the rules have.
func TestReadmeFacts(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(text), "\n")
	r := engine.DefaultRules()
	for _, want := range []string{
		"go run ./cmd/lapwright takeoff --example",
		"go test ./...",
	} {
		if !slices.Contains(lines, want) {
			t.Errorf("the README has no line %q", want)
		}
	}
	for _, want := range []string{
		fmt.Sprintf("| Lap | %v to %v mm |", r.LapLeast, r.LapMost),
		fmt.Sprintf("| First board above the ground | %v mm |", r.GroundClearance),
		fmt.Sprintf("| Batten centres | %v mm |", r.BattenCentres),
		fmt.Sprintf("| Cavity | %v mm at least |", r.CavityLeast),
		fmt.Sprintf("at least %v mm from an end |", r.EndDistanceLeast),
		fmt.Sprintf("| Void threshold in measured quantities | %v m2 |", r.VoidThreshold),
	} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the README does not say %q", want)
		}
	}
}
