package convert

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwright/convert/report"
	"lapwright/engine"
)

// BenchmarkWorkbook writes takeoff workbooks of the example and of longer
// surveys; reading and planning are not counted.
func BenchmarkWorkbook(b *testing.B) {
	for _, n := range []int{4, 60, 400} {
		b.Run(fmt.Sprintf("walls=%d", n), func(b *testing.B) {
			in, o := Example, Options{Effort: engine.EffortQuick}
			if n > 4 {
				in = filepath.Join(b.TempDir(), "Walls.csv")
				if err := os.WriteFile(in, []byte(manyWalls(n)), 0o600); err != nil {
					b.Fatal(err)
				}
			}
			src, err := open(b.Context(), in, o)
			if err != nil {
				b.Fatal(err)
			}
			res, err := takeoff(b.Context(), src.survey, o, nil)
			if err != nil {
				b.Fatal(err)
			}
			var size counter
			for b.Loop() {
				size = 0
				if err := report.Write(b.Context(), &size, report.Input{Result: res, Survey: src.book}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(size)/1e6, "MB")
		})
	}
}

type counter int64

func (c *counter) Write(p []byte) (int, error) {
	*c += counter(len(p))
	return len(p), nil
}

var _ io.Writer = (*counter)(nil)

// manyWalls is a survey of walls that differ a little.
func manyWalls(n int) string {
	var out strings.Builder
	out.WriteString("Plot,Wall,Width mm,Height mm\n")
	for i := range n {
		fmt.Fprintf(&out, "P%d,Wall %d,%d,%d\n", i/6+1, i%6+1, 5000+37*(i%40), 2600+50*(i%7))
	}
	return out.String()
}
