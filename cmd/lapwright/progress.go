package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progress shows on standard error how far a batch is and how long it still
// takes, where that is a terminal; in a log nothing stands but failures.
type progress struct {
	w   io.Writer
	bar *progressbar.ProgressBar // nil: no terminal
}

func newProgress(w io.Writer, all int, quiet bool) *progress {
	p := &progress{w: w}
	f, ok := w.(*os.File)
	if ok && !quiet && term.IsTerminal(int(f.Fd())) {
		p.bar = progressbar.NewOptions(all, progressbar.OptionSetWriter(w), progressbar.OptionShowCount(), progressbar.OptionSetPredictTime(true),
			progressbar.OptionSetDescription("taking off"), progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionClearOnFinish(), progressbar.OptionFullWidth())
	}
	return p
}

// step shows that one more is done, and tells how it failed, if so.
func (p *progress) step(done, _ int, err error) {
	if err != nil {
		p.clear()
		fmt.Fprintln(p.w, "lapwright:", err)
	}
	if p.bar != nil {
		_ = p.bar.Set(done) // a bar that cannot be drawn is no reason to stop
	}
}

// clear takes the bar away.
func (p *progress) clear() {
	if p.bar != nil {
		_ = p.bar.Clear()
	}
}
