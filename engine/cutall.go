package engine

import (
	"context"
	"encoding/binary"
	"fmt"
	"slices"

	"lapwright/engine/cutting"
	"lapwright/engine/measure"
	"lapwright/engine/parallel"
)

// batches gathers what is cut from each product in each pool, in the order
// first met.
type batches struct {
	at   map[batchKey]int
	key  batchKey // of the last one added to
	last int
	list []batch
}

type batchKey struct{ pool, drop, role, code, colour string }

func (b *batches) add(s *stand, p *Product, item wanted) {
	if k := (batchKey{s.pool, s.drop, p.Role, p.Code, p.Colour}); len(b.list) == 0 || k != b.key {
		i, ok := b.at[k]
		if !ok {
			i = len(b.list)
			b.at[k] = i
			b.list = append(b.list, batch{pool: s.pool, pools: s.pools, drop: s.drop, product: *p})
		}
		b.key, b.last = k, i
	}
	b.list[b.last].items = append(b.list[b.last].items, item)
}

// cutAll cuts trims, battens and reveal boards from their stock lengths. Batches
// are planned on all cores, then handed out in order.
func (t *takeoff) cutAll(ctx context.Context) error {
	list := t.batches()
	plans, err := planBatches(ctx, list, t.rules.Kerf)
	if err != nil {
		return err
	}
	names := map[bool]*namer{true: {prefix: "S"}, false: {prefix: "L"}}
	var rows []CutRow
	for i := range list {
		var res PoolResult
		role := list[i].product.Role
		rows, res = t.dealer.deal(rows[:0], &list[i], plans[i], names[role == RoleBatten || role == RoleWideBatten], t.rules.Kerf)
		t.addRows(rows)
		t.result.Pools = append(t.result.Pools, res)
	}
	return nil
}

// batches lists what is cut, but for what has no stock length to be cut from:
// that is flagged as missing.
func (t *takeoff) batches() []batch {
	b := batches{at: map[batchKey]int{}}
	for i, s := range t.stands {
		w := &t.result.Walls[i]
		for k := range w.Pieces {
			if p := &w.Pieces[k]; p.Course == 0 {
				product := t.revealProduct(s)
				product.Colour = s.colour // its line may be listed without one
				b.add(s, &product, wanted{mark: p.Mark, length: p.Length, count: s.each, stock: &p.Stock})
			}
		}
		for k := range w.Trims {
			tr := &w.Trims[k]
			product := t.trimStock(tr, s.colour)
			b.add(s, &product, wanted{mark: tr.Mark, length: tr.Length, count: s.each, stock: &tr.Stock})
		}
		for k := range w.Battens {
			bt := &w.Battens[k]
			product := t.battenProduct(bt.Width)
			b.add(s, &product, wanted{mark: bt.Mark, length: bt.Z.Length(), count: s.each, stock: &bt.Stock})
		}
	}
	return slices.DeleteFunc(b.list, func(b batch) bool { return b.product.Length <= 0 })
}

// planBatches plans the cutting of every batch, of those that want the same once.
func planBatches(ctx context.Context, list []batch, kerf measure.Length) ([]*cutting.Plan, error) {
	var problems []cutting.Problem
	first := map[string]int{}
	of := make([]int, len(list)) // the batch's problem
	for i := range list {
		p := list[i].problem(kerf)
		key := digest(&p)
		n, known := first[key]
		if !known {
			n = len(problems)
			first[key] = n
			problems = append(problems, p)
		}
		of[i] = n
	}
	plans, errs := make([]cutting.Plan, len(problems)), make([]error, len(problems))
	parallel.Each(len(problems), func(_, i int) {
		plans[i], errs[i] = cutting.Solve(ctx, problems[i], cutting.Options{Effort: linearEffort})
	})
	out := make([]*cutting.Plan, len(list))
	for i, b := range list {
		if err := errs[of[i]]; err != nil {
			return nil, fmt.Errorf("cutting %s %s of pool %s: %w", b.product.Role, b.product.Code, b.pool, err)
		}
		out[i] = &plans[of[i]]
	}
	return out, nil
}

// digest tells problems of one kerf and one kind of bar apart.
func digest(p *cutting.Problem) string {
	out := binary.AppendVarint(nil, p.Stocks[0].Length)
	for _, it := range p.Items {
		out = binary.AppendVarint(binary.AppendVarint(out, it.Length), int64(it.Demand))
	}
	return string(out)
}

// trimStock returns the catalogue line a trim was given.
func (t *takeoff) trimStock(tr *Trim, colour string) Product {
	for _, p := range t.catalogue.all(tr.Role, colour) {
		if p.Code == tr.Code {
			return p
		}
	}
	return t.catalogue.pick(tr.Role, colour)
}

// battenProduct returns what a batten of a width is cut from: of the stock
// lengths listed, the longest, so that few are spliced.
func (t *takeoff) battenProduct(width measure.Length) Product {
	role := RoleBatten
	if width > t.rules.BattenWidth {
		role = RoleWideBatten
	}
	best := t.catalogue.pickWide(role, "", width)
	for _, p := range t.catalogue.all(role, "") {
		if p.Width == best.Width && p.Length > best.Length {
			best = p
		}
	}
	return best
}

// flagMissing flags the roles that no catalogue line serves.
func (t *takeoff) flagMissing() {
	for _, p := range t.catalogue.missing {
		if p.Length > 0 && !cutFromStock(p.Role) {
			continue // flagged at the walls that want it
		}
		what := "no product has the role " + p.Role
		switch {
		case p.Colour != "":
			what += " in " + p.Colour
		case slices.ContainsFunc(t.catalogue.products, func(q Product) bool { return q.Role == p.Role }):
			what += " without a colour"
		}
		t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: "product-missing",
			What: what + ": its quantity is listed without code or price", Do: "add a line to Products"})
	}
	for _, l := range t.result.Order {
		if p := t.product(l.Role, l.Code, l.Colour); cutFromStock(l.Role) && p.Length <= 0 && l.Unit != "m" {
			t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: "stock-length-missing", Place: p.Origin.At("Length mm"),
				What: p.Role + " " + p.Code + ": its stock length is not given: its metres are in the order, as so many of its unit", Do: "give its length in Products, or m as its unit"})
		}
	}
	for _, p := range t.catalogue.plain {
		t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: "product-missing",
			What: "no product has the role " + p.Role + " in " + p.Colour + ": " + p.Code + ", which is listed without a colour, is taken for it",
			Do:   "add a line in " + p.Colour + " to Products, or order this one if it suits the colour"})
	}
}
