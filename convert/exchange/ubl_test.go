package exchange

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"lapwright/engine"
)

// schemaOf unpacks the published schema of a UBL 2.1 Order.
func schemaOf(t *testing.T) string {
	t.Helper()
	z, err := zip.OpenReader(filepath.Join("..", "..", "testdata", "ubl-2.1", "schema.zip"))
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	dir := t.TempDir()
	for _, f := range z.File {
		in, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(in)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(dir, "maindoc", "UBL-Order-2.1.xsd")
}

func ordered() Order {
	return Order{
		Parties: engine.OrderParties{Number: "O-1", IssueDate: "2026-03-31", Buyer: "An invented buyer", Seller: "<An & invented seller>", SellerCountry: "GB",
			BuyerEndpoint: "0088:7300010000001", SellerEndpoint: "seller@example.org"},
		Site: "1 Invented Lane", Currency: "EUR",
		Lines: []engine.OrderLine{
			{Drop: "D1", Role: "board", Code: "LB", Description: "Lap board", Colour: "Charcoal", Unit: "piece", Net: 100, Order: 110, Pack: 4, Packs: 28, Price: 9.5, Amount: 1064},
			{Role: "tape", Code: "TP", Description: "Tape\x07 by the metre", Unit: "m", Order: 210, Pack: 20, Packs: 11, Price: 0.9, Amount: 198},
			{Role: "paint", Unit: "tub", Order: 3, Pack: 1, Packs: 3},
		},
	}
}

func written(t *testing.T, o Order) string {
	t.Helper()
	var out bytes.Buffer
	if err := UBL(&out, o); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// TestUBLHoldsToItsSchema validates orders against the schema that OASIS
// publishes, with all that an order may have and with next to nothing; and
// shows that the schema would not take anything else.
func TestUBLHoldsToItsSchema(t *testing.T) {
	lint, err := exec.LookPath("xmllint")
	if err != nil {
		t.Skip("xmllint is not installed")
	}
	schema := schemaOf(t)
	bare := Order{Parties: engine.OrderParties{Number: "1", IssueDate: "2026-01-01"}, Currency: "GBP", Lines: ordered().Lines[2:]}
	undated := ordered()
	undated.Parties.IssueDate = "31 March"
	for _, tt := range []struct {
		name  string
		text  string
		valid bool
	}{
		{"full", written(t, ordered()), true},
		{"bare", written(t, bare), true},
		{"no such date", written(t, undated), false},
		{"no number", strings.Replace(written(t, ordered()), "<cbc:ID>O-1</cbc:ID>", "", 1), false},
	} {
		cmd := exec.Command(lint, "--nonet", "--noout", "--schema", schema, "-")
		cmd.Stdin = strings.NewReader(tt.text)
		said, err := cmd.CombinedOutput()
		if (err == nil) != tt.valid {
			t.Errorf("%s: valid is %v, want %v:\n%s", tt.name, err == nil, tt.valid, said)
		}
	}
}

// TestUBLSays reads an order back and holds what stands where.
func TestUBLSays(t *testing.T) {
	var got struct {
		Notes []string `xml:"Note"`
		Buyer struct {
			Endpoint struct {
				Scheme string `xml:"schemeID,attr"`
				Value  string `xml:",chardata"`
			} `xml:"EndpointID"`
		} `xml:"BuyerCustomerParty>Party"`
		Seller  string   `xml:"SellerSupplierParty>Party>PartyName>Name"`
		Site    string   `xml:"Delivery>DeliveryAddress>AddressLine>Line"`
		Payable string   `xml:"AnticipatedMonetaryTotal>PayableAmount"`
		Drop    string   `xml:"OrderLine>LineItem>Delivery>ID"`
		Amounts []string `xml:"OrderLine>LineItem>LineExtensionAmount"`
		Much    []struct {
			Unit  string `xml:"unitCode,attr"`
			Value string `xml:",chardata"`
		} `xml:"OrderLine>LineItem>Quantity"`
	}
	if err := xml.Unmarshal([]byte(written(t, ordered())), &got); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ what, got, want string }{
		{"notes", strings.Join(got.Notes, "|"), "1 line is without a price."},
		{"buyer's scheme", got.Buyer.Endpoint.Scheme, "0088"},
		{"buyer's endpoint", got.Buyer.Endpoint.Value, "7300010000001"},
		{"seller", got.Seller, "<An & invented seller>"},
		{"site", got.Site, "1 Invented Lane"},
		{"total", got.Payable, "1262.00"},
		{"drop", got.Drop, "D1"},
		{"amounts, of lines with a price", strings.Join(got.Amounts, " "), "1064.00 198.00"},
	} {
		if tt.got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.what, tt.got, tt.want)
		}
	}
	// 28 packs of 4 pieces, 11 rolls of 20 m, 3 of a unit of their own
	want := []string{"C62 112", "MTR 220", "ZZ 3"}
	for i, m := range got.Much {
		if is := m.Unit + " " + m.Value; i >= len(want) || is != want[i] {
			t.Errorf("line %d: got %s, want %v", i+1, is, want)
		}
	}
	plain := ordered()
	plain.Parties.SellerEndpoint, plain.Undated = "", true
	if text := written(t, plain); !strings.Contains(text, "Plain UBL 2.1: no electronic address is given of the seller.") || !strings.Contains(text, "that of the survey") {
		t.Errorf("a plain order does not say so:\n%s", text)
	}
}

// TestUnitCodes: codes by UN/ECE Recommendation 20.
func TestUnitCodes(t *testing.T) {
	for unit, want := range map[string]string{
		"m": "MTR", "m2": "MTK", "l": "LTR", "ml": "MLT", "piece": "C62", "each": "EA", "kg": "KGM", "Metres": "MTR", "": "C62", "tub": "ZZ",
	} {
		if got := UnitCode(unit); got != want {
			t.Errorf("%s: got %s, want %s", unit, got, want)
		}
	}
}

// TestCSV: texts that would be formulas are made inert, numbers are not, and a
// short row is filled up.
func TestCSV(t *testing.T) {
	var out bytes.Buffer
	err := CSV(&out, []string{"Wall", "From left mm", "Note"}, [][]any{{"=1+1", -38.5, "a, \"b\""}, {"@x", 3}, {"-2", nil, "+4"}, {"1-2", 0.3, ""}})
	want := "Wall,From left mm,Note\n'=1+1,-38.5,\"a, \"\"b\"\"\"\n'@x,3,\n'-2,,'+4\n1-2,0.3,\n"
	if err != nil || out.String() != want {
		t.Errorf("got %v\n%s\nwant\n%s", err, out.String(), want)
	}
}
