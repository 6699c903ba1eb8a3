package book

import "testing"

// What programs do to a sheet as they save it sums up alike; what a person types
// does not.
func TestContents(t *testing.T) {
	of := func(add func(c *Contents)) string {
		c := NewContents()
		c.Text(1, 1, "Length mm")
		add(c)
		return c.Sum()
	}
	cell := func(v any) string {
		return of(func(c *Contents) {
			switch v := v.(type) {
			case string:
				c.Text(2, 3, v)
			case float64:
				c.Number(2, 3, v)
			default:
				c.Formula(2, 3)
			}
		})
	}
	for _, c := range []struct {
		a, b  any
		alike bool
	}{
		{0.1 + 0.2, 0.3, true}, {1.0 / 3, 0.333333333333333, true}, {7.0, 7.0, true}, {1234.1, 1234.2, false}, {1e6, 1e6 + 1, false}, {123456789.0, 123456788.0, false},
		{"two\r\nlines", "two\nlines", true}, {" a  b", "a b ", true}, {"a\x01b", "ab", true}, {"a", "b", false}, {"7", 7.0, false}, {"é", "e", false},
		{"", " ", true}, {"", "x", false}, {nil, nil, true}, {nil, 7.0, false}, {0.0, "", false},
	} {
		if got := cell(c.a) == cell(c.b); got != c.alike {
			t.Errorf("%v and %v sum up alike: %v, want %v", c.a, c.b, got, c.alike)
		}
	}
	if of(func(c *Contents) { c.Text(2, 3, "x") }) == of(func(c *Contents) { c.Text(3, 2, "x") }) {
		t.Error("a text in another place sums up alike")
	}
	if of(func(c *Contents) { c.Text(2, 1, "") }) != of(func(*Contents) {}) {
		t.Error("a blank text counts")
	}
}
