package report

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"slices"
	"sync"
	"sync/atomic"

	"lapwright/convert/drawing"
)

// sketch is a drawing of one or more pictures. It is made once, by the sheet
// that wants it or by a worker that draws ahead, whoever comes first; it is the
// same whoever draws it.
type sketch struct {
	of      string // what it shows
	draw    func(*drawing.Drawer) ([]drawing.Picture, error)
	claimed atomic.Bool
	done    chan struct{}
	pics    []drawing.Picture
	err     error
}

func newSketch(of string, draw func(*drawing.Drawer) ([]drawing.Picture, error)) *sketch {
	return &sketch{of: of, draw: draw, done: make(chan struct{})}
}

// pictures returns the pictures, made now or ahead.
func (s *sketch) pictures() ([]drawing.Picture, error) {
	s.make()
	<-s.done
	return s.pics, s.err
}

// make makes the pictures, unless somebody else does or did. A panic must not
// leave a worker's goroutine.
func (s *sketch) make() {
	if !s.claimed.CompareAndSwap(false, true) {
		return
	}
	defer close(s.done)
	defer func() {
		if p := recover(); p != nil {
			s.err = fmt.Errorf("drawing %s: %v\n%s", s.of, p, debug.Stack())
		}
	}()
	d := <-drawers
	if d == nil {
		d = drawing.New()
	}
	defer func() { drawers <- d }()
	s.pics, s.err = s.draw(d)
}

// drawers has one drawer a core, however many workbooks are written at once;
// nil where it is yet to be made. They are kept, as what packs a drawing and the
// paper it is drawn on take longer to make than a drawing. Nothing of
// one drawing shows in the next.
var drawers = make(chan *drawing.Drawer, runtime.GOMAXPROCS(0))

func init() {
	for range cap(drawers) {
		drawers <- nil
	}
}

// drawAhead makes drawings on the cores that are free while sheets are
// written: from the last sheet on, as those are written from the first. They
// are most of the work of a workbook. It goes on until the function that it
// returns is called.
func (b *book) drawAhead(ctx context.Context) (stop func()) {
	var sketches []*sketch
	for _, ways := range b.walls {
		for _, w := range ways {
			sketches = append(sketches, w.elevation)
		}
	}
	for _, d := range b.saw {
		sketches = append(sketches, d.bars)
	}
	ctx, cancel := context.WithCancel(ctx)
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0)-1, len(sketches)) {
		wg.Go(func() {
			for _, s := range slices.Backward(sketches) {
				if ctx.Err() != nil {
					return
				}
				s.make()
			}
		})
	}
	return func() { cancel(); wg.Wait() }
}
