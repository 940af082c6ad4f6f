package wire_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"testing"

	"benchmeet/api/wire"
)

func TestNamesOfObjects(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{`{}`, ""},
		{`[]`, ""},
		{` 7 `, ""},
		{`{"a":1,"b":{"a":[1,2,{"a":"a"}]},"c":"\"b\""}`, "a b b.a b.a.a c"},
		{`[{"a":1},{"a":1}]`, "a a"},
		{`{"a":1,"a":1}`, "a twice a"},
		{`{ "a" : {} , "b" : [ { "c" : 1 , "d" : [ ] , "c" : 2 } ] }`, "a b b.c b.d twice b.c"},
		{`{"a":1,"\u0061":1}`, "a twice a"},
		{`{"":1,"":1}`, " twice "},
		{`{"a":1,"A":1}`, "a A"},
	} {
		var seen []string
		err := wire.Names([]byte(tt.text), func(path string) error { seen = append(seen, path); return nil })
		var twice *wire.NameError
		if errors.As(err, &twice) && errors.Is(err, wire.ErrTwice) {
			seen = append(seen, "twice", twice.Path)
		}
		if got := strings.Join(seen, " "); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.text, got, tt.want)
		}
	}
}

func TestAnswersRepeatTheBeginningOfALongText(t *testing.T) {
	for text, want := range map[string]string{
		"hurry": "hurry", strings.Repeat("é", 60): strings.Repeat("é", 60), strings.Repeat("é", 61): strings.Repeat("é", 59) + "…",
	} {
		if got := wire.Short(text); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// FuzzNames: whatever is valid JSON is read to its end, and what stands twice is what a
// reader of tokens finds.
func FuzzNames(f *testing.F) {
	for _, seed := range []string{
		`{"a":1,"b":{"a":[1,2,{"a":"a","a":2}]}}`, `[[],[{}],"\\",{"\u0061":null,"a":1e9}]`, "\t{\"\\ud800\":true , \"\\ufffd\" :false}\n", `"\""`,
		"{\"\xba\":true,\"\\ufffd\":false}",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if !json.Valid(text) {
			return
		}
		err := wire.Names(text, func(string) error { return nil })
		if got, want := errors.Is(err, wire.ErrTwice), twiceByTokens(t, text); got != want {
			t.Errorf("%s: twice is %v, want %v", text, got, want)
		}
	})
}

// twiceByTokens says the slow way whether a name stands twice in an object.
func twiceByTokens(t *testing.T, text []byte) bool {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()              // 1e999 is valid
	var open []map[string]bool // nil for a list
	name := false              // the next string is a name
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return false
		}
		if err != nil {
			t.Fatal(err)
		}
		inObject := len(open) > 0 && open[len(open)-1] != nil
		switch v := token.(type) {
		case json.Delim:
			switch v {
			case '{':
				open, name = append(open, map[string]bool{}), true
				continue
			case '[':
				open, name = append(open, nil), false
				continue
			}
			open = open[:len(open)-1]
			name = len(open) > 0 && open[len(open)-1] != nil
			continue
		case string:
			if inObject && name {
				if open[len(open)-1][v] {
					return true
				}
				open[len(open)-1][v] = true
				name = false
				continue
			}
		}
		name = inObject
	}
}
