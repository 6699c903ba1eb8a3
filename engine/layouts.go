package engine

import (
	"context"
	"crypto/sha256"
	"sync"

	"lapwright/engine/layout"
)

// Layouts keeps how pools were laid out and cut from one takeoff to the next, so
// that equal pools of several jobs are planned once: the drops of a schedule hold
// the same houses. The zero value is ready to use, by several takeoffs at the
// same time; what it keeps shows in no result.
type Layouts struct {
	mu   sync.Mutex
	kept map[layoutKey]func() (layout.Plan, error)
}

// layoutKey is equal for equal problems that are searched equally hard.
type layoutKey struct {
	problem [sha256.Size]byte
	effort  layout.Effort
}

// layoutsKept is how many plans are kept before all are forgotten: some tens of
// megabytes at most.
const layoutsKept = 500

// solve plans a pool of that digest, or returns the plan of an equal one.
func (l *Layouts) solve(ctx context.Context, digest [sha256.Size]byte, p layout.Problem, e layout.Effort) (layout.Plan, error) {
	search := func() (layout.Plan, error) { return layout.Solve(ctx, p, layout.Options{Effort: e}) }
	if l == nil {
		return search()
	}
	k := layoutKey{digest, e}
	l.mu.Lock()
	if len(l.kept) >= layoutsKept || l.kept == nil {
		l.kept = map[layoutKey]func() (layout.Plan, error){}
	}
	once := l.kept[k]
	if once == nil {
		once = sync.OnceValues(func() (layout.Plan, error) {
			plan, err := search()
			if ctx.Err() != nil { // it was cut short
				l.mu.Lock()
				delete(l.kept, k)
				l.mu.Unlock()
				err = ctx.Err()
			}
			return plan, err
		})
		l.kept[k] = once
	}
	l.mu.Unlock()
	return once()
}
