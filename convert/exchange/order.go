// Package exchange writes what a takeoff came to in the forms that other
// programs take in: the order as UBL, the whole result as JSON, any table as
// CSV. It writes; it decides nothing and reads no file.
package exchange

import (
	"cmp"
	"fmt"
	"strings"

	"lapwright/engine"
)

// Order is an order as a document: who buys what from whom, for which site.
type Order struct {
	Parties  engine.OrderParties
	Site     string // where it is delivered
	Currency string // ISO 4217
	Lines    []engine.OrderLine
	Lacks    string // what the order leaves out, in words; blank: nothing
	Undated  bool   // its date is that of the survey
}

// OrderOf returns the order of a result. An order without a number of its own
// takes other, one without a date that of the survey.
func OrderOf(res *engine.Result, other, lacks string) Order {
	o := Order{Parties: res.Job.Order, Site: res.Job.Site, Currency: cmp.Or(res.Job.Currency, "GBP"), Lines: res.Order, Lacks: lacks}
	o.Parties.Number = cmp.Or(o.Parties.Number, other)
	if o.Parties.IssueDate == "" {
		o.Parties.IssueDate, o.Undated = res.Job.SurveyDate, true
	}
	return o
}

// Plain reports whether a party has no electronic address, so that the
// document is plain UBL and no network will carry it by itself.
func (o Order) Plain() bool { return o.Parties.BuyerEndpoint == "" || o.Parties.SellerEndpoint == "" }

// bought is how much of a line is bought: whole packs, in the line's unit.
func bought(l engine.OrderLine) float64 { return l.Packs * l.Pack }

// Unpriced counts the lines without a price.
func Unpriced(lines []engine.OrderLine) int {
	n := 0
	for _, l := range lines {
		if l.Price == 0 {
			n++
		}
	}
	return n
}

// UnitCode returns the code of a unit by UN/ECE Recommendation 20; ZZ, by which
// it means a unit that buyer and seller know, for any other.
func UnitCode(unit string) string {
	switch strings.ToLower(strings.TrimSpace(unit)) {
	case "m", "metre", "metres", "meter", "meters", "lm":
		return "MTR"
	case "mm":
		return "MMT"
	case "m2", "m²", "sqm":
		return "MTK"
	case "l", "litre", "litres", "liter", "liters":
		return "LTR"
	case "ml":
		return "MLT"
	case "kg":
		return "KGM"
	case "each", "ea":
		return "EA"
	case "piece", "pieces", "pc", "pcs", "no", "no.", "nr", "length", "board", "":
		return "C62" // one
	}
	return "ZZ"
}

// notes says what a reader of the document must know.
func (o Order) notes() []string {
	var out []string
	if o.Lacks != "" {
		out = append(out, o.Lacks)
	}
	switch n := Unpriced(o.Lines); {
	case n == 1:
		out = append(out, "1 line is without a price.")
	case n > 1:
		out = append(out, fmt.Sprintf("%d lines are without a price.", n))
	}
	if o.Undated {
		out = append(out, "No date of issue is given: the date is that of the survey.")
	}
	if o.Plain() {
		out = append(out, "Plain UBL 2.1: no electronic address is given of "+o.withoutAddress()+".")
	}
	return out
}

func (o Order) withoutAddress() string {
	switch {
	case o.Parties.BuyerEndpoint == "" && o.Parties.SellerEndpoint == "":
		return "buyer and seller"
	case o.Parties.BuyerEndpoint == "":
		return "the buyer"
	}
	return "the seller"
}
