package main

import (
	"archive/zip"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"lapwright": main,
	})
}

var surveys = flag.Int("surveys", 24, "how many surveys the batch has that is interrupted")

// TestScripts runs the command line as a person would type it.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("..", "..", "testdata", "script"),
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error { // where the examples for batch systems stand
			examples, err := filepath.Abs(filepath.Join("..", "..", "testdata", "batch"))
			env.Setenv("BATCH", examples)
			env.Setenv("SURVEYS", strconv.Itoa(*surveys))
			return err
		},
		UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"mkbook":    makeBook,
			"dumpbook":  dumpBook,
			"headers":   headers,
			"setcell":   setCell,
			"mkbytes":   makeBytes,
			"mkzip":     makeZip,
			"exits":     exits,
			"sameflags": sameFlags,
			"only":      only,
			"same":      same,
		},
		Condition: func(cond string) (bool, error) {
			if cond == "root" { // may write anywhere
				return os.Geteuid() == 0, nil
			}
			return false, fmt.Errorf("unknown condition %q", cond)
		},
	})
}

// exits CODE COMMAND... runs a command and wants that exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code command [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		if _, e := fmt.Sscanf(err.Error(), "exit status %d", &got); e != nil {
			ts.Fatalf("%v", err)
		}
	}
	if got != want {
		ts.Fatalf("%s: got exit code %d, want %d", strings.Join(args[1:], " "), got, want)
	}
}

// sameFlags N A B wants two JSON reports to raise the same flags, N at least.
func sameFlags(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: sameflags least a.json b.json")
	}
	least, err := strconv.Atoi(args[0])
	ts.Check(err)
	flags := func(file string) (all []any) {
		var report struct{ Surveys []struct{ Flags []any } }
		ts.Check(json.Unmarshal([]byte(ts.ReadFile(file)), &report))
		for _, s := range report.Surveys {
			all = append(all, s.Flags...)
		}
		return all
	}
	a, b := flags(args[1]), flags(args[2])
	if len(a) < least || !reflect.DeepEqual(a, b) {
		ts.Fatalf("%s raises %d flags, %s %d; want the same, and at least %d", args[1], len(a), args[2], len(b), least)
	}
}

// only FOLDER [NAME...] wants these files in a folder and no other ones,
// hidden or not.
func only(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: only folder [name...]")
	}
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	var got []string
	for _, e := range entries {
		if e.Name() != ".tmp" { // the scripts' own
			got = append(got, e.Name())
		}
	}
	if want := slices.Sorted(slices.Values(args[1:])); !slices.Equal(got, want) {
		ts.Fatalf("%s holds %q, want %q", args[0], got, want)
	}
}

// makeBytes FILE PIECE... writes a file of pieces of text, in which \x41 and
// the like stand for bytes; FILE:N is the first N bytes of another file.
func makeBytes(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: mkbytes file piece...")
	}
	var out []byte
	for _, a := range args[1:] {
		if file, n, ok := strings.Cut(a, ":"); ok {
			size, err := strconv.Atoi(n)
			ts.Check(err)
			out = append(out, ts.ReadFile(file)[:size]...)
			continue
		}
		piece, err := strconv.Unquote(`"` + a + `"`)
		ts.Check(err)
		out = append(out, piece...)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), out, 0o644))
}

// same A B wants two files to hold the same bytes, and does not print them.
func same(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: same a b")
	}
	if a, b := ts.ReadFile(args[0]), ts.ReadFile(args[1]); a != b {
		ts.Fatalf("%s of %d bytes and %s of %d bytes differ", args[0], len(a), args[1], len(b))
	}
}

// makeZip FILE NAME=TEXT... writes an archive of small files.
func makeZip(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: mkzip file name=text...")
	}
	f, err := os.Create(ts.MkAbs(args[0]))
	ts.Check(err)
	defer f.Close()
	z := zip.NewWriter(f)
	for _, a := range args[1:] {
		name, text, _ := strings.Cut(a, "=")
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
		ts.Check(err)
		_, err = w.Write([]byte(text))
		ts.Check(err)
	}
	ts.Check(z.Close())
}
