package report

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"lapwright/engine"
)

// decisions lists what is flagged, by severity and then by code.
func (s *summary) decisions() {
	s.begin("Flags")
	b := s.b
	for _, sev := range []struct {
		is  engine.Severity
		say string
	}{
		{engine.Stop, "A stop keeps its wall out of the takeoff until it is mended."},
		{engine.Check, "A check wants a decision before anyone cuts."},
		{engine.Note, "A note is for information."},
	} {
		n := 0
		for _, f := range b.flags {
			if f.Severity == sev.is {
				n++
			}
		}
		s.addLive(sev.is.String(), b.tally("Severity", n), "flags", sev.say)
	}
	for _, g := range s.groups[:s.foremost] {
		s.group(g)
	}
}

func (s *summary) moreFlags() {
	s.begin("More flags")
	for _, g := range s.groups[s.foremost:] {
		s.group(g)
	}
}

// group adds a line for the flags of one code.
func (s *summary) group(g codeGroup) {
	s.addLive(g.code, s.b.tally("Code", g.n), g.worst.String(), g.say)
}

// tally counts how often the line's own item stands in a column of the flags.
func (b *book) tally(header string, n int) func(int) cell {
	return func(at int) cell { return live(b.countFlags(header, fmt.Sprintf("B%d", at)), n, whole) }
}

// countFlags is a formula that counts the flags with a value in a column.
func (b *book) countFlags(header, value string) string {
	letter := table[flagRow]{columns: b.flagColumns()}.letter(header)
	return b.over("Flagged issues", len(b.flags), func(col func(string) string) string {
		return fmt.Sprintf("COUNTIF(%s,%s)", col(letter), value)
	})
}

// codeGroup is all flags of one code.
type codeGroup struct {
	code, say string
	worst     engine.Severity
	n         int
}

func byCode(flags []engine.Flag) []codeGroup {
	var out []codeGroup
	at := map[string]int{}
	for _, f := range flags {
		i, ok := at[f.Code]
		if !ok {
			i = len(out)
			at[f.Code] = i
			out = append(out, codeGroup{code: f.Code, worst: f.Severity, say: said(f)})
		}
		out[i].n++
	}
	for i := range out {
		if out[i].n > 1 {
			out[i].say = "First of these: " + out[i].say
		}
		out[i].say = shortened(out[i].say, sayMost)
	}
	return out
}

// said is what a flag says, in whole sentences.
func said(f engine.Flag) string {
	var out []string
	for _, s := range []string{f.What, f.Do} {
		if s = strings.TrimSpace(s); s == "" {
			continue
		}
		first, size := utf8.DecodeRuneInString(s)
		s = string(unicode.ToUpper(first)) + s[size:]
		if !strings.ContainsAny(s[len(s)-1:], ".!?") {
			s += "."
		}
		out = append(out, s)
	}
	return strings.Join(out, " ")
}

// sayMost is how many characters of a flag the Summary shows.
const sayMost = 400

func shortened(s string, most int) string {
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	cut := string(r[:most])
	if i := strings.LastIndexByte(cut, ' '); i > most/2 { // no half of a word
		cut = cut[:i]
	}
	return strings.TrimRight(cut, " ,;:") + " ..."
}
