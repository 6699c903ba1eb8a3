package exchange

import (
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"

	"lapwright/engine"
)

// The parts below are those of a UBL 2.1 Order (OASIS Standard, November 2013)
// that an order of materials has, in the order its schema wants them. cbc are
// its basic, cac its composed parts.

type document struct {
	XMLName xml.Name `xml:"Order"`
	Space   string   `xml:"xmlns,attr"`
	Cac     string   `xml:"xmlns:cac,attr"`
	Cbc     string   `xml:"xmlns:cbc,attr"`

	Version  string        `xml:"cbc:UBLVersionID"`
	ID       string        `xml:"cbc:ID"`
	Issued   string        `xml:"cbc:IssueDate"`
	Notes    []string      `xml:"cbc:Note"`
	Currency string        `xml:"cbc:DocumentCurrencyCode"`
	Lines    int           `xml:"cbc:LineCountNumeric"`
	Buyer    party         `xml:"cac:BuyerCustomerParty>cac:Party"`
	Seller   party         `xml:"cac:SellerSupplierParty>cac:Party"`
	Delivery *delivery     `xml:"cac:Delivery"`
	Total    total         `xml:"cac:AnticipatedMonetaryTotal"`
	Items    []orderedLine `xml:"cac:OrderLine"`
}

type party struct {
	Endpoint *identifier `xml:"cbc:EndpointID"`
	Name     *string     `xml:"cac:PartyName>cbc:Name"`
	Country  *string     `xml:"cac:PostalAddress>cac:Country>cbc:IdentificationCode"`
}

type identifier struct {
	Scheme string `xml:"schemeID,attr,omitempty"`
	Value  string `xml:",chardata"`
}

type delivery struct {
	ID   *string `xml:"cbc:ID"`
	Site *string `xml:"cac:DeliveryAddress>cac:AddressLine>cbc:Line"`
}

type amount struct {
	Currency string `xml:"currencyID,attr"`
	Value    string `xml:",chardata"`
}

type measured struct {
	Unit  string `xml:"unitCode,attr"`
	Value string `xml:",chardata"`
}

// total is of the lines that have a price, without tax.
type total struct {
	Lines   amount `xml:"cbc:LineExtensionAmount"`
	Payable amount `xml:"cbc:PayableAmount"`
}

type orderedLine struct {
	Item lineItem `xml:"cac:LineItem"`
}

type lineItem struct {
	ID       int       `xml:"cbc:ID"`
	Note     *string   `xml:"cbc:Note"`
	Quantity measured  `xml:"cbc:Quantity"`
	Amount   *amount   `xml:"cbc:LineExtensionAmount"`
	Delivery *delivery `xml:"cac:Delivery"`
	Price    *price    `xml:"cac:Price"`
	Item     item      `xml:"cac:Item"`
}

type price struct {
	Amount amount   `xml:"cbc:PriceAmount"`
	Base   measured `xml:"cbc:BaseQuantity"`
}

type item struct {
	Description string     `xml:"cbc:Description"`
	Pack        string     `xml:"cbc:PackSizeNumeric,omitempty"`
	Name        string     `xml:"cbc:Name"`
	Code        *string    `xml:"cac:SellersItemIdentification>cbc:ID"`
	Properties  []property `xml:"cac:AdditionalItemProperty"`
}

type property struct {
	Name  string `xml:"cbc:Name"`
	Value string `xml:"cbc:Value"`
}

// UBL writes an order as a UBL 2.1 Order. Quantities are whole packs in the
// unit of the price; amounts are those of the order summary, without tax, to
// as many places as they have. A line without a price has no amount.
func UBL(w io.Writer, o Order) error {
	const space = "urn:oasis:names:specification:ubl:schema:xsd:"
	d := document{
		Space: space + "Order-2", Cac: space + "CommonAggregateComponents-2", Cbc: space + "CommonBasicComponents-2",
		Version: "2.1", ID: clean(o.Parties.Number), Issued: o.Parties.IssueDate, Currency: o.Currency, Lines: len(o.Lines),
		Buyer:    newParty(o.Parties.Buyer, o.Parties.BuyerEndpoint, ""),
		Seller:   newParty(o.Parties.Seller, o.Parties.SellerEndpoint, o.Parties.SellerCountry),
		Delivery: newDelivery("", o.Site),
	}
	for _, n := range o.notes() {
		d.Notes = append(d.Notes, clean(n))
	}
	for i, l := range o.Lines {
		d.Items = append(d.Items, orderedLine{newLine(i+1, l, o.Currency)})
	}
	sum := engine.Amount(o.Lines)
	d.Total = total{money(sum, o.Currency), money(sum, o.Currency)}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	enc := xml.NewEncoder(w)
	enc.Indent("", "  ")
	if err := enc.Encode(d); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}

// newParty describes a party as far as it is known. An endpoint is written as
// scheme:identifier.
func newParty(name, endpoint, country string) party {
	p := party{Name: given(name), Country: given(country)}
	if endpoint != "" {
		scheme, id, ok := strings.Cut(endpoint, ":")
		if !ok {
			scheme, id = "", endpoint
		}
		p.Endpoint = &identifier{clean(scheme), clean(id)}
	}
	return p
}

func newDelivery(id, site string) *delivery {
	if id == "" && site == "" {
		return nil
	}
	return &delivery{given(id), given(site)}
}

func newLine(n int, l engine.OrderLine, currency string) lineItem {
	unit := UnitCode(l.Unit)
	out := lineItem{
		ID: n, Quantity: measured{unit, number(bought(l))}, Delivery: newDelivery(l.Drop, ""),
		Item: item{Description: clean(l.Description), Name: clean(nameOf(l)), Code: given(codeOf(l))},
	}
	if unit == "ZZ" {
		out.Note = given("Unit: " + l.Unit)
	}
	if l.Price != 0 {
		sum := money(l.Amount, currency)
		out.Amount = &sum
		out.Price = &price{money(l.Price, currency), measured{unit, "1"}}
	}
	if l.Pack != 1 {
		out.Item.Pack = number(l.Pack)
	}
	for _, p := range []property{{"Role", l.Role}, {"Colour", l.Colour}} {
		if p.Value != "" {
			out.Item.Properties = append(out.Item.Properties, property{p.Name, clean(p.Value)})
		}
	}
	return out
}

// codeOf leaves out a code that only stands for a product that is not there.
func codeOf(l engine.OrderLine) string {
	if strings.HasPrefix(l.Code, "?") {
		return ""
	}
	return l.Code
}

func nameOf(l engine.OrderLine) string {
	if l.Description == "" {
		return l.Role
	}
	return l.Description
}

// money has two places at least.
func money(v float64, currency string) amount {
	text := number(v)
	if two := strconv.FormatFloat(v, 'f', 2, 64); len(two) > len(text) {
		text = two
	}
	return amount{currency, text}
}

// number writes a number as XML Schema's decimal does, without an exponent;
// six places are more than any amount has.
func number(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
}

// given returns nil for a blank text, which leaves its element out.
func given(s string) *string {
	if s = clean(s); s == "" {
		return nil
	}
	return &s
}

// clean takes out what XML 1.0 cannot hold.
func clean(s string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case r < ' ' || r == 0xFFFE || r == 0xFFFF:
			return -1
		}
		return r
	}, s))
}
