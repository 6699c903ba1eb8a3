package survey

import (
	"context"
	"reflect"
	"strings"
	"testing"

	"lapwright/engine"
	"lapwright/engine/measure"
	"lapwright/templates"
)

func testReader(t testing.TB) *reader {
	t.Helper()
	r, err := newReader(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A spelling that two columns of a sheet share could not be told apart.
func TestNoSpellingMeansTwoFields(t *testing.T) {
	r := testReader(t)
	for _, s := range r.schemas {
		for _, fields := range [][]templates.Field{s.Header(), s.Fields} {
			owner := map[string]string{}
			for _, f := range fields {
				base, _, _ := r.splitUnit(f.Name)
				own := map[string]bool{}
				for _, n := range append([]string{f.Name, base, f.Title}, f.OtherNames...) {
					own[fold(n)] = true
				}
				for k := range own {
					if o := owner[k]; o != "" {
						t.Errorf("%s: %q means %s and %s", s.Name, k, o, f.Name)
					}
					owner[k] = f.Name
				}
			}
		}
	}
}

func TestNoWordMeansTwoWords(t *testing.T) {
	for _, s := range testReader(t).schemas {
		for _, f := range s.Fields {
			owner := map[string]string{}
			for _, word := range f.Constraints.Enum {
				seen := map[string]bool{}
				for _, n := range append([]string{word}, f.Words[word]...) {
					k := wordKey(n)
					if o := owner[k]; o != "" && !seen[k] {
						t.Errorf("%s, %s: %q means %s and %s", s.Name, f.Name, n, o, word)
					}
					owner[k], seen[k] = word, true
				}
			}
		}
	}
}

func TestEveryUnitIsKnown(t *testing.T) {
	r := testReader(t)
	for _, s := range r.schemas {
		for _, f := range s.Fields {
			if _, ok := r.unitOf(f.Unit); f.Unit != "" && !ok {
				t.Errorf("%s: %s has the unit %q, which is not known", s.Name, f.Name, f.Unit)
			}
		}
	}
}

// Every field of the engine's rules has a trade name, and the schema's default
// is the engine's.
func TestRulesAgreeWithTheEngine(t *testing.T) {
	r := testReader(t)
	got, zero := engine.DefaultRules(), engine.Rules{}
	for _, f := range r.schema("Rules").Fields {
		if ruleOf(&zero, f.Name) == nil {
			t.Errorf("the rule %s is kept nowhere", f.Name)
			continue
		}
		v, found := r.parse(textCell(f.Default), &f, unit{})
		if !v.set || len(found) > 0 {
			t.Errorf("the default %q of %s is not read: %v", f.Default, f.Name, found)
		}
		setRule(&zero, f.Name, v)
	}
	if !reflect.DeepEqual(zero, got) {
		t.Errorf("the schema's defaults give\n%+v\nthe engine's are\n%+v", zero, got)
	}
	covered := map[any]bool{}
	for _, f := range r.schema("Rules").Fields {
		covered[ruleOf(&got, f.Name)] = true
	}
	fields := reflect.ValueOf(&got).Elem()
	for i := range fields.NumField() {
		if !covered[fields.Field(i).Addr().Interface()] {
			t.Errorf("engine.Rules.%s has no name in the Rules sheet", fields.Type().Field(i).Name)
		}
	}
}

// Every item of the Job sheet reaches the job.
func TestEveryJobItemIsTaken(t *testing.T) {
	r := testReader(t)
	for _, f := range r.schema("Job").Fields {
		before := testReader(t)
		before.takeJob(f.Name, value{set: true, text: "x", length: 1, number: 1, list: []measure.Length{1}})
		if reflect.DeepEqual(before.job, testReader(t).job) && before.decimal == 0 {
			t.Errorf("the item %s changes nothing", f.Name)
		}
	}
}

// The roles of the catalogue are those the engine orders.
func TestRolesAreTheEngines(t *testing.T) {
	enum := testReader(t).schema("Products").Field("Role").Constraints.Enum
	for _, role := range engine.Roles() {
		if !strings.Contains("|"+strings.Join(enum, "|")+"|", "|"+role+"|") {
			t.Errorf("the engine's role %s is not in the schema", role)
		}
	}
	if len(enum) != len(engine.Roles()) {
		t.Errorf("%d roles in the schema, %d in the engine", len(enum), len(engine.Roles()))
	}
}
