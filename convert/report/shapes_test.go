package report

import (
	"strings"
	"testing"
)

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

// TestPrefixed takes a drawing whose prefixes are declared where they are used.
func TestPrefixed(t *testing.T) {
	in := `<xml><n0:shapelayout xmlns:n0="urn:schemas-microsoft-com:office:office" xmlns:n1="urn:schemas-microsoft-com:vml" n1:ext="edit"/>` +
		`<n0:shape xmlns:n0="urn:schemas-microsoft-com:vml" id="a &amp; b"><div>x &lt; y</div></n0:shape></xml>`
	want := `<xml xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" xmlns:x="urn:schemas-microsoft-com:office:excel" xmlns:w10="urn:schemas-microsoft-com:office:word">` +
		`<o:shapelayout v:ext="edit"></o:shapelayout><v:shape id="a &amp; b"><div>x &lt; y</div></v:shape></xml>`
	got := string(prefixed([]byte(in)))
	if got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if again := string(prefixed([]byte(want))); again != want {
		t.Errorf("what has the prefixes became %s", again)
	}
	if broken := string(prefixed([]byte("<xml><br></xml>"))); broken != "<xml><br></xml>" {
		t.Errorf("what cannot be read became %s", broken)
	}
}

// TestMacrosLeftOut: a workbook with macros comes back as a plain one that says
// so, since programs refuse a file whose name and contents disagree.
func TestMacrosLeftOut(t *testing.T) {
	f := opened(t, surveyBook(t))
	if err := f.AddVBAProject(append([]byte{0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1}, make([]byte, 600)...)); err != nil {
		t.Fatal(err)
	}
	f.Path = "survey.xlsm"
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	in := fullInput(t)
	in.Survey = renamed(t, buf.Bytes(), plainWorkbook, "application/vnd.ms-excel.sheet.macroEnabled.main+xml")
	if !strings.Contains(parts(t, in.Survey)["[Content_Types].xml"], "macroEnabled") || parts(t, in.Survey)["xl/vbaProject.bin"] == "" {
		t.Fatal("the survey has no macros")
	}
	data := written(t, in)
	for name, text := range parts(t, data) {
		if strings.Contains(name, "vbaProject") || strings.HasSuffix(name, ".rels") && strings.Contains(text, "vbaProject") || strings.Contains(text, "macroEnabled.main+xml") {
			t.Errorf("%s still speaks of macros", name)
		}
	}
	if got := valueBeside(t, opened(t, data), "Macros"); got != "left out" {
		t.Errorf("the Summary says %q of the macros", got)
	}
}
