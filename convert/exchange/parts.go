package exchange

import (
	"lapwright/engine"
	"lapwright/engine/quantity"
)

func jobOf(res *engine.Result) job {
	j := res.Job
	return job{j.Name, j.Site, j.PreparedBy, j.SurveyDate, string(j.Pool), j.Currency, string(res.Effort),
		j.Order.Number, j.Order.IssueDate, j.Order.Buyer, j.Order.Seller}
}

func figuresOf(res *engine.Result) figures {
	t := res.Boards()
	out := figures{Boards: t.Boards, Bound: t.Bound, Waste: quantity.Round(t.Waste), Floor: quantity.Round(t.Floor), BoardsCost: quantity.Round(t.Cost), CostBound: quantity.Round(t.CostBound), Unpriced: Unpriced(res.Order), Wind: res.Wind.Pressure}
	for i := range res.Walls {
		w := &res.Walls[i]
		out.Built += w.Quantity
		out.Net += w.Net * float64(w.Quantity)
		out.Gross += w.Gross * float64(w.Quantity)
	}
	out.Net, out.Gross = quantity.Round(out.Net), quantity.Round(out.Gross)
	out.Amount = engine.Amount(res.Order)
	return out
}

func boardsOf(res *engine.Result) []board {
	out := make([]board, 0, res.CutCount())
	for r := range res.CutRows(0, res.CutCount()) {
		out = append(out, boardOf(r))
	}
	return out
}

func wallOf(w *engine.WallResult) wall {
	return wall{
		Plot: w.Plot, Name: w.Name, Code: w.Code, Colour: w.Colour, Drop: w.Drop, Pool: w.Pool,
		Quantity: w.Quantity, Handed: w.Mirrored, Net: w.Net, Gross: w.Gross, Outline: points(w.Outline), Advice: w.Advice,
		Openings: each(w.Voids, openingOf), Pieces: each(w.Pieces, pieceOf), Trims: each(w.Trims, trimOf),
		Courses: each(w.Courses, func(c *engine.Course) course {
			return course{c.Number, mm(c.Bottom), mm(c.Top), mm(c.Gauge), mm(c.Lap), c.Note}
		}),
		Battens: each(w.Battens, func(b *engine.Batten) batten {
			return batten{b.Mark, mm(b.Centre), mm(b.Width), mm(b.Z.Lo), mm(b.Z.Hi), b.Why, b.Code, b.Stock}
		}),
		Tapes:    each(w.Strips, func(s *engine.Strip) tape { return tape{s.Role, s.Where, mm(s.Width), mm(s.Length)} }),
		Fixings:  each(w.Fixings, fixingOf),
		Screws:   each(w.Screws, func(s *engine.Screw) screw { return screwOf(w, s) }),
		Packings: each(w.Packings, func(k *engine.Packing) packing { return packingOf(w, k) }),
		Zones: each(w.Zones, func(z *engine.Zone) zone {
			return zone{z.Name, mm(z.X.Lo), mm(z.X.Hi), z.Suction, z.Pressure, mm(z.Centres), z.Why}
		}),
	}
}

func openingOf(v *engine.Void) opening {
	o := v.Opening
	if o == nil {
		return opening{}
	}
	return opening{o.Name, o.Kind, mm(o.Left), mm(o.Sill), mm(o.Width), mm(o.Height), mm(o.Reveal), o.Lined}
}

func endOf(e engine.End) end {
	kind := map[engine.EndKind]string{engine.Square: "square", engine.Joint: "joint", engine.Rake: "rake"}[e.Kind]
	return end{kind, e.Degrees, e.Under}
}

func pieceOf(p *engine.Piece) piece {
	return piece{
		Mark: p.Mark, Course: p.Course, Reveal: p.Reveal, Outline: points(p.Outline),
		Cutouts: each(p.Cutouts, func(c *engine.VoidRect) [4]float64 {
			return [4]float64{mm(c.X.Lo), mm(c.Z.Lo), mm(c.X.Length()), mm(c.Z.Length())}
		}),
		Length: mm(p.Length), Width: mm(p.Width), Left: endOf(p.Left), Right: endOf(p.Right), Ripped: p.Ripped, Packed: p.Packed, Foot: p.FootPacked,
		Colour: p.Colour, Code: p.Code, Quantity: p.Quantity, Stock: p.Stock,
	}
}

func trimOf(t *engine.Trim) trim {
	return trim{t.Mark, t.Role, t.Code, t.Colour, t.Where, mm(t.Length), at(t.From), at(t.To), t.Quantity, t.Stock}
}

func fixingOf(f *engine.FixingRow) fixing {
	return fixing{f.Zone, f.Fixing, f.Where, mm(f.Centres), f.Count, f.PreDrilled, f.Visible, f.Load, f.Resistance, f.Use, f.Basis, f.Verdict}
}

func screwOf(w *engine.WallResult, s *engine.Screw) screw {
	out := screw{At: [2]float64{mm(s.X), mm(s.Z)}, Kind: s.Kind, PreDrilled: s.PreDrilled, Visible: s.Visible}
	if s.Piece >= 0 && s.Piece < len(w.Pieces) {
		out.Piece = w.Pieces[s.Piece].Mark
	}
	if s.Batten >= 0 && s.Batten < len(w.Battens) {
		out.Batten = w.Battens[s.Batten].Mark
	}
	return out
}

func packingOf(w *engine.WallResult, k *engine.Packing) packing {
	return packing{w.Pieces[k.Piece].Mark, w.Battens[k.Batten].Mark, k.Foot, mm(k.Z), mm(k.Off), mm(k.Thick), k.Packers, k.Fixing}
}

func boardOf(r *engine.CutRow) board {
	return board{
		Board: r.Board, Pool: r.Pool, Drop: r.Drop, Role: r.Role, Code: r.Code, Colour: r.Colour, Stock: mm(r.Stock), Count: r.Count,
		Cuts:   each(r.Cuts, func(c *engine.Cut) cut { return cut{c.Marks, mm(c.Length)} }),
		Offcut: mm(r.Offcut), Shared: mm(r.Shared), OnHand: r.OnHand,
	}
}

func poolOf(p *engine.PoolResult) pool {
	return pool{p.Pool, p.Role, p.Code, p.Colour, p.Boards, p.OnHand, p.LayoutBound, quantity.Round(p.Cost), quantity.Round(p.CostBound), p.Mixed, p.Proven, mm(p.Used), mm(p.Bought)}
}

// OrderLines returns the lines of an order as they are given as JSON.
func OrderLines(in []engine.OrderLine) []OrderLine {
	return each(in, func(l *engine.OrderLine) OrderLine {
		return OrderLine{l.Drop, l.Role, l.Code, l.Description, l.Colour, l.Unit, UnitCode(l.Unit),
			quantity.Round(l.Net), l.Spare, l.Order, l.Pack, l.Packs, l.Price, l.Amount, l.Weight}
	})
}
