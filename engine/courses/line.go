package courses

import (
	"cmp"
	"slices"
	"sync"

	"lapwright/engine/measure"
)

// line is a problem made ready to search: like targets merged and sorted, the
// end known, gauges in whole millimetres.
type line struct {
	width, strip, stepMost measure.Length
	lapMost                measure.Length
	start, end             measure.Length
	lo, hi                 int64    // gauge, mm
	levels                 []Target // by key, those above start
	keys                   []measure.Length
	openings               []Target         // by At, those at or above start
	below                  Cost             // of what lies below start: the same for all plans
	heights                []measure.Length // a search's nodes
	limit                  *Cost            // only plans that cut less are looked for; nil: any

	nodes    []node // space for a search
	arrivals []arrival
}

// spare keeps lines that are done for the space they hold: an advice sets out
// many times over.
var spare = sync.Pool{New: func() any { return new(line) }}

// newLine makes a problem ready. The line is to be let go by done.
func newLine(p *Problem) (*line, error) {
	lo, hi, err := p.gauges()
	if err != nil {
		return nil, err
	}
	l := spare.Get().(*line)
	*l = line{width: p.Width, strip: p.StripLeast, stepMost: p.GaugeStepMost, lapMost: p.LapMost,
		start: p.Start, end: p.end(), lo: lo, hi: hi,
		levels: l.levels[:0], keys: l.keys[:0], openings: l.openings[:0], heights: l.heights[:0], nodes: l.nodes, arrivals: l.arrivals}
	for i := range p.Targets {
		t := p.Targets[i].total()
		switch {
		case t.opening() && t.At >= p.Start:
			l.openings = merge(l.openings, &t)
		case t.opening():
			l.below.charge(&t, verdict{way: Clear})
		case t.key(p.Width) > p.Start:
			l.levels = merge(l.levels, &t)
		default:
			l.below.charge(&t, l.level(&t, p.Start))
		}
	}
	slices.SortStableFunc(l.levels, func(a, b Target) int { return cmp.Compare(a.key(p.Width), b.key(p.Width)) })
	slices.SortStableFunc(l.openings, func(a, b Target) int { return cmp.Compare(a.At, b.At) })
	for i := range l.levels {
		l.keys = append(l.keys, l.levels[i].key(p.Width))
	}
	l.wish(false)
	return l, nil
}

// done lets the line's space go to another.
func (l *line) done() {
	l.limit = nil
	spare.Put(l)
}

// end returns the height that boards go up to.
func (p *Problem) end() measure.Length {
	end, any := p.End, p.Start
	for _, t := range p.Targets {
		if t.Kind == Top || t.Kind == Apex {
			end = max(end, t.At)
		}
		any = max(any, t.At)
	}
	if end <= p.Start { // nothing says where to stop: past the last target
		return any
	}
	return end
}

// total returns the target with the sawing of all it stands for.
func (t *Target) total() Target {
	out := *t
	out.Count = max(1, t.Count)
	out.Sawing *= measure.Length(out.Count)
	return out
}

// merge adds a target to the list, to one that differs only in how many it
// stands for if there is one.
func merge(list []Target, t *Target) []Target {
	for i := range list {
		if u := &list[i]; t.At == u.At && t.Kind == u.Kind && t.Limit == u.Limit && t.Floor == u.Floor && t.Least == u.Least {
			u.Count += t.Count
			u.Sawing += t.Sawing
			return list
		}
	}
	return append(list, *t)
}

// wish lists the heights that a search goes by: the start and, rising, every
// height a target would like a mark to take, as far as a course can stand there.
// With spare it adds those at which a missed target just leaves a strip that is
// not fragile.
func (l *line) wish(spare bool) {
	l.heights = append(l.heights[:0], l.start)
	add := func(h measure.Length) {
		if h > l.start && (h - l.start).Whole() && h < l.end-l.width+measure.MM(l.hi) {
			l.heights = append(l.heights, h)
		}
	}
	for i := range l.levels {
		t := &l.levels[i]
		add(l.keys[i])
		switch {
		case spare && t.Kind == Top:
			add(t.At - l.strip)
		case spare && t.Kind == Apex:
			add(t.At - t.Least)
		}
	}
	for i := range l.openings {
		t := &l.openings[i]
		add(t.At)
		if t.Kind == Sill {
			add(t.At - l.width)
		}
		if spare && t.Kind == Sill {
			add(t.At - l.strip)
		} else if spare {
			add(t.At + l.strip - l.width)
		}
	}
	slices.Sort(l.heights)
	l.heights = slices.Compact(l.heights)
}

// last reports whether a course at height c is the last one needed.
func (l *line) last(c measure.Length) bool { return c+l.width >= l.end }

// run is a row of equal gauges: mark q stands at from + round(q*rise/per) mm.
type run struct {
	from      measure.Length
	rise, per int64 // the gauge in mm as a fraction
	count     int64 // gauges
	end       bool  // nothing stands above its last course
}

func (r run) mark(q int64) measure.Length {
	return r.from + measure.MM((2*q*r.rise+r.per)/(2*r.per))
}

// below returns the number of the last mark at or below h, which is not below
// the first: the greatest q of which q*rise/per, rounded, is at most h - from.
func (r *run) below(h measure.Length) int64 {
	mm := int64((h - r.from) / measure.Millimetre)
	return ((2*mm+1)*r.per - 1) / (2 * r.rise)
}

// gauge returns the run's gauge rounded to the micrometre.
func (r run) gauge() measure.Length {
	return measure.Length((2000*r.rise + r.per) / (2 * r.per))
}

// tail returns the run from c of gauge rise/per up to the last course needed.
func (l *line) tail(c measure.Length, rise, per int64) run {
	r := run{from: c, rise: rise, per: per}
	if !l.last(c) {
		r.count = r.below(l.end-l.width-1) + 1
	}
	return r
}
