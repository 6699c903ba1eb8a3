package engine

import (
	"math"
	"slices"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// flagTroubles asks for a decision where a fixing cannot stand: one flag for
// each kind of trouble, its pieces named.
func (t *takeoff) flagTroubles(s *stand, w *WallResult, troubles []fixing.Trouble) {
	marks := map[string][]string{}
	var codes []string
	var tip measure.Length
	for _, tr := range troubles {
		p := &w.Pieces[tr.Piece]
		p.except(tr)
		if tr.Code == "batten" && t.bridged(w, tr) {
			continue // the next ones hold the board there
		}
		code := tr.Code
		if beyond := t.tipBeyond(w, tr); beyond > 0 {
			if beyond <= tipHeld {
				continue // a tip so short needs no fixing of its own
			}
			code, tip = "tip", max(tip, beyond)
		}
		if len(marks[code]) == 0 {
			codes = append(codes, code)
		}
		if !slices.Contains(marks[code], p.Mark) {
			marks[code] = append(marks[code], p.Mark)
			p.Unfixed = append(p.Unfixed, unfixed(code))
		}
	}
	for _, code := range codes {
		s.flag(Flag{Check, "fixing-" + code, w.Plot, w.Name, s.face.wall.Origin.At("Wall"),
			troubleSaid(code, tip), troubleDo(code)}, marks[code]...)
	}
}

// tipHeld is how far a raked tip may reach beyond its last fixing (common
// practice, as for the short battens beside a slope).
const tipHeld = 300 * measure.Millimetre

// troubleSaid says a kind of trouble in words.
func troubleSaid(code string, tip measure.Length) string {
	if code == "tip" {
		return "raked tips reach up to " + tip.Nearest(measure.Millimetre).String() + " mm beyond their last fixing: one nearer the tip would go through the board below"
	}
	return unfixed(code)
}

// troubleDo says what helps against a kind of trouble.
func troubleDo(code string) string {
	switch code {
	case "end", "strip", "lap":
		return "move the batten, or ask the board's maker how such a place may be held"
	}
	return "put a batten or a nogging behind them, where screws find timber clear of the board below"
}

// unfixed says a kind of trouble with a piece in words.
func unfixed(code string) string {
	switch code {
	case "tip":
		return "a raked tip reaches far beyond its last fixing"
	case "overhang":
		return "an end reaches more than " + endMost.String() + " mm beyond its last fixing"
	case "end":
		return "the end of the board leaves no place for a fixing on a batten that it crosses"
	case "strip":
		return "the board is too narrow over a batten to be fixed to it"
	case "lap":
		return "a fixing would go through the board below"
	case "batten":
		return "a batten stops short of the fixing line"
	default:
		return "held by fewer than two fixings"
	}
}

// bridged reports whether a piece is fixed left and right of a batten that stops
// short of it, no farther apart than the centres there.
func (t *takeoff) bridged(w *WallResult, tr fixing.Trouble) bool {
	at, held := w.Battens[tr.Batten].Centre, t.fixer.held[tr.Piece]
	left, right := at-measure.Length(math.MaxInt32), at+measure.Length(math.MaxInt32)
	for i := held.from; i < held.to; i++ {
		if x := w.Screws[i].X; x < at {
			left = max(left, x)
		} else {
			right = min(right, x)
		}
	}
	return right-left <= min(w.zoneAt(left).Centres, w.zoneAt(right).Centres)
}

// tipBeyond returns how far a piece's raked end reaches beyond its outermost
// fixing where the trouble lies on a batten between the two, else 0.
func (t *takeoff) tipBeyond(w *WallResult, tr fixing.Trouble) measure.Length {
	if tr.Batten < 0 || t.fixer.held[tr.Piece].from == t.fixer.held[tr.Piece].to {
		return 0
	}
	p, at := &w.Pieces[tr.Piece], w.Battens[tr.Batten].Centre
	xs, fixed := t.fixer.xs[tr.Piece], t.fixer.held[tr.Piece].x
	switch {
	case p.Left.Kind == Rake && at < fixed.Lo && fixed.Lo < xs.Hi:
		return fixed.Lo - xs.Lo
	case p.Right.Kind == Rake && at > fixed.Hi && fixed.Hi > xs.Lo:
		return xs.Hi - fixed.Hi
	}
	return 0
}

// except notes on a piece where it is not fixed as it should be.
func (p *Piece) except(tr fixing.Trouble) {
	if tr.Batten < 0 {
		p.Few = true
		return
	}
	p.Bare = append(p.Bare, tr.Batten)
}

// listed joins marks for a flag, the first dozen by name.
func listed(marks []string) string {
	const most = 12
	out := ""
	for i, m := range marks {
		if i == most {
			return out + " and " + itoa(len(marks)-most) + " more"
		}
		if i > 0 {
			out += ", "
		}
		out += m
	}
	return out
}
