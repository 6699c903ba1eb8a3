package report

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
)

// vmlPrefix are the prefixes that old-style drawings nearly always use for
// these namespaces. The library copies the inside of a shape as it stands and
// declares these alone.
var vmlPrefix = map[string]string{
	"urn:schemas-microsoft-com:vml":           "v",
	"urn:schemas-microsoft-com:office:office": "o",
	"urn:schemas-microsoft-com:office:excel":  "x",
	"urn:schemas-microsoft-com:office:word":   "w10",
}

// prefixed writes a drawing with those prefixes, whatever its own; one that has
// them already, or that cannot be read, comes back as it is.
func prefixed(part []byte) []byte {
	if bytes.Contains(part, []byte(`xmlns:v="urn:schemas-microsoft-com:vml"`)) {
		return part
	}
	in := xml.NewDecoder(bytes.NewReader(part))
	var out bytes.Buffer
	root := true
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return out.Bytes()
		}
		if err != nil {
			return part
		}
		switch t := token.(type) {
		case xml.StartElement:
			startTag(&out, t, root)
			root = false
		case xml.EndElement:
			fmt.Fprintf(&out, "</%s>", prefixedName(t.Name))
		case xml.CharData:
			_ = xml.EscapeText(&out, t) // writes to memory only
		}
	}
}

func startTag(out *bytes.Buffer, t xml.StartElement, root bool) {
	fmt.Fprintf(out, "<%s", prefixedName(t.Name))
	if root {
		for _, ns := range []string{"vml", "office:office", "office:excel", "office:word"} {
			ns = "urn:schemas-microsoft-com:" + ns
			fmt.Fprintf(out, ` xmlns:%s="%s"`, vmlPrefix[ns], ns)
		}
	}
	for _, a := range t.Attr {
		if a.Name.Space == "xmlns" || a.Name.Local == "xmlns" && a.Name.Space == "" {
			continue
		}
		fmt.Fprintf(out, ` %s="`, prefixedName(a.Name))
		_ = xml.EscapeText(out, []byte(a.Value))
		out.WriteByte('"')
	}
	out.WriteByte('>')
}

func prefixedName(n xml.Name) string {
	if p := vmlPrefix[n.Space]; p != "" {
		return p + ":" + n.Local
	}
	return n.Local
}
