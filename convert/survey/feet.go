package survey

import (
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// feetInches reads 5'-6 1/2", 5' 6", 5ft 6in, 6 1/2", 6½ in, 5'. Plain decimal
// feet or inches are left to the general rule.
//
//	length  = feet [ ["-"] inches ] | inches
//	feet    = whole ( "'" | "ft" )
//	inches  = ( whole | whole " " fraction | fraction | decimal ) [ '"' | "in" ]
//
// Inches without feet need their mark, unless a fraction follows feet.
func (r *reader) feetInches(s string) (number, bool) {
	s = plainMarks(s)
	negative := strings.HasPrefix(s, "-")
	s = strings.TrimSpace(strings.TrimPrefix(s, "-"))
	feet, rest, hasFeet := cutFeet(s)
	total := new(big.Rat)
	if hasFeet {
		n, ok := wholeNumber(feet)
		if !ok {
			return number{}, false
		}
		total.SetInt64(12 * n)
		rest = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(rest), "-"))
	}
	if rest != "" {
		in, marked, ok := inches(rest)
		if !ok || !hasFeet && !marked || hasFeet && in.Cmp(big.NewRat(12, 1)) >= 0 {
			return number{}, false
		}
		total.Add(total, in)
	} else if !hasFeet {
		return number{}, false
	}
	if negative {
		total.Neg(total)
	}
	return number{value: total, suffix: r.units["in"]}, true
}

// plainMarks writes the marks of feet and inches and the fractions that have a
// letter of their own in plain letters.
func plainMarks(s string) string {
	s = marks.Replace(strings.ToLower(s))
	return strings.TrimSpace(dashed.ReplaceAllString(s, "$1 $2"))
}

// marks writes them so.
var marks = strings.NewReplacer("′", "'", "’", "'", "″", `"`, "”", `"`, "''", `"`, "½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")

// dashed matches a fraction that a dash joins to its whole, as 5-1/2.
var dashed = regexp.MustCompile(`(\d)-(\d{1,2}/\d)`)

// mixedNumber reads a whole number with a fraction, as 100 1/2, where the
// column says of what; else the fault stays.
func mixedNumber(text string, fault *numberFault) (number, *numberFault) {
	v, marked, ok := inches(plainMarks(tidy(text)))
	if !ok || marked {
		return number{}, fault
	}
	return number{value: v}, nil
}

func cutFeet(s string) (feet, rest string, ok bool) {
	i := strings.IndexAny(s, "'f")
	if i <= 0 {
		return "", s, false
	}
	for _, mark := range []string{"'", "feet", "foot", "ft.", "ft"} {
		if rest, ok := strings.CutPrefix(s[i:], mark); ok {
			return strings.TrimSpace(s[:i]), rest, true
		}
	}
	return "", s, false
}

// inches reads inches; marked says that their mark stood behind them.
func inches(s string) (v *big.Rat, marked, ok bool) {
	for _, mark := range []string{`"`, "inches", "inch", "ins", "in.", "in"} {
		if t, found := strings.CutSuffix(s, mark); found {
			s, marked = strings.TrimSpace(t), true
			break
		}
	}
	whole, frac, both := strings.Cut(strings.Join(strings.Fields(s), " "), " ")
	if !both && strings.Contains(whole, "/") {
		whole, frac = "0", whole
	}
	if frac == "" {
		v, fault := plainNumber(whole, '.')
		return v, marked, fault == nil && v.Sign() >= 0 && !strings.Contains(whole, ",")
	}
	n, ok1 := wholeNumber(whole)
	above, below, slash := strings.Cut(frac, "/")
	a, ok2 := wholeNumber(above)
	b, ok3 := wholeNumber(below)
	if !ok1 || !ok2 || !ok3 || !slash || b < 1 || b > 64 || a >= b {
		return nil, false, false
	}
	return new(big.Rat).Add(big.NewRat(n, 1), big.NewRat(a, b)), marked, true
}

// wholeNumber reads up to six digits.
func wholeNumber(s string) (int64, bool) {
	if s == "" || len(s) > 6 || !allDigits(s) {
		return 0, false
	}
	n, err := strconv.ParseInt(s, 10, 64)
	return n, err == nil
}
