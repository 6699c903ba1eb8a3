package audit

import "testing"

// TestRight checks that walls set out by hand are found right.
func TestRight(t *testing.T) {
	for _, c := range []struct {
		name string
		wall func() Wall
	}{
		{"window on course marks", plain},
		{"gable with rounded crossings", gable},
		{"stepped base", stepped},
		{"packers under a sill", packed},
		{"packers along a roof below", roofed},
		{"ridge of a roof below", cheek},
		{"hole in a board on a sloped base", vent},
	} {
		for _, f := range Check(*whole(c.wall())) {
			t.Errorf("%s: %v", c.name, f)
		}
	}
	for _, f := range Check(*whole(plain(), gable(), stepped(), vent(), cheek())) {
		t.Errorf("all in one job: %v", f)
	}
	if f := Check(Job{}); f != nil {
		t.Errorf("an empty job: %v", f)
	}
}
