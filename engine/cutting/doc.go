// Package cutting solves the one-dimensional cutting-stock problem: which
// pieces to cut from which bars so that the bars cost least. It knows nothing
// of boards or walls and stands alone; it imports the standard library only.
//
// # Method
//
// The kerf is added to bars and pieces, equal lengths are merged, and lengths
// are divided by their common divisor. Then, until cost and bound meet:
//
//  1. first-fit and best-fit decreasing, and bar-by-bar filling (firstfit.go,
//     fill.go), against bounds from dual-feasible functions (bounds.go); bars
//     that some best plan has anyway are set aside (reduce.go);
//  2. for many lengths, bars filled until few pieces are left, and those cut by
//     the steps below (residual.go);
//  3. the relaxation over patterns by column generation (master.go) with a
//     revised simplex (simplex.go) on sparse factors of the basis (factors.go,
//     basis.go), patterns by a table-guided search over exact lengths
//     (pricing.go), smoothed duals, and Farley's bound;
//  4. diving: the fractional plan is rounded pattern by pattern while columns
//     are still generated (rounding.go);
//  5. gates, which are reduced-cost fixing kept as a condition on patterns
//     (gate.go), odd-set cuts (oddsets.go), and branching on pairs of lengths,
//     first to find a plan and then to prove there is none (branch.go).
//
// Sources stand beside the code of each step; a survey of the field is M.
// Delorme, M. Iori and S. Martello, Bin packing and cutting stock problems:
// mathematical models and exact algorithms, European Journal of Operational
// Research 255 (2016) 1-20.
//
// # Exactness
//
// Floating point only steers. A bound is computed from duals rounded to
// integers, piece values that any duals may be, and from an integer search that
// shows what a bar can be worth under them; if that search is cut short, its
// own upper bound takes the place of its result. Plan.Proven therefore holds
// without tolerance.
//
// # Several kinds of bar
//
// With several lengths, prices or limited stock the same steps run on cost,
// without gates and cuts. When stock is limited the search may end without a
// plan though one exists; it then says ErrShortStock.
package cutting
