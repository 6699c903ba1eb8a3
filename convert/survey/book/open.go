package book

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
)

// most is the greatest file that is read, and the greatest size all parts of
// a workbook may unfold to: a survey of 100,000 rows needs a tenth of it.
const (
	mostFile   = 256 << 20
	mostUnpack = 1 << 30
)

// Open reads a workbook, a CSV file, or a folder of CSV files. More CSV files
// of the same survey may be named after it. The error is a [*Refusal] unless
// the context ended.
func Open(ctx context.Context, path string, more ...string) (b *Book, err error) {
	name := filepath.Base(path)
	defer func() {
		if p := recover(); p != nil {
			why, _, _ := strings.Cut(fmt.Sprint(p), "\n") // without a stack
			err = named(damaged(why), name)
		}
	}()
	paths, err := list(path)
	if err != nil {
		return nil, named(err, name)
	}
	sum := sha256.New()
	b = &Book{Names: map[string]string{}}
	for _, p := range append(paths, more...) {
		name = filepath.Base(p)
		if err := b.add(ctx, p, sum); err != nil {
			return nil, named(err, name)
		}
	}
	b.Digest = hex.EncodeToString(sum.Sum(nil))
	return b, nil
}

func named(err error, name string) error {
	var r *Refusal
	if errors.As(err, &r) && r.File == "" {
		r.File = name
	}
	return err
}

// list returns the file itself, or the CSV files of a folder in order of name.
func list(path string) ([]string, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, notThere(path, err)
	}
	if !info.IsDir() {
		return []string{path}, nil
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		return nil, cannotRead(err)
	}
	var out []string
	for _, e := range entries {
		if !e.IsDir() && isCSVName(e.Name()) && !strings.HasPrefix(e.Name(), ".") {
			out = append(out, filepath.Join(path, e.Name()))
		}
	}
	if len(out) == 0 {
		return nil, refuse("is a folder without CSV files", "Put the survey's sheets in it as Walls.csv, Openings.csv and so on, or name a workbook")
	}
	slices.Sort(out)
	return out, nil
}

// invalidName is what Windows says of a name that no file can have there, such
// as a pattern that matched nothing (ERROR_INVALID_NAME).
const invalidName = syscall.Errno(123)

// notThere is cannotRead of a survey, which may be there under a longer name.
func notThere(path string, err error) error {
	for _, ext := range []string{".xlsx", ".xlsm", ".csv"} {
		if _, other := os.Stat(path + ext); other == nil && errors.Is(err, fs.ErrNotExist) {
			return &Refusal{Missing: true, What: "is not there", Do: "Did you mean " + filepath.Base(path) + ext + "? Then name that"}
		}
	}
	return cannotRead(err)
}

func cannotRead(err error) error {
	if errors.Is(err, fs.ErrNotExist) || runtime.GOOS == "windows" && errors.Is(err, invalidName) {
		return &Refusal{Missing: true, What: "is not there", Do: "Check the name and the folder"}
	}
	return &Refusal{Missing: true, What: "cannot be read (" + err.Error() + ")", Do: "Check that you may read it and that no other program holds it"}
}

func isCSVName(name string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".csv", ".tsv", ".txt":
		return true
	}
	return false
}

func (b *Book) add(ctx context.Context, path string, sum hash.Hash) error {
	data, err := load(path)
	if err != nil {
		return err
	}
	name := filepath.Base(path)
	mix(sum, name, data)
	if err := recognise(data, name); err != nil {
		return err
	}
	if isCSVName(name) {
		return b.addCSV(data, name)
	}
	return b.addWorkbook(ctx, data, name)
}

// mix adds a file to a digest.
func mix(sum io.Writer, name string, data []byte) {
	fmt.Fprintf(sum, "%s\n%d\n", name, len(data))
	_, _ = sum.Write(data) // a hash takes all
}

// DigestOf returns the digest that [Open] gives, without reading what the files
// say.
func DigestOf(path string) (string, error) {
	paths, err := list(path)
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	for _, p := range paths {
		data, err := load(p)
		if err != nil {
			return "", err
		}
		mix(sum, filepath.Base(p), data)
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

func load(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, cannotRead(err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostFile+1))
	if err != nil {
		return nil, cannotRead(err)
	}
	if len(data) > mostFile {
		return nil, refuse("is larger than 256 MB", "Split the survey by plot")
	}
	return data, nil
}

// recognise refuses what is neither a workbook of XML parts nor text, by its
// first bytes and not by its name.
func recognise(data []byte, name string) error {
	csv := isCSVName(name)
	starts := func(s string) bool { return bytes.HasPrefix(data, []byte(s)) }
	switch {
	case len(bytes.TrimSpace(bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF")))) == 0:
		return refuse("is empty", "Check that the survey was saved, and use the saved file")
	case starts("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"):
		return compound(data)
	case starts("%PDF"):
		return refuse("is a PDF, not a spreadsheet", "Ask for the workbook it was printed from")
	case starts("\x89PNG"), starts("\xFF\xD8\xFF"), starts("GIF8"):
		return refuse("is a picture, not a spreadsheet", "Type its figures into the blank survey workbook")
	case starts("PK") && csv:
		return refuse("is a workbook that is named as text", "Give it its own ending, .xlsx, and try again")
	case starts("PK") && strings.EqualFold(filepath.Ext(name), ".xls"):
		return refuse("is a workbook of the newer kind under an old ending", "Rename it to .xlsx and try again")
	case starts("PK"), csv:
		return nil
	case isMarkup(data):
		return refuse("is a web page or XML saved under a workbook's name", "Open it in the spreadsheet program and save it as an Excel workbook (.xlsx)")
	case bytes.IndexByte(data[:min(len(data), 4096)], 0) < 0:
		return refuse("is plain text, not a workbook", "If it holds values with commas or semicolons between, rename it to .csv and try again")
	}
	return refuse("is no spreadsheet that can be read", "Save the survey as an Excel workbook (.xlsx) or as CSV")
}

func isMarkup(data []byte) bool {
	head := bytes.ToLower(bytes.TrimLeft(data[:min(len(data), 512)], "\xEF\xBB\xBF \t\r\n"))
	return bytes.HasPrefix(head, []byte("<"))
}

// compound tells the two kinds of file in the old container apart: a workbook
// with a password holds a stream of this name, in UTF-16.
func compound(data []byte) error {
	if bytes.Contains(data, utf16le("EncryptedPackage")) {
		return refuse("is protected with a password", "Open it in the spreadsheet program, take the password off, save it and use that")
	}
	return refuse("is a workbook of the old kind (.xls)", "Open it in the spreadsheet program and save it as an Excel workbook (.xlsx)")
}

func utf16le(s string) []byte {
	out := make([]byte, 0, 2*len(s))
	for i := range len(s) {
		out = append(out, s[i], 0)
	}
	return out
}
