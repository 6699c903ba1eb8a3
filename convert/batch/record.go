package batch

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"lapwright/convert"
	"lapwright/engine/natural"
)

// recordSuffix ends the names of records.
const recordSuffix = ".manifest.jsonl"

// Record keeps what a batch has done: a line of JSON for each takeoff that was
// written, appended whole as soon as it is. A batch that is run again skips
// what a line says is done from the same input with the same options by the
// same version, if the takeoff is still there: the one that was written, changed or
// not. Failures are not kept.
type Record struct {
	folder  string
	options string // digest of all but the input
	lines   map[string]line

	mu      sync.Mutex
	file    *os.File
	skipped int
	others  []string // takeoffs that are not those written
	changed []string // takeoffs that were changed since
}

type line struct {
	Key   string        `json:"key"`
	Print convert.Print `json:"takeoff"`
	Entry Entry         `json:"entry"`
}

// Open opens the record of a batch, or of one shard of it, in the folder its
// takeoffs go to. With resume, what all records there hold is taken as done;
// without, the record begins anew.
func Open(folder string, s Shard, o convert.Options, resume bool) (*Record, error) {
	cannot := func(err error) error {
		return &convert.Error{Kind: convert.CannotMake, Path: folder, What: "cannot hold the record of the batch (" + err.Error() + ")", Do: "Choose another folder with --out", Err: err}
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, cannot(err)
	}
	r := &Record{folder: folder, lines: map[string]line{}}
	var err error
	if r.options, err = optionsKey(o); err != nil {
		return nil, err
	}
	mode := os.O_TRUNC
	if resume {
		mode = 0
		if err := r.load(); err != nil {
			return nil, cannot(err)
		}
	}
	r.file, err = os.OpenFile(filepath.Join(folder, reportName(s)+recordSuffix), os.O_CREATE|os.O_WRONLY|os.O_APPEND|mode, 0o644)
	if err != nil {
		return nil, cannot(err)
	}
	if info, err := r.file.Stat(); err == nil && info.Size() > 0 { // a line that was cut off stays alone
		if _, err := r.file.WriteString("\n"); err != nil {
			return nil, cannot(err)
		}
	}
	return r, nil
}

// reportName is the name, without its ending, of the files of a batch.
func reportName(s Shard) string {
	if s.N == 0 {
		return convert.Own + "batch"
	}
	return fmt.Sprintf("%sbatch-%dof%d", convert.Own, s.I, s.N)
}

// load reads every record in the folder. What is no whole line was cut off
// when it was written and is passed over.
func (r *Record) load() error {
	names, err := filepath.Glob(filepath.Join(globbed(r.folder), convert.Own+"batch*"+recordSuffix))
	if err != nil {
		return err
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		for text := range bytes.Lines(data) {
			var l line
			if json.Unmarshal(text, &l) == nil && l.Key != "" {
				r.lines[l.Key] = l
			}
		}
	}
	return nil
}

// globbed writes a path as a pattern that matches it alone.
func globbed(path string) string {
	return strings.NewReplacer(`*`, `[*]`, `?`, `[?]`, `[`, `[[]`).Replace(path)
}

// known returns the entry of an item that is done already, with the order of its
// takeoff as that stands.
func (r *Record) known(ctx context.Context, it *Item) (Entry, bool) {
	if r == nil || len(r.lines) == 0 {
		return Entry{}, false
	}
	key, err := r.key(it)
	if err != nil {
		return Entry{}, false
	}
	l, ok := r.lines[key]
	if !ok {
		return Entry{}, false
	}
	l.Entry = l.Entry.from(r.folder)
	same, changed := l.Print.IsOf(l.Entry.Takeoff)
	if same && changed {
		l.Entry = l.Entry.asStands(ctx)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if !same {
		if _, err := os.Stat(l.Entry.Takeoff); err == nil {
			r.others = append(r.others, l.Entry.Takeoff)
		}
		return Entry{}, false
	}
	r.skipped++
	if changed {
		r.changed = append(r.changed, l.Entry.Takeoff)
	}
	return l.Entry, true
}

// Others returns the takeoffs, in order of name, in whose place was another file
// than was written there: they were done again.
func (r *Record) Others() []string {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.SortedFunc(slices.Values(r.others), natural.Compare)
}

// Changed returns the takeoffs, in order of name, that were skipped and had been
// changed since they were written.
func (r *Record) Changed() []string {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.SortedFunc(slices.Values(r.changed), natural.Compare)
}

// Skipped returns how many takeoffs were done already and were not done again.
func (r *Record) Skipped() int {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.skipped
}

// add writes down that an item is done, in one write.
func (r *Record) add(it *Item, e Entry) error {
	if r == nil || e.Takeoff == "" || e.Failure != "" {
		return nil
	}
	key, err := r.key(it)
	if err != nil {
		return nil // the input has gone: it will be looked at again
	}
	print, err := convert.PrintOf(e.Takeoff)
	if err != nil {
		return nil // so has the takeoff
	}
	data, err := json.Marshal(line{key, print, relative([]Entry{e}, r.folder)[0]})
	if err == nil {
		r.mu.Lock()
		defer r.mu.Unlock()
		_, err = r.file.Write(append(data, '\n'))
	}
	if err != nil {
		return &convert.Error{Kind: convert.CannotSave, Path: r.file.Name(), What: "could not be written (" + err.Error() + ")", Do: "Free some space and run it again with --resume", Err: err}
	}
	return nil
}

// Options returns a digest of the options that change results.
func (r *Record) Options() string { return r.options }

// Close ends the record.
func (r *Record) Close() error {
	if r == nil {
		return nil
	}
	return r.file.Close()
}

// key identifies one takeoff: its name, its input, the options, the version.
func (r *Record) key(it *Item) (string, error) {
	sum := sha256.New()
	out, err := filepath.Rel(r.folder, it.Out)
	if err != nil {
		out = it.Out
	}
	fmt.Fprintf(sum, "%s\n%q\n%q\n", r.options, it.Name, filepath.ToSlash(out))
	if it.part != nil {
		fmt.Fprintf(sum, "%s %s\n", it.part.survey.Digest(), it.part.by)
		return hex.EncodeToString(sum.Sum(nil)), nil
	}
	if err := digestFile(sum, it.In); err != nil {
		return "", err
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// digestFile adds a file, or every file of a folder, to a digest.
func digestFile(sum io.Writer, path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if !info.IsDir() {
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		fmt.Fprintf(sum, "%d\n", info.Size())
		_, err = io.Copy(sum, f)
		return err
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		return err
	}
	for _, e := range slices.DeleteFunc(entries, os.DirEntry.IsDir) {
		fmt.Fprintf(sum, "%q\n", e.Name())
		if err := digestFile(sum, filepath.Join(path, e.Name())); err != nil {
			return err
		}
	}
	return nil
}

// optionsKey is equal for runs that make equal takeoffs of equal surveys.
func optionsKey(o convert.Options) (string, error) {
	sum := sha256.New()
	fmt.Fprintf(sum, "%q %q %v %v %v %q\n", o.Version, o.Effort, o.Strict, o.Accessible, o.WithoutSurvey, o.Export)
	for _, file := range []string{o.Products, o.Mapping} {
		fmt.Fprintf(sum, "%v\n", file != "")
		if file == "" {
			continue
		}
		if err := digestFile(sum, file); err != nil {
			return "", &convert.Error{Kind: convert.Missing, Path: file, What: "is not there, or may not be read", Do: "Check the name and the folder", Err: err}
		}
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
