package engine

import (
	"math"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// Sealer counted in millilitres is ordered by the tin: one wall's cut edges
// want the same whether its product is listed by the litre or not, and of tins
// of half a litre no more are bought than hold it. Order quantity is whole
// units, so by the litre up to a litre more is bought.
func TestPaintByTheTin(t *testing.T) {
	order := func(unit string, pack float64) OrderLine {
		job := testJob(Wall{Name: "A", Width: measure.MM(9000), Height: measure.MM(2700), Quantity: 3})
		job.Products = slices.DeleteFunc(slices.Clone(job.Products), func(p Product) bool { return p.Role == RolePaint })
		job.Products = append(job.Products, Product{Role: RolePaint, Code: "P", Unit: unit, Pack: pack, Price: 1})
		for _, l := range mustTakeoff(t, job).Order {
			if l.Role == RolePaint {
				return l
			}
		}
		t.Fatal("no paint is ordered")
		return OrderLine{}
	}
	l, ml := order("l", 0.5), order("ml", 500)
	if math.Abs(ml.Net-1000*l.Net) > 1e-6 || ml.Net == 0 {
		t.Errorf("%v ml are %v l", ml.Net, l.Net)
	}
	need := ml.Net * (1 + ml.Spare/100)
	if want := math.Ceil(need / 500); ml.Packs != want || ml.Packs > l.Packs {
		t.Errorf("%v ml take %v tins, want %v; by the litre it was %v", need, ml.Packs, want, l.Packs)
	}
}
