package report

import (
	"math"
	"strings"
	"unicode"
)

// Row heights are worked out here for rows whose text wraps: not every reader
// of workbooks fits a row to its text when it opens one.

// charWidths are the widths of the printing ASCII characters, from the space
// on, in thousandths of the letter size, for Helvetica and the faces made to
// its measure (Adobe Core 14 font metrics, Helvetica.afm).
var charWidths = [95]int{
	278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
	556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
	1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
	667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
	333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
	556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
}

const (
	linePoints    = 12.75 // of a line of 10 point text
	pixelsAPoint  = 96.0 / 72
	cellPadding   = 12.0 // pixels a cell keeps clear beside its text, indent included
	boldWider     = 1.09
	foreignLetter = 600  // thousandths, a letter that is not ASCII
	wideLetter    = 1000 // an ideograph
)

// textPixels returns how wide a text of 10 points is.
func textPixels(s string) float64 {
	sum := 0
	for _, r := range s {
		switch {
		case r >= ' ' && r <= '~':
			sum += charWidths[r-' ']
		case r >= 0x2E80:
			sum += wideLetter
		default:
			sum += foreignLetter
		}
	}
	return float64(sum) / 1000 * 10 * pixelsAPoint
}

// columnPixels returns how wide a column of that many characters is: seven
// pixels a character and five beside, for the usual letter sizes.
func columnPixels(characters float64) float64 { return characters*7 + 5 }

// lineCount returns into how many lines a text breaks in a column.
func lineCount(s string, characters float64, l look) int {
	room := columnPixels(characters) - cellPadding
	switch l {
	case header, headerRight:
		room /= boldWider
	case faint:
		room *= 10 / 9.0
	case small:
		room *= 10 / 8.0
	}
	const doubt = 0.01 // pixels: sums of the same widths may differ in their last digits
	if strings.IndexByte(s, '\n') < 0 && textPixels(s) < room-doubt {
		return 1
	}
	n := 0
	for _, paragraph := range strings.Split(s, "\n") {
		n += paragraphLines(paragraph, room)
	}
	return n
}

func paragraphLines(s string, room float64) int {
	n := 0
	for _, line := range foldPixels(s, room) {
		// a word wider than the column breaks where it must
		n += max(1, int(math.Ceil(textPixels(line)/room)))
	}
	return n
}

// foldPixels breaks a text at its spaces into lines no wider than room, but
// for single words that are. Lines are parts of the text, not copies.
func foldPixels(s string, room float64) []string {
	if !spacedOnce(s) {
		s = strings.Join(strings.Fields(s), " ")
	}
	var out []string
	from, to, used := 0, 0, 0.0 // the line begun
	for at := 0; at < len(s); at = to + 1 {
		end := len(s)
		if n := strings.IndexByte(s[at:], ' '); n >= 0 {
			end = at + n
		}
		w := textPixels(s[at:end])
		switch {
		case to == from:
		case used+spacePixels+w > room:
			out, from, used = append(out, s[from:to]), at, 0
		default:
			used += spacePixels
		}
		to, used = end, used+w
	}
	return append(out, s[from:to])
}

var spacePixels = textPixels(" ")

// spacedOnce reports whether words stand apart by single plain spaces, with
// none before or behind.
func spacedOnce(s string) bool {
	word := false
	for _, r := range s {
		if unicode.IsSpace(r) && (r != ' ' || !word) {
			return false
		}
		word = r != ' '
	}
	return word || s == ""
}

// fitted returns the height in points a row needs for its wrapped texts, 0
// where one line does.
func fitted(cells []cell, widths []float64) float64 {
	most := 1
	for i, c := range cells {
		s, ok := c.v.(string)
		if !ok || i >= len(widths) || !wraps(c.l) {
			continue
		}
		n := lineCount(s, widths[i], c.l)
		if c.l == small {
			n = (n*3 + 3) / 4 // three small lines stand where two large ones do, and a bit
		}
		most = max(most, n)
	}
	if most == 1 {
		return 0
	}
	return min(409, float64(most)*linePoints+3) // 409 is the highest row there is
}

func wraps(l look) bool {
	return l == wrapped || l == header || l == headerRight || l == faint || l == small
}
