package survey

import (
	"testing"

	"lapwright/engine"
)

func TestNamesAreSpeltOneWay(t *testing.T) {
	s := read(t, workbook(t, sheets{
		"Job": {{"Item", "Value"}, {"Board", "lb-180-36-ch"}, {"Colour", "charcoal"}},
		"Walls": {{"Plot", "Wall", "Width mm", "Height mm", "Right edge", "Left edge", "Right meets", "Left meets", "Colour", "Level line"},
			{"Type A", "Front", 7200, 4890, "external corner", nil, "side ", nil, nil, "L1"},
			{"type a", "Side", 6000, 4890, nil, "external corner", nil, "FRONT", "CHALK", "l1"}},
		"Plots":   {{"Plot", "House type", "Colour"}, {"1", "TYPE A", "chalk"}},
		"Offcuts": {{"Code", "Colour", "Length mm"}, {"Lb-180-36-ch", "CHARCOAL", 1200}},
	}), Options{})
	for _, f := range s.Flags {
		t.Errorf("flagged: %+v", f)
	}
	j := s.Job
	got := []string{j.Board, j.Colour, j.Walls[0].Plot, j.Walls[1].Plot, j.Walls[0].RightMeets, j.Walls[1].LeftMeets, j.Walls[1].Colour, j.Walls[1].LevelLine,
		j.Plots[0].HouseType, j.Plots[0].Colour, j.Offcuts[0].Code, j.Offcuts[0].Colour}
	want := []string{"LB-180-36-CH", "Charcoal", "Type A", "Type A", "Side", "Front", "Chalk", "L1", "Type A", "Chalk", "LB-180-36-CH", "Charcoal"}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("name %d is spelt %q, want %q", i, got[i], want[i])
		}
	}
}

func TestRejectedRowsCanBeFedInAgain(t *testing.T) {
	s := read(t, workbook(t, sheets{"Rejected": {
		{"Sheet", "Row", "Reason", "Plot", "Wall", "Width mm", "Height mm", "Left edge", "Opening", "From left mm", "Sill mm"},
		{"Walls", "2", "left out", nil, "Front", "7200", "4890", "abutment"},
		{"Openings", "5", "E5: missing", nil, "Front", "1200", "1050", nil, "W1", "700", "900"},
	}}), Options{})
	if len(s.Job.Walls) != 1 || len(s.Job.Walls[0].Openings) != 1 || len(s.Rejected) != 0 {
		t.Fatalf("%d walls, rejected %+v, flags %+v", len(s.Job.Walls), s.Rejected, s.Flags)
	}
	w := s.Job.Walls[0]
	if w.Width.String() != "7200" || w.Openings[0].Left.String() != "700" || w.Openings[0].Origin.At("Sill mm").Cell != "K3" {
		t.Errorf("read as %+v", w)
	}
	accounted(t, s)
}

func TestOwnSheetsAndEdits(t *testing.T) {
	path := workbook(t, sheets{
		"Walls":         plainTwin()["Walls"],
		"Summary":       {{"Wall", "Width", "Height"}, {"not", 1, 2}},
		"Order summary": {{"Drop", "Role", "Code", "Spare %", "Pack", "Unit price"}, {nil, "board", "LB", 7.5, 2, 19}, {"D2", "tape", "TP", 5, 20, 0.7}, {"Total", nil, nil, nil, nil, 9}},
	}, signed("Summary|Order summary"))
	s := read(t, path, Options{})
	for _, f := range s.Flags {
		t.Errorf("flagged: %+v", f)
	}
	if got := s.Edits[EditKey{"", "board", "LB", ""}]; got.Now != (engine.Inputs{Spare: 7.5, Pack: 2, Price: 19}) || len(s.Edits) != 2 {
		t.Errorf("the edits are %v", s.Edits)
	}
	for _, rep := range s.Sheets {
		if rep.Name != "Walls" && rep.As != "" {
			t.Errorf("our own sheet %s was read as %s", rep.Name, rep.As)
		}
	}
}
