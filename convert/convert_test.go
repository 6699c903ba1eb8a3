package convert

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"lapwright/engine"
)

const walls = "Wall,Width mm,Height mm\nFront,4000,2700\n"

// countdown is a context that ends when it has been asked for the n-th time.
type countdown struct {
	mu   sync.Mutex
	left int
	done chan struct{}
}

func newCountdown(n int) *countdown { return &countdown{left: n, done: make(chan struct{})} }

func (c *countdown) Deadline() (time.Time, bool) { return time.Time{}, false }
func (c *countdown) Value(any) any               { return nil }
func (c *countdown) Done() <-chan struct{}       { return c.done }
func (c *countdown) Err() error {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.left == 0 {
		return context.Canceled
	}
	if c.left--; c.left == 0 {
		close(c.done)
		return context.Canceled
	}
	return nil
}

// Wherever a run is interrupted, it says so and leaves nothing behind.
func TestInterruptedAnywhere(t *testing.T) {
	step := 1
	if testing.Short() {
		step = 7
	}
	for n := 1; ; n += step {
		dir := t.TempDir()
		in := filepath.Join(dir, "Walls.csv")
		put(t, in, walls, 0o644)
		rep, err := Convert(newCountdown(n), in, Options{Effort: engine.EffortQuick})
		if err == nil {
			if n == 1 {
				t.Fatal("the context is never asked")
			}
			if rep.Out == "" {
				t.Error("a run that ended well wrote nothing")
			}
			return
		}
		if KindOf(err) != Interrupted || !errors.Is(err, context.Canceled) {
			t.Fatalf("interrupted at question %d: got %v of kind %d, want kind %d", n, err, KindOf(err), Interrupted)
		}
		if left := listing(t, dir); !slices.Equal(left, []string{"Walls.csv=" + walls}) {
			t.Fatalf("interrupted at question %d: left behind %.300q", n, left)
		}
	}
}

// Two runs of the same survey write the same bytes.
func TestSameBytes(t *testing.T) {
	dir := t.TempDir()
	if _, err := Template(filepath.Join(dir, "house.xlsx"), true); err != nil {
		t.Fatal(err)
	}
	var first []byte
	for _, out := range []string{"a.xlsx", "b.xlsx", "c.xlsx"} {
		rep, err := Convert(t.Context(), filepath.Join(dir, "house.xlsx"), Options{Out: filepath.Join(dir, out), Effort: engine.EffortQuick})
		if err != nil {
			t.Fatal(err)
		}
		text, err := os.ReadFile(rep.Out)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = text
		}
		if string(first) != string(text) {
			t.Errorf("%s differs from the first", out)
		}
	}
}

func TestFailure(t *testing.T) {
	audit := errors.Join(errors.New("2 faults"), engine.ErrAudit)
	tests := []struct {
		name string
		err  error
		kind Kind
		text string
	}{
		{"the audit", audit, Internal, "a fault of this program"},
		{"a panic", errors.New("index out of range\ngoroutine 1"), Internal, "(index out of range)"},
		{"interrupted", context.Canceled, Interrupted, "was interrupted"},
		{"too late", context.DeadlineExceeded, Interrupted, "was interrupted"},
		{"already ours", &Error{CannotSave, "x", "y", "", nil}, CannotSave, "x y."},
	}
	for _, tt := range tests {
		err := failure("house.xlsx", tt.err)
		if KindOf(err) != tt.kind || !strings.Contains(err.Error(), tt.text) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: got %q of kind %d, want %q and kind %d on one line", tt.name, err, KindOf(err), tt.text, tt.kind)
		}
	}
}

func TestReason(t *testing.T) {
	_, err := os.Open(filepath.Join(t.TempDir(), "nowhere"))
	if got := reason(err); strings.Contains(got, "nowhere") || !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("got %q, want the reason without the path", got)
	}
}
