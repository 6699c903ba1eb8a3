package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progress shows on standard error how far a batch is: as a bar where that is
// a terminal, else as a line now and then.
type progress struct {
	w       io.Writer
	bar     *progressbar.ProgressBar // nil: no terminal
	started time.Time
	said    time.Time
	quiet   bool
}

// sayEvery is how long a log goes without a line.
const sayEvery = 15 * time.Second

func newProgress(w io.Writer, all int, quiet bool) *progress {
	p := &progress{w: w, started: time.Now(), said: time.Now(), quiet: quiet}
	f, ok := w.(*os.File)
	if ok && !quiet && term.IsTerminal(int(f.Fd())) {
		p.bar = progressbar.NewOptions(all, progressbar.OptionSetWriter(w), progressbar.OptionShowCount(), progressbar.OptionSetPredictTime(true),
			progressbar.OptionSetDescription("taking off"), progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionClearOnFinish(), progressbar.OptionFullWidth())
	}
	return p
}

// step shows that one more is done, and tells how it failed, if so.
func (p *progress) step(done, all int, err error) {
	if err != nil {
		p.clear()
		fmt.Fprintln(p.w, "lapwright:", err)
	}
	if p.bar != nil {
		_ = p.bar.Set(done) // a bar that cannot be drawn is no reason to stop
		return
	}
	now := time.Now()
	if p.quiet || done == all || now.Sub(p.said) < sayEvery {
		return
	}
	p.said = now
	left := time.Duration(float64(now.Sub(p.started)) / float64(done) * float64(all-done))
	fmt.Fprintf(p.w, "%d of %d done, about %s left\n", done, all, left.Round(time.Second))
}

// clear takes the bar away.
func (p *progress) clear() {
	if p.bar != nil {
		_ = p.bar.Clear()
	}
}
