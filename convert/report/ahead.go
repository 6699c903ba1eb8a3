package report

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"slices"
	"sync"

	"lapwright/convert/drawing"
	"lapwright/engine"
)

// drawers keeps used drawers: the letters they have drawn and the paper they
// draw on take longer to make than a drawing. Nothing of them shows in the
// next.
var drawers = sync.Pool{New: func() any { return drawing.New() }}

// drawAhead makes the drawings of all wall sheets, on as many cores as there
// are; they take half the time of a workbook. Each is the same whoever draws
// it. What ctx cuts off is drawn where it is wanted, or not at all.
func (b *book) drawAhead(ctx context.Context) error {
	ways := slices.Concat(b.walls...)
	n := min(runtime.GOMAXPROCS(0), len(ways))
	if n < 2 {
		return nil
	}
	b.drawn = make(map[*engine.WallResult]drawing.Picture, len(ways))
	var wg sync.WaitGroup
	var mu sync.Mutex
	var failed error
	for worker := range n {
		wg.Go(func() {
			d := drawers.Get().(*drawing.Drawer)
			defer drawers.Put(d)
			for i := worker; i < len(ways) && ctx.Err() == nil; i += n {
				err := b.drawWay(d, ways[i], &mu)
				if err != nil {
					mu.Lock()
					failed = err
					mu.Unlock()
				}
			}
		})
	}
	wg.Wait()
	return failed
}

// drawWay makes the drawing of one wall as built. A panic must not leave a goroutine.
func (b *book) drawWay(d *drawing.Drawer, w way, mu *sync.Mutex) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("drawing wall %s: %v\n%s", wallName(w.WallResult), p, debug.Stack())
		}
	}()
	f, _ := w.form()
	pic, err := d.Elevation(w.WallResult, f.picture)
	if err != nil {
		return err
	}
	mu.Lock()
	defer mu.Unlock()
	b.drawn[w.WallResult] = pic
	return nil
}
