package survey

import (
	"context"
	"fmt"
	"sync"

	"lapwright/convert/survey/book"
	"lapwright/engine"
	"lapwright/templates"
)

// vocabulary is what the schemas and the built-in catalogue say. It is the
// same for every survey, so it is worked out once, and nothing in it changes
// after: surveys that are read at the same time share it.
type vocabulary struct {
	schemas []*templates.Sheet
	index   map[string]map[string]headerName // sheet -> folded header -> field
	units   map[string]unit
	builtIn []engine.Product
}

var known = sync.OnceValues(newVocabulary)

func newVocabulary() (*vocabulary, error) {
	schemas, err := templates.Schemas()
	if err != nil {
		return nil, err
	}
	v := &vocabulary{schemas: schemas, units: unitNames(), index: map[string]map[string]headerName{}}
	for _, s := range schemas {
		v.index[s.Name] = v.names(s.Header())
		if s.Items() {
			v.index[s.Name+" items"] = v.names(s.Fields)
		}
	}
	v.builtIn, err = v.catalogue()
	return v, err
}

// reader returns a reader of one survey.
func (v *vocabulary) reader(ctx context.Context) *reader {
	return &reader{
		vocabulary: v, ctx: ctx, listed: [3][]engine.Product{levelBuiltIn: v.builtIn},
		job:   &engine.Job{Rules: engine.DefaultRules(), Origins: map[string]engine.Place{}},
		edits: map[EditKey]Edit{}, order: map[string]int{}, codes: map[[3]string]int{}, plots: map[string]int{},
	}
}

// catalogue reads the built-in catalogue as a sheet like any other.
func (v *vocabulary) catalogue() ([]engine.Product, error) {
	rows, err := templates.Catalogue()
	if err != nil {
		return nil, err
	}
	s := &book.Sheet{File: "built-in catalogue", Name: "Products"}
	for i, cells := range rows {
		row := book.Row{Number: i + 1}
		for j, text := range cells {
			if text != "" {
				row.Cells = append(row.Cells, book.Cell{Col: j + 1, Kind: book.Text, Text: text})
			}
		}
		s.Rows = append(s.Rows, row)
	}
	r := v.reader(context.Background())
	r.level = levelBuiltIn
	r.readRows(r.open(s, r.schema("Products"), "built in"), r.takeProduct)
	if len(r.flags) > 0 {
		f := r.flags[0]
		return nil, fmt.Errorf("built-in catalogue, cell %s: %s", f.Place.Cell, f.What)
	}
	for i := range r.listed[levelBuiltIn] {
		r.listed[levelBuiltIn][i].Origin = engine.Origin{} // no reader has the sheet
	}
	return r.listed[levelBuiltIn], nil
}

// headerName is a spelling of a header: which field it means, in which unit.
type headerName struct {
	field *templates.Field
	unit  unit
	own   bool // the contract's own spelling
}

// names lists every accepted spelling of the fields, folded. A spelling that
// two fields share would be a fault of the schema; the first keeps it.
func (v *vocabulary) names(fields []templates.Field) map[string]headerName {
	out := map[string]headerName{}
	add := func(name string, h headerName) {
		key := fold(name)
		if _, taken := out[key]; !taken && key != "" {
			out[key] = h
		}
	}
	for i := range fields {
		u, _ := v.unitOf(fields[i].Unit)
		add(fields[i].Name, headerName{&fields[i], u, true})
	}
	for i := range fields {
		f := &fields[i]
		base, _, _ := v.splitUnit(f.Name)
		for _, n := range append([]string{base, f.Title}, f.OtherNames...) {
			add(n, headerName{field: f})
		}
	}
	return out
}
