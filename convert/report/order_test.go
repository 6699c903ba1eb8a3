package report

import (
	"fmt"
	"math/big"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"os"

	"github.com/xuri/excelize/v2"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// up rounds an exact number up to a whole one.
func up(r *big.Rat) *big.Rat {
	n := new(big.Int).Div(r.Num(), r.Denom()) // towards minus infinity
	if new(big.Rat).SetInt(n).Cmp(r) < 0 {
		n.Add(n, big.NewInt(1))
	}
	return new(big.Rat).SetInt(n)
}

func rat(t *testing.T, s string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		t.Fatalf("%q is no number", s)
	}
	return r
}

// TestOrderComputed does the order's sums again in exact fractions, from the
// decimal figures as they stand in the sheet:
//
//	order quantity = net x (1 + spare/100), rounded up
//	packs = order quantity / pack, rounded up
//	amount = packs x pack x unit price
func TestOrderComputed(t *testing.T) {
	f := opened(t, standard(t))
	rows := rowsOfSheet(t, f, "Order summary")
	at := map[string]int{}
	for i, h := range rows[0] {
		at[h] = i
	}
	hundred, total := big.NewRat(100, 1), new(big.Rat)
	for i := range fixture().Order {
		n := func(header string) *big.Rat { return rat(t, rows[i+1][at[header]]) }
		order := up(new(big.Rat).Mul(n("Net quantity"), new(big.Rat).Add(big.NewRat(1, 1), new(big.Rat).Quo(n("Spare %"), hundred))))
		packs := up(new(big.Rat).Quo(order, n("Pack")))
		amount := new(big.Rat).Mul(new(big.Rat).Mul(packs, n("Pack")), n("Unit price"))
		total.Add(total, amount)
		for header, want := range map[string]*big.Rat{"Order quantity": order, "Packs": packs, "Amount": amount} {
			w, _ := want.Float64()
			if got, _ := n(header).Float64(); got-w > 1e-9 || w-got > 1e-9 {
				t.Errorf("row %d %s: got %v, want %v", i+2, header, got, w)
			}
			cell, _ := excelize.CoordinatesToCellName(at[header]+1, i+2)
			if formula, _ := f.GetCellFormula("Order summary", cell); formula == "" {
				t.Errorf("%s %s is not live", header, cell)
			}
		}
	}
	want, _ := total.Float64()
	foot := rows[len(fixture().Order)+2]
	if got, _ := strconv.ParseFloat(foot[at["Amount"]], 64); foot[0] != "Total GBP" || got != want {
		t.Errorf("got the foot %q, want a total of %v", foot, want)
	}
}

// TestAHairCostsNoPack: 100 and 10 per cent are 110, although 100 x 1.1 in
// binary is a hair more.
func TestAHairCostsNoPack(t *testing.T) {
	for _, tt := range []struct{ net, spare, pack, order, packs float64 }{
		{100, 10, 10, 110, 11},
		{100, 10.5, 10, 111, 12},
		{61, 5, 250, 65, 1},
		{0.35, 5, 1, 1, 1},
		{0, 5, 10, 0, 0},
		{7, 0, 0, 7, 7}, // no pack given: sold singly
		{2.65, 5, 0.5, 3, 6},
	} {
		r := &engine.OrderLine{Net: tt.net, Spare: tt.spare, Pack: tt.pack}
		if got, n := orderQuantity(r), packs(r); got != tt.order || n != tt.packs {
			t.Errorf("%v and %v %% in packs of %v: got %v in %v packs, want %v in %v", tt.net, tt.spare, tt.pack, got, n, tt.order, tt.packs)
		}
	}
}

func TestDropsHaveTheirTotals(t *testing.T) {
	in := fullInput(t)
	in.Result.Order[0].Drop, in.Result.Order[1].Drop, in.Result.Order[2].Drop = "1", "2", "2"
	f := opened(t, written(t, in))
	rows := rowsOfSheet(t, f, "Order summary")
	for i, want := range []string{"", "1", "2"} {
		row := rows[5+i]
		if want != "" && row[0] != want {
			t.Errorf("foot row %d begins %q, want drop %s", i, row[0], want)
		}
		t.Log(row)
	}
	sum := func(i int) float64 { v, _ := strconv.ParseFloat(rows[i][12], 64); return v }
	if sum(5) != sum(6)+sum(7) {
		t.Errorf("the drops' totals %v and %v do not make the whole %v", sum(6), sum(7), sum(5))
	}
}

// TestRecomputed has Gnumeric compute every formula anew, after an input was
// changed, and compares: without the change all cached values hold, with it
// the cost follows.
func TestRecomputed(t *testing.T) {
	tool, err := exec.LookPath("ssconvert")
	if err != nil {
		t.Skip("ssconvert is not installed")
	}
	dir := t.TempDir()
	recomputed := func(name string, data []byte) *excelize.File {
		in, out := filepath.Join(dir, name+".xlsx"), filepath.Join(dir, name+".out.xlsx")
		if err := os.WriteFile(in, data, 0o600); err != nil {
			t.Fatal(err)
		}
		if said, err := exec.Command(tool, "--recalc", in, out).CombinedOutput(); err != nil {
			t.Fatalf("ssconvert: %v\n%s", err, said)
		}
		back, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		return opened(t, back)
	}
	data := standard(t)
	was, is := opened(t, data), recomputed("as-written", data)
	live := compareLive(t, was, is)
	if live < 25 {
		t.Errorf("only %d live cells were compared", live)
	}

	edited := opened(t, data)
	if err := edited.SetCellValue("Order summary", "L2", 20); err != nil { // 112 boards at 20, not 9.50
		t.Fatal(err)
	}
	buf, err := edited.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	after := recomputed("edited", buf.Bytes())
	if got, want := valueBeside(t, after, "Cost"), 112*20+10+18.0; got != fmt.Sprint(want) {
		t.Errorf("with the price edited the cost is %s, want %v", got, want)
	}
}

// compareLive compares the value of every formula and counts them.
func compareLive(t *testing.T, was, is *excelize.File) int {
	t.Helper()
	n := 0
	for _, sheet := range []string{"Summary", "Order summary"} {
		for r, row := range rowsOfSheet(t, was, sheet) {
			for c, want := range row {
				cell, _ := excelize.CoordinatesToCellName(c+1, r+1)
				if formula, _ := was.GetCellFormula(sheet, cell); formula == "" {
					continue
				}
				n++
				got, _ := is.GetCellValue(sheet, cell)
				a, errA := strconv.ParseFloat(got, 64)
				b, errB := strconv.ParseFloat(want, 64)
				if got != want && (errA != nil || errB != nil || a-b > 1e-6 || b-a > 1e-6) {
					t.Errorf("%s %s: recomputed %q, written %q", sheet, cell, got, want)
				}
			}
		}
	}
	return n
}

func valueBeside(t *testing.T, f *excelize.File, item string) string {
	t.Helper()
	for _, row := range rowsOfSheet(t, f, "Summary") {
		if len(row) > 2 && strings.TrimSpace(row[1]) == item {
			return row[2]
		}
	}
	t.Fatalf("no line %s in the Summary", item)
	return ""
}

// An order of boards without spare says so, and follows what is typed.
func TestOrderSaysWithoutSpare(t *testing.T) {
	for spare, want := range map[float64]string{0: noSpare, 5: withSpare} {
		in := fullInput(t)
		for i := range in.Result.Order {
			if in.Result.Order[i].Role == engine.RoleBoard {
				in.Result.Order[i].Spare = spare
			}
		}
		f := opened(t, written(t, in))
		rows := rowsOfSheet(t, f, "Order summary")
		at := fmt.Sprintf("A%d", len(rows))
		if got, _ := f.GetCellValue("Order summary", at); got != want {
			t.Errorf("with %v %% spare the sheet says %q, want %q", spare, got, want)
		}
		if got, err := f.CalcCellValue("Order summary", at); err != nil || got != want {
			t.Errorf("with %v %% spare its formula gives %q (%v), want %q", spare, got, err, want)
		}
	}
}

// Thousands, and millilitres, are shown without a fraction, and kept with it.
func TestNeededInThousands(t *testing.T) {
	for _, tt := range []struct {
		net  float64
		unit string
		want look
	}{{3499.82, "m", grouped}, {197.82, "m", hundreds}, {12, "each", grouped}, {653.33, "ml", grouped}, {0.65, "l", hundreds}} {
		if c := needed(&engine.OrderLine{Net: tt.net, Unit: tt.unit}); c.v != tt.net || c.l != tt.want {
			t.Errorf("%v %s: got %v in look %v, want look %v", tt.net, tt.unit, c.v, c.l, tt.want)
		}
	}
}

// What weighs little is not shown as nothing: a box of 250 screws of 1.2 g each weighs
// 0.3 kg.
func TestLightWeights(t *testing.T) {
	for unit, want := range map[float64]look{0.0012: hundreds, 0: grouped, 0.04: grouped, 5: grouped} {
		r := &engine.OrderLine{Net: 61, Spare: 5, Pack: 250, Weight: unit}
		for _, c := range orderColumns() {
			if got := c.of(r, 2); c.header == "Weight kg" && (got.v != 250*unit || got.l != want) {
				t.Errorf("a box of %v kg a screw is shown to weigh %v in look %v, want look %v", unit, got.v, got.l, want)
			}
		}
	}
}

// One thickness of packers is a number, several are from and to.
func TestPackersOf(t *testing.T) {
	for _, tt := range []struct {
		s    measure.Span
		want any
	}{{measure.Span{}, nil}, {span2(4, 4), 4.0}, {span2(3, 4), "3 to 4"}} {
		if got := packersOf(tt.s); got.v != tt.want {
			t.Errorf("%v: got %v, want %v", tt.s, got.v, tt.want)
		}
	}
}
