package convert

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwright/convert/exchange"
	"lapwright/convert/report"
	"lapwright/engine"
)

// A result that works out its walls again writes what one writes that holds
// them all: workbook, tables and JSON byte by byte.
func TestLargeAsHeld(t *testing.T) {
	dir := t.TempDir()
	var walls, openings strings.Builder
	walls.WriteString("Plot,Wall,Width mm,Height mm,Right height mm,Left edge,Right edge\n")
	openings.WriteString("Plot,Wall,Opening,Kind,From left mm,Sill mm,Width mm,Height mm,Reveal mm,Lined\n")
	for i := range 504 {
		right, n := "", i%204
		if i%3 == 0 {
			right = fmt.Sprint(2000 + 7*n)
		}
		fmt.Fprintf(&walls, "%d,W%d,%d,%d,%s,external corner,abutment\n", i/4, i, 2000+17*n, 1500+5*n, right)
		if i%2 == 0 {
			fmt.Fprintf(&openings, "%d,W%d,O,window,500,700,%d,600,100,%s\n", i/4, i, 600+n, []string{"yes", "no"}[i/2%2])
		}
	}
	for name, text := range map[string]string{"Walls.csv": walls.String(), "Openings.csv": openings.String()} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	ctx := context.Background()
	src, err := open(ctx, dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	src.survey.Job.Rules.WallSheetsMost = 5
	res, err := takeoff(ctx, src.survey, Options{Effort: engine.EffortQuick}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if res.Counts(0).Pieces == len(res.Walls[0].Pieces) || res.Cutting != nil {
		t.Fatalf("%d walls, held with all that is on them", len(res.Walls))
	}
	whole := held(res)
	for _, form := range []struct {
		name  string
		write func(*engine.Result) (string, error)
	}{
		{"workbook", func(r *engine.Result) (string, error) {
			var out bytes.Buffer
			err := report.Write(ctx, &out, reportInput(src, r, Options{}))
			return out.String(), err
		}},
		{"tables", func(r *engine.Result) (string, error) {
			tables, err := report.Tables(reportInput(src, r, Options{}))
			return fmt.Sprint(tables), err
		}},
		{"JSON", func(r *engine.Result) (string, error) {
			var out bytes.Buffer
			err := exchange.JSON(&out, r, exchange.Run{})
			return out.String(), err
		}},
	} {
		got, err := form.write(res)
		if err != nil {
			t.Fatal(err)
		}
		want, err := form.write(whole)
		if err != nil {
			t.Fatal(err)
		}
		if got != want {
			t.Errorf("%s: %d bytes differ from the %d of a result that holds everything", form.name, len(got), len(want))
		}
	}
}

// held returns a result that holds all that is on its walls.
func held(r *engine.Result) *engine.Result {
	out := &engine.Result{Job: r.Job, Left: r.Left, Pools: r.Pools, Order: r.Order, Measured: r.Measured,
		Options: r.Options, Flags: r.Flags, Effort: r.Effort, Board: r.Board, Wind: r.Wind, Notes: r.Notes, Undeclared: r.Undeclared}
	for i := range r.Walls {
		out.Walls = append(out.Walls, *r.Whole(i))
	}
	for row := range r.CutRows(0, r.CutCount()) {
		out.Cutting = append(out.Cutting, *row)
	}
	return out
}
