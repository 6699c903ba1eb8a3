package cutting

// FirstFitDecreasing cuts the longest pieces first, each from the first open
// bar that takes it. It is a baseline: quick, valid, not often optimal (at most
// 11/9 of the optimum and 6/9 of a bar: G. Dosa, ESCAPE 2007, for one stock).
// Bound is the best bound known without search. Errors are those of Solve; a
// limited stock may end in ErrShortStock though a plan exists.
func FirstFitDecreasing(p Problem) (Plan, error) {
	return baseline(p, (*fitter).firstFit)
}

// BestFitDecreasing cuts the longest pieces first, each from the fullest open
// bar that takes it. See FirstFitDecreasing.
func BestFitDecreasing(p Problem) (Plan, error) {
	return baseline(p, (*fitter).bestFit)
}

func baseline(p Problem, fit func(*fitter, []int64)) (Plan, error) {
	if err := p.validate(); err != nil {
		return Plan{}, err
	}
	in := newInstance(p)
	if len(in.w) == 0 {
		return Plan{Proven: true}, nil
	}
	f := newFitter(in)
	fit(f, in.d)
	s := &search{in: in, fit: f, meter: &meter{}, cost: -1}
	s.bound = s.quickBound()
	s.fromFitter(nil)
	return s.plan(p)
}
