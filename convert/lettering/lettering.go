// Package lettering says how wide a text of 10 points is, and into which lines it
// folds in a column: not every reader of workbooks fits a row to its text when
// it opens one.
package lettering

import (
	"math"
	"strings"
	"unicode"
)

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
	pixelsAPoint  = 96.0 / 72
	foreignLetter = 600  // thousandths, a letter that is not ASCII
	wideLetter    = 1000 // an ideograph
)

// Width returns how wide a text of 10 points is.
func Width(s string) float64 {
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

// digitPixels is how wide a digit of the usual letter sizes is, by which columns
// are measured.
const digitPixels = 7

// Column returns how wide a column of that many characters is: seven
// pixels a character and five beside, for the usual letter sizes.
func Column(characters float64) float64 { return characters*digitPixels + 5 }

// Stored returns the width, in digits, that a workbook keeps for a column of that
// many characters: the pixels beside them are in it (ECMA-376 Part 1, 18.3.1.13).
func Stored(characters float64) float64 { return Column(characters) / digitPixels }

// Count returns how many lines a text takes in so many pixels, its own line
// breaks kept.
func Count(s string, room float64) int {
	const doubt = 0.01 // pixels: sums of the same widths may differ in their last digits
	if strings.IndexByte(s, '\n') < 0 && Width(s) < room-doubt {
		return 1
	}
	n := 0
	for _, paragraph := range strings.Split(s, "\n") {
		for _, line := range Lines(paragraph, room) {
			// a word wider than the column breaks where it must
			n += max(1, int(math.Ceil(Width(line)/room)))
		}
	}
	return n
}

// Lines breaks a text at its spaces into lines no wider than room, but
// for single words that are. Lines are parts of the text, not copies.
func Lines(s string, room float64) []string {
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
		w := Width(s[at:end])
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

var spacePixels = Width(" ")

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
