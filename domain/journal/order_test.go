package journal_test

import (
	"strings"
	"testing"

	"github.com/gowebpki/jcs"

	"benchmeet/domain/journal"
)

// TestInOrder: what is written without the library for RFC 8785, and what is left to it.
func TestInOrder(t *testing.T) {
	for text, want := range map[string]string{
		`{}`:            `{}`,
		`[]`:            `[]`,
		`{"a":1,"b":2}`: `{"a":1,"b":2}`,
		`{"b":2,"a":1}`: `{"a":1,"b":2}`,
		`{"b":{"d":[],"c":{}},"a":[{"z":0,"y":-1},true]}`: `{"a":[{"y":-1,"z":0},true],"b":{"c":{},"d":[]}}`,
		`{"aa":1,"a":2,"A":3,"":4}`:                       `{"":4,"A":3,"a":2,"aa":1}`,
		`{"n":"é, ü","m":"a/b"}`:                          `{"m":"a/b","n":"é, ü"}`,
		`{"b":9007199254740991,"a":null}`:                 `{"a":null,"b":9007199254740991}`,
		// Left to the library, or refused after it.
		`{"a":1,"a":2}`: "", `{"a":1,"b":2,"a":3}`: "", `{"é":1}`: "", `{"a":"\u0041"}`: "", `{"a":1.5}`: "", `{"a":-0}`: "",
		`{"a":9007199254740992}`: "", `{"a" :1}`: "", `{"a":1}x`: "", "{\"a\":\"\xff\"}": "",
		strings.Repeat("[", 70) + strings.Repeat("]", 70): "",
	} {
		got, ok := journal.InOrder([]byte(text))
		if ok != (want != "") || ok && string(got) != want {
			t.Errorf("%s became %s (%t), not %s", text, got, ok, want)
		}
	}
}

// FuzzInOrder: whatever is written without the library is as the library writes it.
func FuzzInOrder(f *testing.F) {
	for _, text := range []string{
		`{"b":{"d":[],"c":{}},"a":[{"z":0,"y":-1},true]}`, `{"aa":1,"a":2,"A":3,"":4}`, `{"b":1,"a":2,"b":3}`,
		`{"q":1,"p":2,"o":3,"n":4,"m":5,"l":6,"k":7,"j":8,"i":9,"h":10,"g":11,"f":12,"e":13,"d":14,"c":15,"b":16,"a":17}`, "{\"a\":\"\x7f\u0080\u2028\"}",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		got, ok := journal.InOrder(text)
		if !ok || text[0] != '{' && text[0] != '[' { // the library writes no bare value
			return
		}
		want, err := jcs.Transform(text)
		if err != nil || string(got) != string(want) {
			t.Errorf("%q became %q, the library makes %q (%v)", text, got, want, err)
		}
	})
}

// BenchmarkSeal is the sealing of an event of usual size, and the library's own way with the
// same event as its floor.
func BenchmarkSeal(b *testing.B) {
	e := envelope(1, `{"id":"run-17","bench":"b3","heat":"h-204","lanes":[{"lane":1,"entry":"e-17","pulses":1412},{"lane":2,"entry":"e-9","pulses":1377}],"at_us":1806840000000000}`)
	b.Run("seal", func(b *testing.B) {
		for b.Loop() {
			if _, err := journal.Seal(journal.Head{}, e); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("library", func(b *testing.B) {
		sealed, err := journal.Seal(journal.Head{}, e)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			if _, err := jcs.Transform(sealed.Bytes); err != nil {
				b.Fatal(err)
			}
		}
	})
}
