package batch

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/convert"
	"lapwright/engine"
	"lapwright/engine/natural"
)

// Split lists the parts of one survey of many dwellings as the items of a
// batch, whose takeoffs go to the folder out. A blank by is plot, or drop where
// the survey cuts by drop together: the smallest parts that are cut alone.
func Split(ctx context.Context, in, out string, by convert.SplitBy, o convert.Options) ([]Item, error) {
	s, err := convert.Read(ctx, in, o)
	if err != nil {
		return nil, err
	}
	if by == "" {
		by = convert.SplitPlot
		if s.Pool() == engine.PoolDrop {
			by = convert.SplitDrop
		}
	}
	parts, err := s.Split(by)
	if err != nil {
		return nil, err
	}
	items := make([]Item, len(parts))
	taken := map[string]bool{}
	for i, p := range parts {
		name := fileName(p.Name, taken) + suffix
		items[i] = Item{Name: name, In: in, Out: filepath.Join(out, name), part: &part{s, p, by}}
	}
	slices.SortFunc(items, func(a, b Item) int { return natural.Compare(a.Name, b.Name) })
	return items, nil
}

// PartsFolder is where the parts of a survey go if nothing else is said: beside it.
func PartsFolder(survey string) string {
	return strings.TrimSuffix(survey, filepath.Ext(survey)) + " takeoffs"
}

// nameMost is the most characters of a part's name in that of its file.
const nameMost = 80

// fileName makes a name that every system takes as that of a file, and no two
// alike.
func fileName(name string, taken map[string]bool) string {
	base := strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, name)
	if r := []rune(base); len(r) > nameMost {
		base = string(r[:nameMost])
	}
	base = strings.Trim(base, " .~")
	if base == "" || strings.HasPrefix(base, convert.Own) {
		base = strings.TrimSpace("part " + base)
	}
	got := base
	for n := 2; taken[strings.ToLower(got)]; n++ {
		got = fmt.Sprintf("%s (%d)", base, n)
	}
	taken[strings.ToLower(got)] = true
	return got
}
