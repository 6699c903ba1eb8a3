package report

import (
	"fmt"
	"strings"

	"lapwright/engine"
)

// cautions says what the reader must know before work begins. Sources: HSE
// EH40/2005 for the silica limit; Control of Asbestos Regulations 2012;
// Approved Document B for cavity barriers.
func (s *summary) cautions() {
	s.begin("Cautions")
	for _, c := range [][2]string{
		{"Silica dust", "Sawing makes respirable crystalline silica: workplace exposure limit 0.1 mg/m3 over 8 h (EH40/2005). Saw outdoors or with extraction, in a mask that has been fit tested."},
		{"Asbestos", "Anything older than 2000 wants an asbestos survey before it is refurbished (Control of Asbestos Regulations 2012)."},
		{"Work at height", "Plan it, work from a proper scaffold or platform, and keep boards and offcuts from falling."},
		{"Carrying boards", carrying(s.b.res.Board)},
		{"Fire", "A vent strip is no cavity barrier. Barriers at edges, openings, compartment floors and walls are designed by others (Approved Document B)."},
		{"Licensed practice", "Structural adequacy, fire and local codes belong to a competent, licensed designer; loads and resistances here are a first look for that designer."},
	} {
		s.add(c[0], cell{}, "", c[1])
	}
}

// carrying says how a board is carried and what one weighs.
func carrying(p engine.Product) string {
	out := "Two people carry a long board, on edge."
	if kg := boardWeight(p); kg > 0 {
		out += fmt.Sprintf(" One board of %v mm weighs about %.1f kg.", p.Length, kg)
	}
	return out
}

// boardWeight returns the weight of one board; the catalogue gives it for one
// unit, which may be a metre.
func boardWeight(p engine.Product) float64 {
	if strings.EqualFold(p.Unit, "m") {
		return p.Weight * p.Length.Metres()
	}
	return p.Weight
}
