package report

import "testing"

// TestNumberedShapes takes the openings of drawings as three spreadsheet
// programs write them.
func TestNumberedShapes(t *testing.T) {
	for _, tt := range []struct{ name, in, want string }{
		{"numbered", `<v:shapetype id="_x0000_t202"/><v:shape id="_x0000_s1025" type="#t">`, `<v:shapetype id="_x0000_t202"/><v:shape id="_x0000_s1025" type="#t">`},
		{"named", `<v:shape id="shape_0" type="#t"><v:shape type="#t" id="shape_1">`, `<v:shape id="_x0000_s1025" type="#t"><v:shape id="_x0000_s1026" type="#t">`},
		{"without", "<v:shape\n type=\"#t\">", "<v:shape id=\"_x0000_s1025\"\n type=\"#t\">"},
		{"mixed", `<v:shape id="_x0000_s3000"><v:shape id="x">`, `<v:shape id="_x0000_s3000"><v:shape id="_x0000_s3001">`},
		{"a control", `<v:shape id="Button 1" o:spid="_x0000_s1026">`, `<v:shape id="_x0000_s1025" o:spid="_x0000_s1026">`},
	} {
		if got := string(numbered([]byte(tt.in))); got != tt.want {
			t.Errorf("%s: got %s, want %s", tt.name, got, tt.want)
		}
	}
}
