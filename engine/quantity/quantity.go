// Package quantity turns counts and measures into what is ordered: spare added,
// rounded up to packs and priced.
package quantity

import (
	"cmp"
	"math"
	"slices"

	"lapwright/engine/natural"
)

// Key is what one order line is for. Lines sort by it.
type Key struct{ Drop, Role, Code, Colour string }

// Tally sums net quantities by key. Its zero value is not usable; see
// [NewTally].
type Tally struct{ sums map[Key]float64 }

// NewTally returns an empty tally.
func NewTally() *Tally { return &Tally{map[Key]float64{}} }

// Add adds n units to the line of key k.
func (t *Tally) Add(k Key, n float64) { t.sums[k] += n }

// Sum is one summed line.
type Sum struct {
	Key Key
	Net float64
}

// Sums returns the lines that hold anything, by drop, then by the place of the
// role in roles (unknown roles last), then by code and colour.
func (t *Tally) Sums(roles []string) []Sum {
	var out []Sum
	for k, n := range t.sums {
		if n != 0 {
			out = append(out, Sum{k, n})
		}
	}
	rank := func(role string) int {
		if i := slices.Index(roles, role); i >= 0 {
			return i
		}
		return len(roles)
	}
	slices.SortFunc(out, func(a, b Sum) int {
		return cmp.Or(natural.Compare(a.Key.Drop, b.Key.Drop),
			cmp.Compare(rank(a.Key.Role), rank(b.Key.Role)),
			cmp.Compare(a.Key.Role, b.Key.Role), cmp.Compare(a.Key.Code, b.Key.Code), cmp.Compare(a.Key.Colour, b.Key.Colour))
	})
	return out
}

// grain is the part of a unit below which a quantity is arithmetic noise: 70
// with 10 per cent spare is 77, though binary arithmetic has a little more.
const grain = 1e6

// Round takes the noise of binary arithmetic off a quantity, a weight or an
// amount: it rounds to a millionth.
func Round(x float64) float64 { return math.Round(x*grain) / grain }

// Order returns the quantity to order: net with spare per cent added, rounded
// up to a whole unit.
func Order(net, spare float64) float64 { return math.Ceil(Round(net * (1 + spare/100))) }

// Packs returns how many packs hold an order quantity; pack <= 0 counts as 1.
func Packs(order, pack float64) float64 { return math.Ceil(Round(order / whole(pack))) }

// Amount returns the price of packs, the price being for one unit.
func Amount(packs, pack, price float64) float64 { return Round(packs * whole(pack) * price) }

func whole(pack float64) float64 {
	if pack <= 0 {
		return 1
	}
	return pack
}

// Membrane returns the square metres of membrane in rolls of the given width
// that cover area square metres, each strip lapping the next by lap. Widths
// and laps in metres; a roll no wider than its lap covers nothing and returns
// the area itself.
func Membrane(area, width, lap float64) float64 {
	if width <= lap {
		return area
	}
	return area * width / (width - lap)
}
