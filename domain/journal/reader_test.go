package journal_test

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"benchmeet/domain/journal"
)

// worded reads itself, as types of the domain may.
type worded struct{ text string }

func (w *worded) UnmarshalJSON(text []byte) error {
	w.text = string(text)
	return nil
}

type part struct {
	Name  string `json:"name"`
	Count int8   `json:"count,omitempty"`
}

// Because is embedded, as rulings embed their reason.
type Because struct {
	By     string `json:"by"`
	Reason string `json:"reason,omitempty"`
}

// whole has every kind of field that events have, and some that they have not.
type whole struct {
	Because
	Number int64 `json:"number"`
	Small  uint8 `json:"small"`
	Yes    bool
	Part   part             `json:"part"`
	Maybe  *part            `json:"maybe,omitempty"`
	List   []part           `json:"list"`
	Texts  []string         `json:"texts,omitempty"`
	Lists  [][]int          `json:"lists,omitempty"`
	Table  map[string]int   `json:"table,omitempty"`
	Tables map[string]*part `json:"tables"`
	Left   string           `json:"-"`
}

// slow has fields that only encoding/json can read.
type slow struct {
	When  time.Time `json:"when"`
	Bytes []byte    `json:"bytes"`
	Word  worded    `json:"word"`
	Any   any       `json:"any,omitempty"`
	Float float64   `json:"float,omitempty"`
	Text  int       `json:"text,string,omitempty"`
}

type failing interface {
	Helper()
	Fatalf(string, ...any)
}

// same reads a text in both ways. What cannot be read may be refused in other words.
func same[E any](t failing, text []byte) {
	t.Helper()
	got, err := journal.Reader[E]()(text)
	want, wrong := journal.ReadSlowly[E](text)
	if (err == nil) != (wrong == nil) || err == nil && !reflect.DeepEqual(got, want) {
		t.Fatalf("%q:\n got %+v (%v)\nwant %+v (%v)", text, got, err, want, wrong)
	}
}

// awkward are texts that a reader of one form only may take for another.
var awkward = []string{
	`{}`, `null`, `[]`, ``, ` {}`, `{} `, `{}{}`, `{"number":1,}`, `{"number":01}`, `{"number":-0}`, `{"number":1.0}`, `{"number":1e3}`,
	`{"number":9007199254740991}`, `{"number":9007199254740992}`, `{"number":9223372036854775807}`, `{"number":9223372036854775808}`,
	`{"number":-9007199254740991}`, `{"number":-}`, `{"number":null}`, `{"number":"1"}`, `{"number":1`, `{"small":255}`, `{"small":256}`,
	`{"small":-1}`, `{"part":{"count":-128,"name":""}}`, `{"part":{"count":128}}`, `{"part":{"name":"x","count":1}}`, `{"part":null}`,
	`{"NUMBER":1}`, `{"number":1,"number":2}`, `{"colour":1}`, `{"Left":"x"}`, `{"-":"x"}`, `{"Yes":true}`, `{"Yes":tru}`, `{"yes":false}`,
	`{"by":"a\u00e9"}`, `{"by":"é"}`, "{\"by\":\"\xff\"}", "{\"by\":\"a\nb\"}", `{"by":"a\"b"}`, `{"by":"a}`, `{"Because":{"by":"x"}}`,
	`{"list":[]}`, `{"list":null}`, `{"list":[{"name":"a"},{"name":"b"}]}`, `{"list":[{"name":"a"},]}`, `{"list":[null]}`, `{"list":{}}`,
	`{"lists":[[1],[],[2,3]]}`, `{"lists":[[1],null]}`, `{"maybe":{}}`, `{"maybe":null}`, `{"table":{}}`, `{"table":{"b":1,"a":2,"b":3}}`,
	`{"tables":{"a":null,"b":{"name":"n"}}}`, `{"texts":["a","b"]}`, `{"texts":["a" ,"b"]}`, `{"texts":[1]}`,
	`{"when":"2026-11-28T12:00:00Z","bytes":"AAEC","word":[1, 2],"any":{"a":1.5},"float":1.5,"text":"7"}`,
	`{"lists":` + strings.Repeat("[", 20_000) + strings.Repeat("]", 20_000) + `}`,
}

// TestReaderReadsAlike: whatever its form, data is read as encoding/json reads it.
func TestReaderReadsAlike(t *testing.T) {
	for _, text := range awkward {
		same[whole](t, []byte(text))
		same[slow](t, []byte(text))
		same[map[string]any](t, []byte(text))
	}
	rapid.Check(t, func(t *rapid.T) {
		text, err := json.Marshal(rapid.Make[whole]().Draw(t, "event"))
		if err != nil {
			t.Fatal(err)
		}
		if r, err := journal.Seal(journal.Head{}, envelope(1, string(text))); err == nil {
			e, err := r.Open()
			if err != nil {
				t.Fatal(err)
			}
			text = e.Data // in the canonical form
		}
		same[whole](t, text)
		at := rapid.IntRange(0, len(text)-1).Draw(t, "at")
		text[at] = rapid.SampledFrom([]byte(`"{}[],:\-0129.eaé nt`)).Draw(t, "byte")
		same[whole](t, text)
	})
}

// FuzzReader: as TestReaderReadsAlike, for any text.
func FuzzReader(f *testing.F) {
	for _, text := range awkward {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		same[whole](t, text)
		same[slow](t, text)
	})
}

// TestReaderIsQuickOnItsOwnForm: what Seal writes is not read the slow way, else
// nothing would say so.
func TestReaderIsQuickOnItsOwnForm(t *testing.T) {
	data, err := json.Marshal(whole{
		Because: Because{By: "é"}, Number: -7, Small: 200, Yes: true, Part: part{"n", 3}, Maybe: &part{}, List: []part{{"a", 1}},
		Texts: []string{"x"}, Lists: [][]int{{1}}, Table: map[string]int{"t": 1}, Tables: map[string]*part{"u": {}},
	})
	if err != nil {
		t.Fatal(err)
	}
	r, err := journal.Seal(journal.Head{}, envelope(1, string(data)))
	if err != nil {
		t.Fatal(err)
	}
	e, ok := r.OpenCanonical()
	if want, err := r.OpenSlowly(); !ok || err != nil || !reflect.DeepEqual(e, want) {
		t.Fatalf("got %+v (%v), want %+v (%v)", e, ok, want, err)
	}
	if !journal.Quick[whole](e.Data) {
		t.Errorf("%s is read slowly", e.Data)
	}
	if journal.Quick[slow]([]byte(`{}`)) {
		t.Error("a type that only encoding/json can read is read without it")
	}
}
