package report_test

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"context"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"runtime/metrics"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/sync/errgroup"

	"lapwright/convert"
	"lapwright/convert/batch"
	"lapwright/engine"
	"lapwright/testdata/spent"
)

// Thousands of dwellings, made from a fixed seed: four walls each, no two
// alike. Every benchmark runs the whole program, then plans alone, then writes
// the same cells and pictures again with nothing but the library, used as well
// as it can be, and prints the ratio. Run one at a time:
//
//	go test ./convert/report -run '^$' -bench Scale/books -benchtime 1x -dwellings 5000
var dwellings = flag.Int("dwellings", 8, "how many dwellings the scale benchmarks have")

// BenchmarkGrowth prints the processor time a wall takes, planned and written,
// in surveys of more and more walls, up to four times -dwellings.
func BenchmarkGrowth(b *testing.B) {
	var sizes []int
	for n := 1; n < *dwellings; n *= 5 {
		sizes = append(sizes, n)
	}
	for _, n := range append(sizes, *dwellings) {
		b.Run(fmt.Sprintf("walls=%d", 4*n), func(b *testing.B) {
			in, r, s := b.TempDir(), seeded(), newSurvey()
			for i := range n {
				s.dwelling(fmt.Sprint(i+1), r)
			}
			s.write(b, filepath.Join(in, "all"))
			check := quick
			check.CheckOnly = true
			for b.Loop() {
				out := b.TempDir()
				peak, stop := watchMemory()
				planning := timed(func() { convertAll(b, in, out, check) })
				whole := timed(func() { convertAll(b, in, out, quick) })
				stop()
				b.ReportMetric(0, "ns/op")
				b.ReportMetric(1000*planning.processor.Seconds()/float64(4*n), "planning-cpu-ms/wall")
				b.ReportMetric(1000*whole.processor.Seconds()/float64(4*n), "cpu-ms/wall")
				b.ReportMetric(float64(*peak)/1e6, "peak-MB")
			}
		})
	}
}

// survey is the CSV files of a survey.
type survey struct{ walls, openings, plots strings.Builder }

func newSurvey() *survey {
	s := &survey{}
	s.walls.WriteString("Plot,Wall,Width mm,Height mm,Left edge,Right edge\n")
	s.openings.WriteString("Plot,Wall,Opening,Kind,From left mm,Sill mm,Width mm,Height mm\n")
	return s
}

// dwelling adds four walls with up to three openings each.
func (s *survey) dwelling(name string, r *rand.Rand) {
	for _, wall := range []string{"Front", "Left", "Back", "Right"} {
		width := 3000 + r.IntN(8000)
		fmt.Fprintf(&s.walls, "%s,%s,%d,%d,external corner,external corner\n", name, wall, width, 2450+r.IntN(2800))
		at := 600 + r.IntN(400)
		for n := 1; n <= r.IntN(4) && at < width-1800; n++ {
			w := 600 + 5*r.IntN(140)
			fmt.Fprintf(&s.openings, "%s,%s,W%d,window,%d,%d,%d,%d\n", name, wall, n, at, 900+r.IntN(150), w, 900+5*r.IntN(60))
			at += w + 700 + r.IntN(1200)
		}
	}
}

func (s *survey) write(b *testing.B, dir string) {
	b.Helper()
	if err := os.MkdirAll(dir, 0o755); err != nil {
		b.Fatal(err)
	}
	for name, text := range map[string]string{"Walls.csv": s.walls.String(), "Openings.csv": s.openings.String(), "Plots.csv": s.plots.String()} {
		if text == "" {
			continue
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			b.Fatal(err)
		}
	}
}

func seeded() *rand.Rand { return rand.New(rand.NewPCG(180, 3600)) }

var quick = convert.Options{Effort: engine.EffortQuick}

// BenchmarkScale has one case for each way in which many dwellings come.
func BenchmarkScale(b *testing.B) {
	b.Run("books", func(b *testing.B) { // a survey and a takeoff for each dwelling
		in, r := b.TempDir(), seeded()
		for i := range *dwellings {
			s := newSurvey()
			s.dwelling(fmt.Sprint(i+1), r)
			s.write(b, filepath.Join(in, fmt.Sprintf("house %05d", i+1)))
		}
		measure(b, in, 4**dwellings)
	})
	b.Run("tables", func(b *testing.B) { // all in one survey and one takeoff
		in, r, s := b.TempDir(), seeded(), newSurvey()
		for i := range *dwellings {
			s.dwelling(fmt.Sprint(i+1), r)
		}
		s.write(b, filepath.Join(in, "all"))
		measure(b, in, 4**dwellings)
	})
	b.Run("plots", func(b *testing.B) { // plots of ten house types
		in, r, s := b.TempDir(), seeded(), newSurvey()
		for i := range 10 {
			s.dwelling(fmt.Sprintf("Type %d", i+1), r)
		}
		s.plots.WriteString("Plot,House type,Handed,Drop\n")
		for i := range *dwellings {
			fmt.Fprintf(&s.plots, "%d,Type %d,%s,%d\n", i+1, 1+i%10, []string{"no", "yes"}[i/10%2], 1+10*i/(*dwellings))
		}
		s.write(b, filepath.Join(in, "all"))
		measure(b, in, 4**dwellings)
	})
}

// measure runs a folder of surveys three ways and reports the ratios.
func measure(b *testing.B, in string, walls int) {
	for b.Loop() {
		out := b.TempDir()
		peak, stop := watchMemory()
		whole := timed(func() { convertAll(b, in, out, quick) })
		stop()
		check := quick
		check.CheckOnly = true
		planning := timed(func() { convertAll(b, in, out, check) })
		writing, encoding, cells := rewrite(b, out)
		report(b, whole, planning, writing, walls)
		b.ReportMetric((whole.processor-planning.processor).Seconds()/writing.plus(encoding).processor.Seconds(), "writing/write-only-with-encoding")
		b.ReportMetric(whole.processor.Seconds()/planning.plus(writing).plus(encoding).processor.Seconds(), "whole/(planning+write-only-with-encoding)")
		b.ReportMetric(float64(cells), "cells")
		b.ReportMetric(float64(*peak)/1e6, "peak-MB")
	}
}

// report prints seconds by the clock and, because other work on the machine
// shows in those, ratios of processor time.
func report(b *testing.B, whole, planning, writing cost, walls int) {
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(whole.clock.Seconds(), "whole-s")
	b.ReportMetric(whole.processor.Seconds(), "whole-cpu-s")
	b.ReportMetric(planning.processor.Seconds(), "planning-cpu-s")
	b.ReportMetric(writing.processor.Seconds(), "write-only-cpu-s")
	b.ReportMetric(whole.processor.Seconds()/planning.plus(writing).processor.Seconds(), "whole/(planning+write-only)")
	b.ReportMetric((whole.processor-planning.processor).Seconds()/writing.processor.Seconds(), "writing/write-only")
	b.ReportMetric(1000*whole.processor.Seconds()/float64(walls), "cpu-ms/wall")
}

// cost is what something took: by the clock and of all processors.
type cost struct{ clock, processor time.Duration }

func (c cost) plus(o cost) cost { return cost{c.clock + o.clock, c.processor + o.processor} }

func timed(do func()) cost {
	runtime.GC()
	start, used := time.Now(), spent.Time()
	do()
	return cost{time.Since(start), spent.Time() - used}
}

func convertAll(b *testing.B, in, out string, o convert.Options) {
	found, err := batch.Find(in, out, 0)
	if err != nil {
		b.Fatal(err)
	}
	if _, err := batch.Run(context.Background(), found.Items, batch.Options{Convert: o}); err != nil {
		b.Fatal(err)
	}
}

// watchMemory samples what the program holds of the machine's memory.
func watchMemory() (peak *uint64, stop func()) {
	peak = new(uint64)
	sample := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	done, ended := make(chan bool), make(chan bool)
	go func() {
		defer close(ended)
		for {
			metrics.Read(sample)
			*peak = max(*peak, sample[0].Value.Uint64()-sample[1].Value.Uint64())
			select {
			case <-done:
				return
			case <-time.After(20 * time.Millisecond):
			}
		}
	}()
	return peak, func() { close(done); <-ended }
}

// times is the cost of so many times as much.
func (c cost) times(n float64) cost {
	return cost{time.Duration(n * float64(c.clock)), time.Duration(n * float64(c.processor))}
}

// Of more workbooks than this, one in so many is written again, evenly picked
// and so often that as many are written as there are: what is done for minutes
// runs slower than in short spells. Reading them takes longer than writing.
const sampled = 192

// evenly picks at most n, as far apart as can be.
func evenly(paths []string, n int) (out []string) {
	step := (len(paths) + n - 1) / n
	for i := 0; i < len(paths); i += step {
		out = append(out, paths[i])
	}
	return out
}

// rewrite writes the cells and pictures of every takeoff below a folder once
// more, on all cores, and returns how long that takes, how long the standard
// library takes to encode the pictures at its fastest, and how many cells it
// is. Reading them does not count, nor does drawing.
func rewrite(b *testing.B, dir string) (took, encoding cost, cells int) {
	var paths []string
	err := filepath.Walk(dir, func(path string, info os.FileInfo, err error) error {
		if err == nil && strings.HasSuffix(path, ".takeoff.xlsx") {
			paths = append(paths, path)
		}
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	to := b.TempDir()
	if len(paths) == 1 {
		return rewriteInParts(b, paths[0], filepath.Join(to, "1.xlsx"))
	}
	all := float64(len(paths))
	paths = evenly(paths, sampled)
	part := all / float64(len(paths))
	again := max(1, int(part+0.5))
	const together = 64 // workbooks held at a time
	for len(paths) > 0 {
		n := min(together, len(paths))
		books := make([]copied, n)
		for i, path := range paths[:n] {
			books[i] = load(b, path)
			for _, s := range books[i].sheets {
				for _, r := range s.rows {
					cells += len(r.cells)
				}
			}
		}
		paths = paths[n:]
		took = took.plus(timed(func() {
			var group errgroup.Group
			group.SetLimit(runtime.GOMAXPROCS(0))
			for i := range again * n {
				group.Go(func() error { return books[i%n].save(filepath.Join(to, fmt.Sprintf("%d.xlsx", i))) })
			}
			if err := group.Wait(); err != nil {
				b.Fatal(err)
			}
		}))
		for i := range books {
			var images []image.Image
			for _, s := range books[i].sheets {
				images = append(images, s.images(b)...)
			}
			encoding = encoding.plus(timed(func() { encode(b, images) }))
		}
	}
	return took.times(part / float64(again)), encoding.times(part), int(part * float64(cells))
}

// images decodes the pictures of a sheet, as they are encoded the fastest.
func (s copiedSheet) images(b *testing.B) (out []image.Image) {
	for _, data := range s.pictures {
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			b.Fatal(err)
		}
		out = append(out, widened(img))
	}
	return out
}

// widened gives a picture's palette more greys than it uses: the library packs
// palettes of up to sixteen colours pixel by pixel, in more than twice the
// time it takes to write a byte for each.
func widened(img image.Image) image.Image {
	if p, ok := img.(*image.Paletted); ok {
		for len(p.Palette) < 256 {
			p.Palette = append(p.Palette, color.Gray{})
		}
	}
	return img
}

// keeping keeps an encoder's memory from one picture to the next.
type keeping struct{ b *png.EncoderBuffer }

func (k *keeping) Get() *png.EncoderBuffer  { return k.b }
func (k *keeping) Put(b *png.EncoderBuffer) { k.b = b }

func encode(b *testing.B, images []image.Image) {
	e := png.Encoder{CompressionLevel: png.BestSpeed, BufferPool: &keeping{}}
	for _, img := range images {
		if err := e.Encode(io.Discard, img); err != nil {
			b.Fatal(err)
		}
	}
}

// storing is a zip writer that packs with used compressors at the fastest
// level and leaves pictures as they are.
type storing struct{ *zip.Writer }

var used = sync.Pool{New: func() any {
	w, _ := flate.NewWriter(io.Discard, flate.BestSpeed)
	return w
}}

type returned struct{ *flate.Writer }

func (r returned) Close() error {
	err := r.Writer.Close()
	used.Put(r.Writer)
	return err
}

func newStoring(w io.Writer) storing {
	z := zip.NewWriter(w)
	z.RegisterCompressor(zip.Deflate, func(out io.Writer) (io.WriteCloser, error) {
		w := used.Get().(*flate.Writer)
		w.Reset(out)
		return returned{w}, nil
	})
	return storing{z}
}

func (s storing) Create(name string) (io.Writer, error) {
	if strings.HasSuffix(name, ".png") {
		return s.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
	}
	return s.Writer.Create(name)
}
