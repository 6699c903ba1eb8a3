package batch

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwright/convert"
	"lapwright/convert/exchange"
	"lapwright/convert/report"
	"lapwright/engine"
	"lapwright/engine/natural"
)

// source is the order of one takeoff.
type source struct {
	name, currency string
	lines          []exchange.OrderLine
	lacks          []string // what the order leaves out, in words
	head           map[string]string
	held           []report.Held
	merged         bool // it is a merged order
}

// lineKey names a line of a merged order. Lines that no product serves have no
// code; the rest of the key keeps them apart.
type lineKey struct{ drop, role, code, colour, unit string }

// merged is a line of several takeoffs.
type merged struct {
	report.OrderLine
	most, priced float64 // net quantity of the takeoff whose pack stands, and whose price
	spare        float64 // sum of net x spare
	remarks      []string
	first        exchange.OrderLine // the line first met
	name         string             // and of which takeoff
}

// merge sums the orders of several takeoffs. Net quantities of one drop, role
// and code are added up and rounded to packs once. Spare becomes the mean by
// net quantity, which orders as much as each takeoff asked for before rounding.
// Where packs or prices differ, those of the takeoff with the largest quantity
// stand, but no blank price before one that is given; the line says so, and where
// one code stands for two products.
func merge(sources []source) ([]report.OrderLine, error) {
	at := map[lineKey]*merged{}
	var keys []lineKey
	for _, s := range sources {
		if first := sources[0]; s.currency != first.currency {
			return nil, &convert.Error{Kind: convert.Unusable, Path: s.name, What: fmt.Sprintf("is priced in %s, %s in %s", s.currency, first.name, first.currency), Do: "Merge the orders of one currency at a time"}
		}
		for _, l := range s.lines {
			k := lineKey{l.Drop, l.Role, l.Code, l.Colour, l.Unit}
			m := at[k]
			if m == nil {
				m = newMerged(s.name, l)
				at[k] = m
				keys = append(keys, k)
			}
			m.add(s.name, l)
		}
	}
	sortKeys(keys)
	out := make([]report.OrderLine, len(keys))
	for i, k := range keys {
		out[i] = at[k].line()
	}
	return out, nil
}

func newMerged(name string, l exchange.OrderLine) *merged {
	m := &merged{most: -1, priced: -1, name: name, first: l}
	m.Drop, m.Role, m.Code, m.Description, m.Colour, m.Unit, m.Weight = l.Drop, l.Role, l.Code, l.Description, l.Colour, l.Unit, l.Weight
	return m
}

func (m *merged) add(name string, l exchange.OrderLine) {
	m.Takeoffs++
	m.Net += l.Net
	m.spare += l.Net * l.Spare
	m.compare("pack", m.first.Pack, l.Pack, name)
	m.compare("price", m.first.Price, l.Price, name)
	m.compare("unit weight", m.first.Weight, l.Weight, name)
	m.compare("description", m.first.Description, l.Description, name)
	if l.Net > m.most {
		m.most, m.Pack = l.Net, l.Pack
	}
	if l.Price > 0 && l.Net > m.priced {
		m.priced, m.Price = l.Net, l.Price
	}
	if m.Takeoffs == 1 {
		m.Spare = l.Spare
	} else if l.Spare != m.Spare && !slices.Contains(m.remarks, spareDiffers) {
		m.remarks = append(m.remarks, spareDiffers)
	}
}

// remarksMost is how many differences one line tells of.
const remarksMost = 3

func (m *merged) compare(what string, first, now any, name string) {
	if first == now {
		return
	}
	switch n := len(m.remarks); {
	case n < remarksMost:
		m.remarks = append(m.remarks, fmt.Sprintf("%s is %v in %s but %v in %s", what, first, m.name, now, name))
	case n == remarksMost:
		m.remarks = append(m.remarks, "and more")
	}
}

const spareDiffers = "spare differs: the mean by net quantity"

func (m *merged) line() report.OrderLine {
	l := m.OrderLine
	if slices.Contains(m.remarks, spareDiffers) && m.Net > 0 {
		l.Spare = m.spare / m.Net
	}
	l.Remark = strings.Join(m.remarks, "; ")
	return l
}

// sortKeys puts lines in the order of an order: by drop, role, code.
func sortKeys(keys []lineKey) {
	rank := map[string]int{}
	for i, r := range engine.Roles() {
		rank[r] = i
	}
	slices.SortStableFunc(keys, func(a, b lineKey) int {
		return cmp.Or(natural.Compare(a.drop, b.drop), cmp.Compare(rank[a.role], rank[b.role]), cmp.Compare(a.code, b.code), cmp.Compare(a.colour, b.colour), cmp.Compare(a.unit, b.unit))
	})
}

// sourcesOf returns the orders of the entries that have one.
func sourcesOf(entries []Entry) []source {
	var out []source
	for _, e := range entries {
		if e.Result != Done && e.Result != Stopped {
			continue
		}
		s := source{name: e.File, currency: e.Currency, lines: e.Order}
		if e.Held != nil {
			s.held = append(s.held, *e.Held)
		}
		switch {
		case e.Left > 0:
			s.lacks = append(s.lacks, convert.Count(e.Left, "wall")+" left out")
		case e.Stops > 0:
			s.lacks = append(s.lacks, convert.Count(e.Stops, "stop"))
		}
		out = append(out, s)
	}
	return out
}
