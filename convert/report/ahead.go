package report

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"

	"lapwright/convert/drawing"
	"lapwright/engine"
)

// drawers keeps used drawers: the letters they have drawn and the paper they
// draw on take longer to make than a drawing. Nothing of them shows in the
// next.
var drawers = sync.Pool{New: func() any { return drawing.New() }}

// drawnKey names a drawing made ahead.
type drawnKey struct {
	wall   *engine.WallResult
	mirror bool
}

// drawAhead makes the drawings of all wall sheets, on as many cores as there
// are; they take half the time of a workbook. Each is the same whoever draws
// it. What ctx cuts off is drawn where it is wanted, or not at all.
func (b *book) drawAhead(ctx context.Context) error {
	walls := b.res.Walls[:min(len(b.res.Walls), max(0, b.res.Job.Rules.WallSheetsMost))]
	n := min(runtime.GOMAXPROCS(0), len(walls))
	if n < 2 {
		return nil
	}
	b.drawn = make(map[drawnKey]drawing.Picture, len(walls))
	var wg sync.WaitGroup
	var mu sync.Mutex
	var failed error
	for worker := range n {
		wg.Go(func() {
			d := drawers.Get().(*drawing.Drawer)
			defer drawers.Put(d)
			for i := worker; i < len(walls) && ctx.Err() == nil; i += n {
				err := b.drawWall(d, &walls[i], &mu)
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

// drawWall makes the drawings of one wall. A panic must not leave a goroutine.
func (b *book) drawWall(d *drawing.Drawer, w *engine.WallResult, mu *sync.Mutex) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("drawing wall %s: %v\n%s", wallName(w), p, debug.Stack())
		}
	}()
	f, _ := b.wallForm(w)
	for _, mirror := range hands(w) {
		f.picture.Mirror = mirror
		pic, err := d.Elevation(w, f.picture)
		if err != nil {
			return err
		}
		mu.Lock()
		b.drawn[drawnKey{w, mirror}] = pic
		mu.Unlock()
	}
	return nil
}
