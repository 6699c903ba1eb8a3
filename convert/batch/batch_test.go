package batch

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lapwright/convert"
	"lapwright/convert/exchange"
	"lapwright/engine"
)

// inbox writes a folder of small surveys, some of them broken, and returns it.
func inbox(t testing.TB, sound int, broken ...int) string {
	t.Helper()
	dir := t.TempDir()
	for i := range sound {
		text := fmt.Sprintf("Wall,Width mm,Height mm\nFront,%d,2700\n", 3000+700*(i%4))
		if slices.Contains(broken, i) {
			text = "no text\x00"
		}
		write(t, filepath.Join(dir, fmt.Sprintf("house %03d", i), "Walls.csv"), text)
	}
	return dir
}

func write(t testing.TB, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// once runs a batch as the command line does and returns its error.
func once(t testing.TB, ctx context.Context, in, out string, s Shard, resume bool, progress func(int, int, error)) error {
	t.Helper()
	found, err := Find(in, out, 0)
	if err != nil {
		t.Fatal(err)
	}
	o := convert.Options{Effort: engine.EffortQuick, Version: "test"}
	record, err := Open(out, s, o, resume)
	if err != nil {
		t.Fatal(err)
	}
	entries, failed := Run(ctx, s.Pick(found.Items), Options{Convert: o, Record: record, Progress: progress})
	if err := record.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := Write(context.Background(), out, "test", record.Options(), s, entries); err != nil {
		t.Fatal(err)
	}
	if failed == nil {
		failed, _ = Outcome(entries)
	}
	return failed
}

// files reads every file below a folder but the records.
func files(t testing.TB, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasSuffix(path, recordSuffix) {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, path))
		out[path] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// sameFiles wants two folders to hold the same files, byte for byte.
func sameFiles(t testing.TB, got, want string) {
	t.Helper()
	a, b := files(t, got), files(t, want)
	for name, text := range b {
		if other, ok := a[name]; !ok {
			t.Errorf("%s lacks %s", got, name)
		} else if other != text {
			t.Errorf("%s of %d bytes differs from that of one run, of %d", name, len(other), len(text))
		}
	}
	for name := range a {
		if _, ok := b[name]; !ok {
			t.Errorf("%s holds %s, which one run does not make", got, name)
		}
	}
}

var surveys = flag.Int("surveys", 24, "how many surveys the batch has that is interrupted")

// A batch that is interrupted keeps what it finished, says so, and when it is
// resumed does only the rest; in the end nothing tells it from a batch that
// ran through. Five of the surveys are broken.
func TestInterruptedAndResumed(t *testing.T) {
	n, before := *surveys, *surveys/3
	in := inbox(t, n, 3, 5, 11, 20, n-1)
	whole, halves := t.TempDir(), t.TempDir()
	if err := once(t, context.Background(), in, whole, Shard{}, false, nil); convert.KindOf(err) != convert.Unusable {
		t.Fatalf("the first failure decides: got %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	err := once(t, ctx, in, halves, Shard{}, false, func(done, _ int, _ error) {
		if done == before {
			cancel()
		}
	})
	if convert.KindOf(err) != convert.Interrupted {
		t.Fatalf("interrupted: got %v", err)
	}
	if text := err.Error(); !strings.Contains(text, "--resume") || strings.Contains(text, "--out") {
		t.Errorf("of a batch with a record the message is %q", text)
	}
	kept := files(t, halves)
	report := kept["lapwright-batch.json"]
	if left := strings.Count(report, `"result": "not done"`); left == 0 || left > n-before {
		t.Errorf("the report of the interrupted batch has %d surveys not done", left)
	}
	for name := range kept {
		if strings.HasPrefix(name, ".") {
			t.Errorf("a temporary file is left: %s", name)
		}
	}
	marked := mark(t, halves, kept)
	if err := once(t, context.Background(), in, halves, Shard{}, true, nil); convert.KindOf(err) != convert.Unusable {
		t.Fatalf("resumed: got %v", err)
	}
	for name, text := range marked {
		if now := files(t, halves)[name]; now != text {
			t.Errorf("%s was made again", name)
		}
		write(t, filepath.Join(halves, name), kept[name])
	}
	sameFiles(t, halves, whole)
}

// Surveys named one by one keep no record unless --out and --resume are both
// given, so --resume alone would not be understood the next time.
func TestInterruptedWithoutRecord(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	items := Named([]string{"a.csv", "b.csv", "c.csv"}, t.TempDir())
	_, err := Run(ctx, items, Options{Workers: 1, Progress: func(int, int, error) { cancel() }})
	if convert.KindOf(err) != convert.Interrupted || !strings.Contains(err.Error(), "--out FOLDER --resume") {
		t.Errorf("got %v", err)
	}
}

// mark adds to the end of every takeoff in a folder, so that it is known whether
// it is written again; the takeoff is a takeoff all the same.
func mark(t *testing.T, dir string, kept map[string]string) map[string]string {
	out := map[string]string{}
	for name, text := range kept {
		if strings.HasSuffix(name, suffix) {
			out[name] = text + "done before"
			write(t, filepath.Join(dir, name), out[name])
		}
	}
	return out
}

// The union of shards is the batch in one run, whatever their number.
func TestShardsMakeTheWhole(t *testing.T) {
	in := inbox(t, 12, 5)
	whole := t.TempDir()
	_ = once(t, context.Background(), in, whole, Shard{}, false, nil)
	for _, n := range []int{1, 2, 5} {
		parts := t.TempDir()
		var reports []string
		for i := n; i >= 1; i-- {
			s := Shard{i, n}
			_ = once(t, context.Background(), in, parts, s, false, nil)
			reports = append(reports, filepath.Join(parts, reportName(s)+".json"))
		}
		if _, _, err := Merge(context.Background(), reports, parts); err != nil {
			t.Fatal(err)
		}
		for _, r := range reports {
			os.Remove(r)
			os.Remove(strings.TrimSuffix(r, ".json") + ".xlsx")
		}
		sameFiles(t, parts, whole)
	}
}

// Every item is in one shard, and which one does not depend on the others.
func TestShardsPartition(t *testing.T) {
	var items []Item
	for i := range 1000 {
		items = append(items, Item{Name: fmt.Sprintf("site/%d.xlsx", i)})
	}
	for _, n := range []int{1, 2, 3, 7, 64} {
		count := map[string]int{}
		for i := 1; i <= n; i++ {
			all := Shard{i, n}.Pick(items)
			if len(all) < 1000/n/3 {
				t.Errorf("shard %d/%d has %d items of 1000", i, n, len(all))
			}
			for _, it := range all {
				count[it.Name]++
				if len(Shard{i, n}.Pick([]Item{it})) != 1 {
					t.Errorf("%s alone is in another shard than among others", it.Name)
				}
			}
		}
		if len(count) != 1000 {
			t.Errorf("%d shards hold %d items of 1000", n, len(count))
		}
		for name, k := range count {
			if k != 1 {
				t.Errorf("%s is in %d of %d shards", name, k, n)
			}
		}
	}
}

// The number of workers does not show.
func TestWorkersDoNotShow(t *testing.T) {
	in := inbox(t, 8)
	found, err := Find(in, t.TempDir(), 0)
	if err != nil {
		t.Fatal(err)
	}
	items := found.Items
	var reports [][]byte
	for _, workers := range []int{1, 2, 8} {
		var order []string
		entries, err := Run(context.Background(), items, Options{Convert: convert.Options{Effort: engine.EffortQuick}, Workers: workers,
			Done: func(r convert.Report, _ error) { order = append(order, r.In) }})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.IsSorted(order) || len(order) != len(items) {
			t.Errorf("%d workers: outcomes told in the order %v", workers, order)
		}
		var out bytes.Buffer
		if err := (Report{Entries: entries}).writeJSON(&out); err != nil {
			t.Fatal(err)
		}
		reports = append(reports, out.Bytes())
	}
	for _, r := range reports[1:] {
		if !bytes.Equal(r, reports[0]) {
			t.Error("the reports of different numbers of workers differ")
		}
	}
}

// TestReportInOnePiece compares a report written an entry at a time with what the
// standard library writes of it whole.
func TestReportInOnePiece(t *testing.T) {
	for n := range 3 {
		r := Report{Version: "1", Shard: "2/4", Options: "x", Entries: []Entry{}}
		for i := range n {
			r.Entries = append(r.Entries, Entry{File: fmt.Sprint("a<", i), Codes: []Code{{"sill", 2}}, Order: []exchange.OrderLine{{Code: "A & B"}}})
		}
		var got, want bytes.Buffer
		if err := r.writeJSON(&got); err != nil {
			t.Fatal(err)
		}
		enc := json.NewEncoder(&want)
		enc.SetIndent("", " ")
		enc.SetEscapeHTML(false)
		if err := enc.Encode(r); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got.Bytes(), want.Bytes()) {
			t.Errorf("%d entries: got\n%swant\n%s", n, got.Bytes(), want.Bytes())
		}
	}
}

// A line of the record that was cut off is passed over, and what follows it
// is not lost.
func TestRecordCutOff(t *testing.T) {
	in, out := inbox(t, 3), t.TempDir()
	_ = once(t, context.Background(), in, out, Shard{}, false, nil)
	path := filepath.Join(out, "lapwright-batch"+recordSuffix)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(data, []byte("\n")); n != 3 {
		t.Fatalf("the record has %d lines, want 3", n)
	}
	write(t, path, string(data[:len(data)-40]))
	again := 0
	for range 2 {
		before := files(t, out)
		marked := mark(t, out, before)
		_ = once(t, context.Background(), in, out, Shard{}, true, nil)
		after := files(t, out)
		for name := range marked {
			if after[name] != marked[name] {
				again++
			}
		}
	}
	if again != 1 {
		t.Errorf("%d takeoffs were made again, want the one whose line was cut off, once", again)
	}
}
