package engine

import (
	"context"
	"fmt"

	"lapwright/engine/measure"
)

// batches gathers what is cut from each product in each pool, in the order
// first met.
type batches struct {
	at   map[batchKey]int
	list []batch
	take map[string]*string // mark -> where to write the board's name
}

type batchKey struct{ pool, drop, role, code, colour string }

func (b *batches) add(s *stand, p Product, item wanted, stock *string) {
	k := batchKey{s.pool, s.drop, p.Role, p.Code, p.Colour}
	i, ok := b.at[k]
	if !ok {
		i = len(b.list)
		b.at[k] = i
		b.list = append(b.list, batch{pool: s.pool, pools: s.pools, drop: s.drop, product: p})
	}
	b.list[i].items = append(b.list[i].items, item)
	b.take[item.mark] = stock
}

// cutAll cuts trims, battens and reveal boards from their stock lengths.
func (t *takeoff) cutAll(ctx context.Context) error {
	b := batches{at: map[batchKey]int{}, take: map[string]*string{}}
	for i, s := range t.stands {
		w := &t.result.Walls[i]
		for k := range w.Pieces {
			if p := &w.Pieces[k]; p.Course == 0 {
				b.add(s, t.revealProduct(s), wanted{p.Mark, p.Length, s.each}, &p.Stock)
			}
		}
		for k := range w.Trims {
			tr := &w.Trims[k]
			b.add(s, t.trimStock(tr, s.colour), wanted{tr.Mark, tr.Length, s.each}, &tr.Stock)
		}
		for k := range w.Battens {
			bt := &w.Battens[k]
			b.add(s, t.battenProduct(bt.Width), wanted{bt.Mark, bt.Z.Length(), s.each}, &bt.Stock)
		}
	}
	names := map[bool]*namer{true: {prefix: "S"}, false: {prefix: "T"}}
	for _, batch := range b.list {
		if batch.product.Length <= 0 {
			continue // no stock length to cut from: flagged as missing
		}
		batten := batch.product.Role == RoleBatten || batch.product.Role == RoleWideBatten
		if err := t.cutOne(ctx, batch, names[batten], b.take); err != nil {
			return err
		}
	}
	return nil
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

func (t *takeoff) cutOne(ctx context.Context, b batch, names *namer, take map[string]*string) error {
	rows, res, err := cutBatch(ctx, b, t.rules.Kerf, names)
	if err != nil {
		return fmt.Errorf("cutting %s %s of pool %s: %w", b.product.Role, b.product.Code, b.pool, err)
	}
	for _, row := range rows {
		for _, c := range row.Cuts {
			stock := take[c.Marks[0]]
			*stock = joinName(*stock, row.Board)
		}
	}
	t.result.Cutting = append(t.result.Cutting, rows...)
	t.result.Pools = append(t.result.Pools, res)
	return nil
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
		what := "no product has the role " + p.Role
		if p.Colour != "" {
			what += " in " + p.Colour
		}
		t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: "product-missing",
			What: what + ": its quantity is listed without code or price", Do: "add a line to Products"})
	}
	for _, p := range t.catalogue.plain {
		t.result.Flags = append(t.result.Flags, Flag{Severity: Check, Code: "product-missing",
			What: "no product has the role " + p.Role + " in " + p.Colour + ": " + p.Code + ", which is listed without a colour, is taken for it",
			Do:   "add a line in " + p.Colour + " to Products, or order this one if it suits the colour"})
	}
}
