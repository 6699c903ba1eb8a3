package convert

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"lapwright/convert/report"
	"lapwright/convert/survey"
	"lapwright/engine"
	"lapwright/engine/quantity"
)

// A takeoff that comes in again is its own survey. The reader's edits of spare,
// pack and price are told from what the earlier run wrote by what it issued,
// which stands beside them: a price that only the catalogue changed is no edit.

// edits returns what a reader changed on the lines of an earlier order.
func edits(s *survey.Survey) map[engine.EditKey]engine.Edit {
	out := map[engine.EditKey]engine.Edit{}
	for k, e := range s.Edits {
		if edit := edited(e); edit != (engine.Edit{}) {
			out[engine.EditKey(k)] = edit
		}
	}
	return out
}

// edited returns the inputs that are not as issued; all where that is not
// known.
func edited(e survey.Edit) engine.Edit {
	unlike := func(now float64, was func(engine.Inputs) float64) *float64 {
		if e.Issued != nil && math.Abs(now-was(*e.Issued)) < 1e-9 {
			return nil
		}
		return &now
	}
	return engine.Edit{
		Spare: unlike(e.Now.Spare, func(i engine.Inputs) float64 { return i.Spare }),
		Pack:  unlike(e.Now.Pack, func(i engine.Inputs) float64 { return i.Pack }),
		Price: unlike(e.Now.Price, func(i engine.Inputs) float64 { return i.Price }),
	}
}

// changes says what is otherwise than in the run that made the workbook which
// came in; nil where no run did.
func changes(s *survey.Survey, res *engine.Result) []report.Change {
	var was report.Record
	if s.Record == "" || json.Unmarshal([]byte(s.Record), &was) != nil {
		return nil
	}
	c := comparison{}
	c.figures(was, report.NewRecord(res))
	kept := c.lines(s, res)
	if len(c) == 0 {
		c.add("Nothing", "The same boards, cost, walls and flags as in the last run.")
	}
	c.list("Your inputs kept", kept)
	return c
}

// comparison gathers the differences of two runs.
type comparison []report.Change

func (c *comparison) add(item, format string, args ...any) {
	*c = append(*c, report.Change{Item: item, Say: fmt.Sprintf(format, args...)})
}

func (c *comparison) figures(was, is report.Record) {
	if was.Boards != is.Boards {
		c.add("Boards to cut", "%d, were %d (%+d).", is.Boards, was.Boards, is.Boards-was.Boards)
	}
	switch {
	case was.Currency != is.Currency:
		c.add("Cost", "%.2f %s, was %.2f %s.", is.Cost, is.Currency, was.Cost, was.Currency)
	case cents(was.Cost) != cents(is.Cost):
		c.add("Cost", "%.2f %s, was %.2f (%+.2f).", is.Cost, is.Currency, was.Cost, is.Cost-was.Cost)
	}
	if cents(was.Net) != cents(is.Net) {
		c.add("Net area", "%.2f m2, was %.2f (%+.2f).", is.Net, was.Net, is.Net-was.Net)
	}
	c.walls(was.Walls, is.Walls)
	c.flags(was.Flags, is.Flags)
}

// cents rounds to hundredths: what differs by less is shown alike.
func cents(v float64) float64 { return math.Round(v * 100) }

func (c *comparison) walls(was, is []report.RecordWall) {
	before, now := wallsByName(was), wallsByName(is)
	var more, fewer, other []string
	for _, w := range is {
		old, ok := before[w.Name]
		switch {
		case !ok:
			more = append(more, w.Name)
		case old.Quantity != w.Quantity:
			other = append(other, fmt.Sprintf("%s (%d to build, were %d)", w.Name, w.Quantity, old.Quantity))
		case cents(old.Net) != cents(w.Net):
			other = append(other, fmt.Sprintf("%s (%.2f m2 net, was %.2f)", w.Name, w.Net, old.Net))
		}
	}
	for _, w := range was {
		if _, ok := now[w.Name]; !ok {
			fewer = append(fewer, w.Name)
		}
	}
	c.list("Walls added", more)
	c.list("Walls removed", fewer)
	c.list("Walls changed", other)
}

func wallsByName(in []report.RecordWall) map[string]report.RecordWall {
	out := map[string]report.RecordWall{}
	for _, w := range in {
		out[w.Name] = w
	}
	return out
}

// listed is how many of a kind are named; the rest are counted.
const listed = 8

func (c *comparison) list(item string, names []string) {
	if len(names) == 0 {
		return
	}
	c.add(item, "%s.", some(names))
}

func (c *comparison) flags(was, is []report.RecordFlag) {
	before, now := map[string]int{}, map[string]int{}
	for _, f := range was {
		before[f.Code] = f.Count
	}
	for _, f := range is {
		now[f.Code] = f.Count
	}
	var more, fewer []string
	for _, f := range is {
		if n := f.Count - before[f.Code]; n > 0 {
			more = append(more, fmt.Sprintf("%d %s (%s)", n, f.Code, f.Worst))
		}
	}
	for _, f := range was {
		if n := f.Count - now[f.Code]; n > 0 {
			fewer = append(fewer, fmt.Sprintf("%d %s (%s)", n, f.Code, f.Worst))
		}
	}
	c.list("New flags", more)
	c.list("Flags gone", fewer)
}

// lines says what the catalogue and the rules changed on the order's lines,
// and which edits have no line any more. It returns the inputs that are the
// reader's own.
func (c *comparison) lines(s *survey.Survey, res *engine.Result) (kept []string) {
	var theirs, typed []string
	seen := map[survey.EditKey]bool{}
	for i := range res.Order {
		l := &res.Order[i]
		k := survey.EditKey{Drop: l.Drop, Role: l.Role, Code: l.Code, Colour: l.Colour}
		e, ok := s.Edits[k]
		seen[k] = true
		if !ok {
			continue
		}
		kept = append(kept, editWords(k, edited(e), l.Issued)...)
		if e.Issued != nil {
			theirs = append(theirs, issueWords(k, *e.Issued, l.Issued)...)
		}
		if typedOver(e) {
			typed = append(typed, fmt.Sprintf("%s %s, now %s", lineName(k), amountOf(e.Order), amountOf(l.Order)))
		}
	}
	c.list("Products and rules", theirs)
	c.list("Quantity not kept", typed)
	c.list("Edits with no line", orphans(s, seen))
	return kept
}

func amountOf(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// lineName names an order line as its reader knows it.
func lineName(k survey.EditKey) string {
	out := k.Code
	if k.Colour != "" {
		out += " " + k.Colour
	}
	if k.Drop != "" {
		out += " of drop " + k.Drop
	}
	return out
}

// editWords says which inputs of a line are the reader's own.
func editWords(k survey.EditKey, e engine.Edit, issued engine.Inputs) []string {
	var out []string
	say := func(own *float64, format string, usual float64) {
		if own != nil {
			out = append(out, fmt.Sprintf(format, lineName(k), amountOf(*own), amountOf(usual)))
		}
	}
	say(e.Spare, "%s spare %s %% (the rules say %s)", issued.Spare)
	say(e.Pack, "%s pack %s (Products: %s)", issued.Pack)
	say(e.Price, "%s price %s (Products: %s)", issued.Price)
	return out
}

// issueWords says what the rules and the catalogue now say of a line that they
// did not say in the earlier run.
func issueWords(k survey.EditKey, was, is engine.Inputs) []string {
	var out []string
	say := func(what string, was, is float64) {
		if math.Abs(was-is) > 1e-9 {
			out = append(out, fmt.Sprintf("%s %s %s, was %s", lineName(k), what, amountOf(is), amountOf(was)))
		}
	}
	say("spare %", was.Spare, is.Spare)
	say("pack", was.Pack, is.Pack)
	say("price", was.Price, is.Price)
	return out
}

// typedOver reports whether a quantity stands in the earlier order that
// neither that run wrote nor its formula gives: a reader typed it. Quantities
// come from the walls and are worked out anew.
func typedOver(e survey.Edit) bool {
	if e.Issued == nil {
		return false
	}
	formula := quantity.Order(e.Net, e.Now.Spare)
	return e.Net != e.IssuedNet || e.Order != e.IssuedOrder && e.Order != formula
}

// orphans lists the edits of lines that the order no longer has.
func orphans(s *survey.Survey, seen map[survey.EditKey]bool) []string {
	var out []string
	for _, k := range sortedKeys(s.Edits) {
		if e := s.Edits[k]; e.Issued != nil && !seen[k] && edited(e) != (engine.Edit{}) {
			out = append(out, lineName(k))
		}
	}
	return out
}
