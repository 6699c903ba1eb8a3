package book

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/xml"
	"io"
	"path"
	"strings"
)

// parts are the unpacked parts of a workbook, by their path without a leading
// slash.
type parts map[string][]byte

// unpack reads every part to its end, which compares its checksum, and every
// XML part to its last tag.
func unpack(ctx context.Context, data []byte) (parts, error) {
	zr, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, damaged("the end of the file is missing; it may be cut short")
	}
	if err := foreign(zr); err != nil {
		return nil, err
	}
	if len(zr.File) > 20000 {
		return nil, damaged("it has too many parts")
	}
	out, left := parts{}, int64(mostUnpack)
	for _, f := range zr.File {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		text, err := readPart(f, left)
		if err != nil {
			return nil, err
		}
		left -= int64(len(text))
		name := strings.TrimPrefix(path.Clean(strings.ReplaceAll(f.Name, `\`, "/")), "/")
		if _, twice := out[name]; twice {
			return nil, damaged("it has two parts named " + name)
		}
		out[name] = text
	}
	return out, nil
}

func readPart(f *zip.File, left int64) ([]byte, error) {
	if f.Flags&1 != 0 {
		return nil, refuse("is protected with a password", "Take the password off, save it and use that")
	}
	r, err := f.Open()
	if err != nil {
		return nil, damaged(f.Name + " cannot be unpacked")
	}
	defer r.Close()
	text, err := io.ReadAll(io.LimitReader(r, left+1))
	if err != nil {
		return nil, damaged(f.Name + " cannot be unpacked")
	}
	if int64(len(text)) > left {
		return nil, refuse("unfolds to more than 1 GB", "It is no ordinary workbook; copy the survey's sheets into a new one")
	}
	return text, nil
}

// foreign recognises other programs' files that share the container.
func foreign(zr *zip.Reader) error {
	names := map[string]*zip.File{}
	for _, f := range zr.File {
		names[f.Name] = f
	}
	save := "Open it in the program it comes from and save it as an Excel workbook (.xlsx)"
	if m := names["mimetype"]; m != nil {
		if text, err := readPart(m, 1024); err == nil && strings.Contains(string(text), "opendocument") {
			return refuse("is an OpenDocument file (.ods)", save)
		}
	}
	switch {
	case names["Index/Document.iwa"] != nil || names["Index.zip"] != nil:
		return refuse("is a workbook of another program", save)
	case names["xl/workbook.bin"] != nil:
		return refuse("is a binary workbook (.xlsb)", save)
	case names["word/document.xml"] != nil:
		return refuse("is a text document, not a spreadsheet", "Copy its tables into the blank survey workbook")
	case names["[Content_Types].xml"] == nil:
		return refuse("is a zip archive, not a workbook", "Unpack it and use the workbook inside")
	}
	return nil
}

// wellFormed reads an XML part that nothing else reads.
func wellFormed(name string, text []byte) error {
	return eachTag(name, text, func(*tag) error { return nil })
}

// isXML reports whether a part's name says that it is XML.
func isXML(name string) bool {
	ext := strings.ToLower(path.Ext(name))
	return ext == ".xml" || ext == ".rels"
}

// tag is one element's start, end, or text. It is reused from call to call.
type tag struct {
	name  string // local name of the element started or ended, or that the text is in
	start bool
	end   bool
	text  []byte
	attrs []xml.Attr
}

// attr returns the value of an attribute by its local name, or "".
func (t *tag) attr(name string) string {
	for i := range t.attrs {
		if t.attrs[i].Name.Local == name {
			return t.attrs[i].Value
		}
	}
	return ""
}

// eachTag calls do for every start, end and text of a part, and fails unless
// the part is well-formed: tags nest and one element holds them all.
func eachTag(name string, text []byte, do func(*tag) error) error {
	d := xml.NewDecoder(bytes.NewReader(text))
	var open []xml.Name
	var t tag
	for seen := false; ; seen = true {
		token, err := d.RawToken()
		if err == io.EOF {
			if len(open) > 0 || !seen {
				return damaged(name + " is cut short")
			}
			return nil
		}
		if err != nil {
			return damaged(name + " is not well-formed")
		}
		t = tag{}
		switch e := token.(type) {
		case xml.StartElement:
			open = append(open, e.Name)
			t.name, t.start, t.attrs = e.Name.Local, true, e.Attr
		case xml.EndElement:
			if len(open) == 0 || open[len(open)-1] != e.Name {
				return damaged(name + " is not well-formed")
			}
			open = open[:len(open)-1]
			t.name, t.end = e.Name.Local, true
		case xml.CharData:
			if len(open) == 0 {
				continue
			}
			t.name, t.text = open[len(open)-1].Local, e
		default:
			continue
		}
		if err := do(&t); err != nil {
			return err
		}
	}
}
