package courses

import "lapwright/engine/measure"

// none stands for the mark below the first one.
const none = measure.Length(-1) << 50

// verdict is how one target comes out. Of a missed Base, strip is the gap
// below its first mark.
type verdict struct {
	notch, strip measure.Length
	way          Way
	fragile      bool
}

// opening reports whether the target is judged by the course it stands in, and
// not by the first mark at or above it.
func (t *Target) opening() bool { return t.Kind == Sill || t.Kind == Head }

// key is the height that the mark deciding a level target is compared with.
func (t *Target) key(width measure.Length) measure.Length {
	if t.Kind == Top || t.Kind == Apex {
		return t.At - width
	}
	return t.At
}

// level judges a Base, Top, Eaves, Apex or Pin by c, the first mark at or above
// its key; c is none if there is no such mark.
func (l *line) level(t *Target, c measure.Length) verdict {
	switch {
	case t.Kind == Top || t.Kind == Apex:
		return l.finish(t, c)
	case c == t.At:
		return verdict{way: CourseLine}
	case t.Kind == Base && c != none:
		return verdict{strip: c - t.At}
	}
	return verdict{}
}

// finish judges the last board of a wall, whose bottom is c.
func (l *line) finish(t *Target, c measure.Length) verdict {
	left := t.At - c
	switch {
	case left <= 0: // the wall ends below the first board
		return verdict{way: Clear}
	case t.Kind == Apex && left < t.Least:
		return verdict{strip: left, fragile: true}
	case t.Kind == Apex:
		return verdict{way: Clear, strip: left}
	case left == l.width:
		return verdict{way: FullBoard, strip: left}
	}
	return verdict{strip: left, fragile: left < l.strip}
}

// sill judges a sill in course c, with the mark below it (or none).
func (l *line) sill(t *Target, prev, c measure.Length) verdict {
	below := prev + l.width // top of the board below
	if t.Limit > 0 {
		below = min(below, t.Limit)
	}
	switch s := t.At; {
	case s < c || s > c+l.width: // before the first or after the last board
		return verdict{way: Clear}
	case s == c:
		return verdict{way: CourseLine, notch: max(0, below-s)}
	case s == below || s == c+l.width:
		return verdict{way: BoardTop}
	case s < below:
		return verdict{way: Partly, notch: below - s}
	}
	return l.cut(c+l.width-t.At, t.At-c)
}

// head judges a head in course c, with the mark below it (or none).
func (l *line) head(t *Target, prev, c measure.Length) verdict {
	h, top := t.At, c+l.width
	if t.Limit > 0 {
		if prev+l.width >= t.Limit { // the board below is the wall's last
			c = prev
		}
		top = min(top, t.Limit)
	}
	switch {
	case h < c || h >= top:
		return verdict{way: Clear}
	case h == c:
		return verdict{way: CourseLine}
	}
	return l.cut(h-c, top-h)
}

func (l *line) cut(notch, strip measure.Length) verdict {
	return verdict{notch: notch, strip: strip, fragile: strip < l.strip}
}

// inCourse judges an opening's target in course c. Courses below the floor of
// its wall are not there.
func (l *line) inCourse(t *Target, prev, c measure.Length) verdict {
	if c < t.Floor {
		return verdict{way: Clear}
	}
	if prev < t.Floor {
		prev = none
	}
	if t.Kind == Sill {
		return l.sill(t, prev, c)
	}
	return l.head(t, prev, c)
}

// chargeDeep adds what an opening costs whose edge lies more than a lap above
// the mark c of its course, with a course above: it is missed, whatever stands
// below. It is inCourse and charge in one for the case that is by far the most
// frequent.
func (l *line) chargeDeep(own *Cost, t *Target, c measure.Length) {
	if c < t.Floor {
		return
	}
	below, above := t.At-c, c+l.width-t.At
	notch, strip := below, above
	if t.Kind == Sill {
		notch, strip = above, below
	} else if t.Limit > 0 {
		if strip = min(strip, t.Limit-t.At); strip <= 0 {
			return
		}
	}
	if strip < l.strip {
		own.Fragile += t.Count
	}
	own.Work += measure.Length(t.Count)*(missWork+2*notch) + t.Sawing
}
