package report

import (
	"encoding/json"
	"slices"
	"strings"

	"lapwright/engine"
	"lapwright/engine/natural"
)

// HeldName is the hidden name in which every workbook with an order keeps what it
// counts.
const HeldName = ours + "held"

// Held says which dwellings of which survey an order counts, so that orders that
// are merged count none of them twice.
type Held struct {
	Survey string   `json:"survey"` // the name of its file
	Digest string   `json:"digest"` // SHA-256 of the survey as it first came, not of a takeoff that was fed in for it
	Plots  []string `json:"plots"`  // in order, each with its house type; "": a survey of one dwelling
}

// HeldIn lists the dwellings of which a result counts walls.
func HeldIn(res *engine.Result, survey, digest string) Held {
	built := map[string]bool{}
	for i := range res.Walls {
		built[res.Walls[i].Plot] = true
	}
	h := Held{Survey: survey, Digest: digest, Plots: []string{}}
	for _, p := range res.Job.Plots {
		if built[p.HouseType] {
			h.Plots = append(h.Plots, strings.TrimSuffix(p.Name+" ("+p.HouseType+")", " ()"))
		}
	}
	if len(res.Job.Plots) == 0 {
		for plot := range built {
			h.Plots = append(h.Plots, plot)
		}
	}
	slices.SortFunc(h.Plots, natural.Compare)
	h.Plots = slices.Compact(h.Plots)
	return h
}

// keepHeld writes what is counted into hidden names.
func (b *book) keepHeld(held []Held) error {
	text, err := json.Marshal(held)
	if err != nil {
		return err
	}
	return b.sign(HeldName, string(text))
}

// ReadHeld reads what an order counts from the text that it keeps; nil where that
// says nothing.
func ReadHeld(text string) []Held {
	var out []Held
	if json.Unmarshal([]byte(text), &out) != nil {
		return nil
	}
	return out
}
