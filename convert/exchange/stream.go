package exchange

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
)

// encode writes a value as all our JSON is written: indented by a blank a level,
// as it would stand behind a prefix on each line but the first.
func encode(w io.Writer, v any, prefix string) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent(prefix, " ")
	return enc.Encode(v)
}

// Stream writes a value of which one list is long: whole and indented it would take
// more memory than all that it was made from. The list is the member of that name at
// the value's own level, is empty there and not nil, and gets n elements that are
// made one at a time. The bytes are those of the value that holds them all.
func Stream(w io.Writer, v any, list string, n int, element func(i int) any) error {
	var b bytes.Buffer
	if err := encode(&b, v, ""); err != nil {
		return err
	}
	mark := fmt.Appendf(nil, "\n %q: []", list)
	head, tail, found := bytes.Cut(b.Bytes(), mark) // a line break stands in no text
	if !found {
		return fmt.Errorf("there is no empty list %s", list)
	}
	if n == 0 {
		_, err := w.Write(b.Bytes())
		return err
	}
	if _, err := fmt.Fprintf(w, "%s\n %q: [", head, list); err != nil {
		return err
	}
	var one bytes.Buffer
	between := "\n  "
	for i := range n {
		one.Reset()
		if err := encode(&one, element(i), "  "); err != nil {
			return err
		}
		if _, err := io.WriteString(w, between); err != nil {
			return err
		}
		if _, err := w.Write(bytes.TrimSuffix(one.Bytes(), []byte("\n"))); err != nil {
			return err
		}
		between = ",\n  "
	}
	_, err := fmt.Fprintf(w, "\n ]%s", tail)
	return err
}
