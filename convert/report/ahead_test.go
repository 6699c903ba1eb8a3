package report

import (
	"bytes"
	"runtime"
	"testing"
)

// TestSameBytesOnAnyCores: drawings made ahead, side by side, are those made
// one after another.
func TestSameBytesOnAnyCores(t *testing.T) {
	var first []byte
	for _, cores := range []int{1, 2, 5} {
		before := runtime.GOMAXPROCS(cores)
		data := written(t, fullInput(t))
		runtime.GOMAXPROCS(before)
		if first == nil {
			first = data
		}
		if !bytes.Equal(first, data) {
			t.Errorf("on %d cores the workbook is another", cores)
		}
	}
}
