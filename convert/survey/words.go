package survey

import (
	"strings"
	"unicode"
)

// fold reduces a header or a word to what tells it from others: lower-case
// letters and digits.
func fold(s string) string {
	var b strings.Builder
	b.Grow(len(s))
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("and")
		case r == '+' && b.Len() > 0:
			b.WriteString("and")
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String()
}

// tidy trims a text and turns every kind of space, of which spreadsheets have
// several, into a single plain one.
func tidy(s string) string {
	if plain(s) {
		return s
	}
	s = strings.Map(func(r rune) rune {
		if invisible(r) {
			return -1
		}
		return r
	}, s)
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }), " ")
}

// invisible reports whether a letter shows nothing of its own: spaces of no
// width and marks that turn the direction of writing, which text copied from
// elsewhere brings along.
func invisible(r rune) bool {
	return r == '\u200B' || r == '\uFEFF' || r == '\u200E' || r == '\u200F' || r == '\u00AD' || r >= '\u202A' && r <= '\u202E' || r >= '\u2066' && r <= '\u2069'
}

// plain reports whether tidy would change nothing: the common case.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] <= ' ' && (s[i] != ' ' || i == 0 || i == len(s)-1 || s[i+1] == ' ') || s[i] >= 0x7F {
			return false
		}
	}
	return true
}

// mostCompared bounds the words that one is compared with for a suggestion.
const mostCompared = 100

// nearest returns the word closest to s, or "" if none is close: at most one
// letter in three differs. Of words as close as each other it is the one with the
// nearer letters and digits: C16 for C17, not C14. It only ever suggests.
func nearest(s string, words []string) string {
	best, least, off := "", 0, 0
	a := fold(s)
	for _, w := range words[:min(len(words), mostCompared)] {
		d, ok := nearTo(a, fold(w))
		if by := apart(a, fold(w)); ok && (best == "" || d < least || d == least && by < off) {
			best, least, off = w, d, by
		}
	}
	return best
}

// apart sums how far the letters of two words lie from each other, place by place.
func apart(a, b string) int {
	sum := 0
	for i := range min(len(a), len(b)) {
		sum += max(int(a[i])-int(b[i]), int(b[i])-int(a[i]))
	}
	return sum
}

// nearTo reports whether two folded words differ in at most one letter in
// three, or the second begins with the first, and in how many letters.
func nearTo(a, b string) (letters int, ok bool) {
	letters = distance(a, b)
	return letters, 3*letters <= max(len(a), len(b)) || len(a) > 2 && strings.HasPrefix(b, a)
}

// distance is the least number of letters to add, drop, change or swap with
// their neighbour that turns a into b.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := [3][]int{make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		cur, prev, prev2 := rows[i%3], rows[(i+2)%3], rows[(i+1)%3]
		cur[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
	}
	return rows[len(x)%3][len(y)]
}

// nearestIs leads to the word that is nearest.
const nearestIs = "; the nearest known is "

// suggestion says which word is nearest, or nothing.
func suggestion(s string, words []string) string {
	if w := nearest(s, words); w != "" {
		return nearestIs + w
	}
	return ""
}
