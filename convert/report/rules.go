package report

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"unicode"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// changedRule is a rule that is not at its default.
type changedRule struct{ name, value, usual string }

// changedRules compares rules with the defaults, in their order.
func changedRules(r engine.Rules) []changedRule {
	var out []changedRule
	is, was := reflect.ValueOf(r), reflect.ValueOf(engine.DefaultRules())
	for i := range is.NumField() {
		now, usual := ruleText(is.Field(i)), ruleText(was.Field(i))
		if now != usual {
			out = append(out, changedRule{sentence(is.Type().Field(i).Name), now, usual})
		}
	}
	return out
}

func ruleText(v reflect.Value) string {
	switch x := v.Interface().(type) {
	case measure.Length:
		return x.String() + " mm"
	case []measure.Length:
		parts := make([]string, len(x))
		for i, l := range x {
			parts[i] = l.String()
		}
		return strings.Join(parts, "; ") + " mm"
	case float64:
		return strconv.FormatFloat(x, 'f', -1, 64)
	default:
		return fmt.Sprint(x)
	}
}

// sentence writes a field's name as the survey's Rules sheet does: LapLeast as
// Lap least.
func sentence(field string) string {
	var out strings.Builder
	for i, r := range field {
		if i > 0 && unicode.IsUpper(r) {
			out.WriteByte(' ')
			r = unicode.ToLower(r)
		}
		out.WriteRune(r)
	}
	return out.String()
}
