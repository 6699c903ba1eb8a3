package exchange

import (
	"bytes"
	"errors"
	"testing"
)

// What is written an element at a time is what a value that holds them all gives,
// byte by byte, whatever its texts say.
func TestStream(t *testing.T) {
	type inner struct {
		Name string   `json:"name"`
		List []string `json:"list"`
		None []int    `json:"none"`
	}
	type outer struct {
		Before string  `json:"before"`
		Deep   inner   `json:"deep"`
		List   []inner `json:"list"`
		After  []int   `json:"after"`
	}
	all := []inner{{"a <b> & \"c\"", []string{"x", "\n \"list\": []"}, nil}, {"", []string{}, []int{}}, {"last", nil, []int{1}}}
	for n := range len(all) + 1 {
		v := outer{"\n \"list\": []", inner{"list", []string{}, []int{2}}, all[:n], []int{}}
		var want, got bytes.Buffer
		if err := encode(&want, v, ""); err != nil {
			t.Fatal(err)
		}
		v.List = []inner{}
		if err := Stream(&got, v, "list", n, func(i int) any { return all[i] }); err != nil {
			t.Fatal(err)
		}
		if got.String() != want.String() {
			t.Errorf("%d elements: got\n%s\nwant\n%s", n, &got, &want)
		}
	}
	if err := Stream(&bytes.Buffer{}, outer{}, "list", 1, func(int) any { return 1 }); err == nil {
		t.Error("a list that is nil was written into")
	}
	if err := Stream(full{}, outer{List: []inner{}}, "list", 1, func(int) any { return 1 }); !errors.Is(err, errFull) {
		t.Errorf("where nothing can be written: %v", err)
	}
}

var errFull = errors.New("full")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }
