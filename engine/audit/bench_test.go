package audit

import (
	"fmt"
	"testing"

	"lapwright/engine/measure"
)

// typical is a wall of 20 courses and 60 pieces on 15 batten lines.
func typical(name string) Wall {
	w := Wall{Name: name, Pool: "job", Quantity: 1, Limits: limits(),
		Base: pts(0, 150, 7800, 150), Top: pts(0, 2890, 7800, 2890), Courses: rod(150, 20, 2890)}
	w.Voids = []Rect{{span(2500, 3500), span(690, 1770)}}
	for k := 1; k <= 20; k++ {
		a, b := 1800.0+600*float64(k%2), 4800.0+600*float64(k%2)
		switch {
		case 5 <= k && k <= 12:
			w.plank(k, 0, 2500)
			w.plank(k, 3500, b-1)
			w.plank(k, b+1, 7800)
			w.butt()
		case k == 4:
			w.plank(k, 0, a-1)
			w.put(k, pts(a+1, 555, b-1, 555, b-1, 730, 3500, 730, 3500, 690, 2500, 690, 2500, 730, a+1, 730)).Cutouts = []Rect{{span(2500, 3500), span(690, 730)}}
			w.butt()
			w.plank(k, b+1, 7800)
			w.butt()
		default:
			w.plank(k, 0, a-1)
			w.plank(k, a+1, b-1)
			w.butt()
			w.plank(k, b+1, 7800)
			w.butt()
		}
	}
	for x := 600.0; x < 7800; x += 600 {
		if x == 3000 {
			w.stand(x, 75, 150, 690, true)
			w.stand(x, 75, 1770, 2890, true)
			continue
		}
		w.stand(x, 75, 150, 2890, true)
	}
	w.stand(37.5, 75, 150, 2890, false)
	w.stand(7762.5, 75, 150, 2890, false)
	w.drive(25, func(course int, x, z measure.Length) bool { return course == 20 || (course == 4 && z < mm(690)) })
	return w
}

func BenchmarkCheck(b *testing.B) {
	for _, n := range []int{1, 100} {
		var walls []Wall
		for i := range n {
			walls = append(walls, typical(fmt.Sprintf("W%d", i)))
		}
		job := *whole(walls...)
		if f := Check(job); len(f) > 0 {
			b.Fatal(f[0])
		}
		b.Run(fmt.Sprintf("walls=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Check(job)
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "us/wall")
		})
	}
	job := *whole(gable())
	b.Run("gable", func(b *testing.B) {
		for b.Loop() {
			Check(job)
		}
	})
}
