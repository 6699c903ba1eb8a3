package cutting_test

import (
	"context"
	"fmt"

	"lapwright/engine/cutting"
)

func ExampleSolve() {
	p := cutting.Problem{
		Stocks: []cutting.Stock{{Length: 3600, Price: 1}},
		Items:  []cutting.Item{{Length: 1795, Demand: 4}, {Length: 1195, Demand: 5}, {Length: 600, Demand: 2}},
		Kerf:   5,
	}
	plan, err := cutting.Solve(context.Background(), p, cutting.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(plan.Bars, "bars, proven:", plan.Proven)
	for _, x := range plan.Patterns {
		fmt.Print(x.Count, " x")
		for _, c := range x.Cuts {
			fmt.Print(" ", c.Count, "*", p.Items[c.Item].Length)
		}
		fmt.Println()
	}
	// Output:
	// 4 bars, proven: true
	// 1 x 2*1795
	// 2 x 1*1795 1*1195 1*600
	// 1 x 3*1195
}
