package report

import (
	"archive/zip"
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// renamed is a workbook with its parts named otherwise, wherever they are
// named.
func renamed(t *testing.T, book []byte, names ...string) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	list := parts(t, book)
	change := strings.NewReplacer(names...)
	for _, name := range slices.Sorted(maps.Keys(list)) {
		text := list[name]
		if strings.HasSuffix(name, ".rels") || name == "[Content_Types].xml" {
			text = change.Replace(text)
		}
		f, err := w.Create(strings.TrimPrefix(change.Replace("/"+name), "/"))
		if err == nil {
			_, err = f.Write([]byte(text))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestCommentsUnderOtherNames: programs number the comments of a sheet and
// their drawing each in its own way, or name them. Whichever, every comment
// stays at its cell, ours come to the flagged cells, no part is left over, and
// it holds for a second run.
func TestCommentsUnderOtherNames(t *testing.T) {
	f := opened(t, surveyBook(t))
	if err := f.AddComment("Own notes", excelize.Comment{Cell: "B7", Author: "surveyor", Text: "elsewhere"}); err != nil {
		t.Fatal(err)
	}
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	plain := buf.Bytes()
	for _, tt := range []struct {
		name  string
		names []string
	}{
		{"as they are", nil},
		{"crossed", []string{"/comments1.xml", "/comments2.xml", "/comments2.xml", "/comments1.xml"}},
		{"apart", []string{"/vmlDrawing1.vml", "/vmlDrawing7.vml"}},
		{"named, from the top", []string{"../comments1.xml", "/xl/comments/comment1.xml", "xl/comments1.xml", "xl/comments/comment1.xml", "../drawings/vmlDrawing1.vml", "/xl/drawings/commentsDrawing1.vml", "xl/drawings/vmlDrawing1.vml", "xl/drawings/commentsDrawing1.vml"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := fullInput(t)
			in.Survey = renamed(t, plain, tt.names...)
			for range 2 {
				in.Survey = written(t, in)
				out := opened(t, in.Survey)
				if got := comments(t, out)["C3"]; strings.Count(got, "measured twice") != 1 || strings.Count(got, "lapwright:") != 1 {
					t.Errorf("C3 says %q", got)
				}
				list, err := out.GetComments("Own notes")
				if err != nil || len(list) != 1 || list[0].Cell != "B7" || !strings.Contains(plainComment(list[0]), "elsewhere") {
					t.Errorf("the other sheet has the comments %+v, %v", list, err)
				}
				n := 0
				for name := range parts(t, in.Survey) {
					if strings.HasPrefix(name, "/") {
						t.Errorf("a part is called %s", name)
					}
					if strings.Contains(name, "omment") {
						n++
					}
				}
				if n != 2 {
					t.Errorf("%d parts of comments, want 2", n)
				}
			}
		})
	}
}
