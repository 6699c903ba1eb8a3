package audit

import "fmt"

// Fault is one rule that a takeoff breaks. Wall is blank for what concerns no
// single wall. Mark names the piece, batten, board, order line or total, or is
// blank for the wall as a whole. Rule is one of the package's rule codes; What
// says in words what was found and what was due.
type Fault struct {
	Wall, Mark, Rule, What string
}

// String returns the fault on one line.
func (f Fault) String() string {
	return fmt.Sprintf("%s %s: %s: %s", f.Wall, f.Mark, f.Rule, f.What)
}

// report collects faults. The sweep over a wall meets the same piece many
// times; once tells a rule and a piece apart once only.
type report struct {
	wall   string
	faults []Fault
	told   map[[2]string]bool
}

func (r *report) start(wall string) {
	r.wall = wall
	r.told = nil
}

func (r *report) add(mark, rule, format string, args ...any) {
	r.faults = append(r.faults, Fault{r.wall, mark, rule, fmt.Sprintf(format, args...)})
}

func (r *report) once(mark, rule, format string, args ...any) {
	key := [2]string{rule, mark}
	if r.told[key] {
		return
	}
	if r.told == nil {
		r.told = map[[2]string]bool{}
	}
	r.told[key] = true
	r.add(mark, rule, format, args...)
}
