package report

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Comments have shapes in a drawing of an old kind (VML, ECMA-376 Part 4).
// The library wants them numbered as one spreadsheet program numbers them, and
// refuses to add a comment beside shapes that others have named in their own
// way or not at all.

var (
	shapeTag = regexp.MustCompile(`<v:shape\s[^>]*>`)
	shapeID  = regexp.MustCompile(`\sid="([^"]*)"`)
)

const shapeNumber = "_x0000_s"

// numberShapes numbers the shapes of every such drawing in the workbook.
func (b *book) numberShapes() {
	b.file.Pkg.Range(func(k, v any) bool {
		if name := k.(string); strings.HasSuffix(name, ".vml") {
			if part, ok := v.([]byte); ok {
				b.file.Pkg.Store(name, numbered(prefixed(part)))
			}
		}
		return true
	})
}

// numbered gives a number to each shape without one; those that have one keep
// it, because controls refer to it.
func numbered(part []byte) []byte {
	next := 1024
	for _, tag := range shapeTag.FindAll(part, -1) {
		if n, ok := numberOf(tag); ok {
			next = max(next, n)
		}
	}
	return shapeTag.ReplaceAllFunc(part, func(tag []byte) []byte {
		if _, ok := numberOf(tag); ok {
			return tag
		}
		next++
		rest := shapeID.ReplaceAll(tag[len("<v:shape"):], nil)
		return append(fmt.Appendf(nil, `<v:shape id="%s%d"`, shapeNumber, next), rest...)
	})
}

func numberOf(tag []byte) (int, bool) {
	id := shapeID.FindSubmatch(tag)
	if id == nil || !bytes.HasPrefix(id[1], []byte(shapeNumber)) {
		return 0, false
	}
	n, err := strconv.Atoi(string(id[1][len(shapeNumber):]))
	return n, err == nil
}
