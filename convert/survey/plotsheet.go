package survey

import (
	"regexp"

	"lapwright/engine"
)

// plotSheet matches the name of a sheet that begins with its plot, as "Plot 7
// walls" or "Unit 3".
var plotSheet = regexp.MustCompile(`(?i)^(?:plot|unit|dwelling|block|house)[ .:#-]+(\S+)`)

// plotOfSheet takes the plot from a sheet's name where several sheets hold
// tables of one kind and this one has no column for it: a sheet for each plot.
func (r *reader) plotOfSheet(t *table) {
	m := plotSheet.FindStringSubmatch(tidy(t.sheet.Name))
	if m == nil || !t.needed() || t.find("Plot") != nil {
		return
	}
	for _, other := range r.tables {
		if other.sheet.Name != t.sheet.Name && other.schema.Name == t.schema.Name {
			t.heading = m[1]
			r.untidy = true
			r.flag(t.sheet, t.header, t.key, engine.Flag{Severity: note, Code: "plot-heading",
				What: "The rows of this sheet were read as of the plot " + quote(t.heading) + ", after the sheet's name", Do: "Nothing, if that is right; a Plot column leaves no doubt"})
			return
		}
	}
}
