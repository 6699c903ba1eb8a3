package batch

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/convert"
	"lapwright/convert/report"
)

// Write writes the report of a batch, or of one shard, into a folder: as JSON
// and as a workbook with the merged order. Options is that of its record.
func Write(ctx context.Context, folder, version, options string, s Shard, entries []Entry) (book convert.Saved, err error) {
	r := Report{Version: version, Shard: s.String(), Options: options, Entries: relative(entries, folder)}
	slices.SortStableFunc(r.Entries, byName)
	stem := filepath.Join(folder, reportName(s))
	if _, err := convert.Save(stem+".json", r.writeJSON); err != nil {
		return book, err
	}
	b, err := orderBook(sourcesOf(r.Entries))
	if err != nil { // two currencies: the list still says what was done
		b = report.OrderBook{Lacks: []string{err.Error()}}
	}
	b.Version = version
	for _, e := range r.Entries {
		b.List = append(b.List, e.row())
		if e.Result == Failed || e.Result == Refused || e.Result == Undone {
			b.Lacks = append(b.Lacks, e.File+": "+e.Result)
		}
	}
	return convert.SaveOrder(stem+".xlsx", func(w io.Writer) error { return report.WriteOrder(ctx, w, b) })
}

func (e Entry) row() report.BatchRow {
	codes := make([]string, len(e.Codes))
	for i, c := range e.Codes {
		codes[i] = fmt.Sprintf("%s %d", c.Code, c.N)
	}
	return report.BatchRow{
		File: e.File, Takeoff: e.Takeoff, Result: e.Result, Walls: e.Walls, Built: e.Built, Left: e.Left, NetArea: e.NetArea,
		Boards: e.Boards, Bound: e.Bound, Waste: e.Waste, Amount: e.Amount, Currency: e.Currency, Stops: e.Stops, Checks: e.Checks,
		Notes: e.Notes, Codes: strings.Join(codes, ", "), Effort: string(e.Effort), Digest: e.Digest, Wrong: e.wrong(),
		Kept: e.kept(),
	}
}

// kept says which file the takeoff went beside, and why.
func (e Entry) kept() string {
	if e.Kept == "" {
		return ""
	}
	return e.Kept + ": " + e.Why
}

// wrong says why a survey failed, what was left out of its takeoff, and out of its
// amount.
func (e Entry) wrong() string {
	said := strings.TrimSpace(e.Error + " " + e.Stopping)
	if e.Unpriced > 0 {
		said = strings.TrimPrefix(said+"; "+convert.Count(e.Unpriced, "line")+" without a price", "; ")
	}
	return said
}

// Merge puts the reports of all shards of a batch together and writes the
// report that the batch would have had in one run. It wants every shard once,
// of one version, made with the same options.
func Merge(ctx context.Context, reports []string, folder string) (book convert.Saved, entries []Entry, err error) {
	var all []Report
	for _, path := range reports {
		r, err := readReport(path)
		if err != nil {
			return book, nil, err
		}
		all = append(all, r)
	}
	if err := complete(reports, all); err != nil {
		return book, nil, err
	}
	for i, r := range all {
		from := filepath.Dir(reports[i])
		for _, e := range r.Entries {
			entries = append(entries, e.from(from))
		}
	}
	slices.SortStableFunc(entries, byName)
	book, err = Write(ctx, folder, all[0].Version, all[0].Options, Shard{}, entries)
	return book, entries, err
}

// complete wants the reports to be the shards 1/n to n/n of one version
// and the same options.
func complete(paths []string, all []Report) error {
	refuse := func(path, what string) error {
		return &convert.Error{Kind: convert.Unusable, Path: path, What: what, Do: "Name the reports of all shards of one batch, each once"}
	}
	if len(all) == 0 {
		return refuse("the list of reports", "is empty")
	}
	seen := map[int]string{}
	n := 0
	for i, r := range all {
		var s Shard
		if _, err := fmt.Sscanf(r.Shard, "%d/%d", &s.I, &s.N); err != nil {
			return refuse(paths[i], "is the report of no shard")
		}
		switch before := seen[s.I]; {
		case before != "":
			return refuse(paths[i], "is shard "+r.Shard+", and so is "+before)
		case n != 0 && s.N != n:
			return refuse(paths[i], fmt.Sprintf("is one of %d shards, the others of %d", s.N, n))
		case r.Version != all[0].Version:
			return refuse(paths[i], "was made by version "+r.Version+", the others by "+all[0].Version)
		case r.Options != all[0].Options:
			return refuse(paths[i], "was made with other options than "+paths[0])
		}
		seen[s.I], n = paths[i], s.N
	}
	for i := 1; i <= n; i++ {
		if seen[i] == "" {
			return refuse("the list of reports", fmt.Sprintf("lacks shard %d/%d", i, n))
		}
	}
	return nil
}
