package journal_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/journal"
)

func envelope(seq int64, data string) journal.Envelope {
	return journal.Envelope{
		Stream: "harbour/meet/spring", Seq: seq, Type: "HeatCalled", V: 1, Time: 1_800_000_000_000_000,
		Actor: "a1", Command: "c1", Data: json.RawMessage(data),
	}
}

// sealedData is the canonical form of an event's data.
func sealedData(t *testing.T, data string) string {
	t.Helper()
	r, err := journal.Seal(journal.Head{}, envelope(1, data))
	if err != nil {
		t.Fatal(err)
	}
	e, err := r.Open()
	if err != nil {
		t.Fatal(err)
	}
	return string(e.Data)
}

// TestCanonicalForm holds the parts of RFC 8785 that events use.
func TestCanonicalForm(t *testing.T) {
	tests := []struct{ name, data, want string }{
		// RFC 8785 section 3.2.3, the example of sorting by UTF-16 code units: the
		// emoji (a surrogate pair) comes before U+FB33.
		{
			"keys by UTF-16 code units (RFC 8785 3.2.3)",
			`{"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh","1":"One","\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis"}`,
			"{\"\\r\":\"Carriage Return\",\"1\":\"One\",\"\u0080\":\"Control\",\"ö\":\"Latin Small Letter O With Diaeresis\",\"€\":\"Euro Sign\",\"😀\":\"Emoji: Grinning Face\",\"\ufb33\":\"Hebrew Letter Dalet With Dagesh\"}",
		},
		// RFC 8785 section 3.2.2, the string and the literals of the example.
		{
			"escapes (RFC 8785 3.2.2)",
			`{"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`,
			"{\"literals\":[null,true,false],\"string\":\"€$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}",
		},
		{"the short escapes (RFC 8785 3.2.2.2)", `{"s":"\b\t\n\f\r\u0001\u007f"}`, "{\"s\":\"\\b\\t\\n\\f\\r\\u0001\u007f\"}"},
		{"nothing is escaped for HTML", `{"s":"<a>&\u2028"}`, "{\"s\":\"<a>&\u2028\"}"},
		{"blanks go", " { \"b\" : [ 1 , 2 ] , \"a\" : { } } ", `{"a":{},"b":[1,2]}`},
		{"integers stay", `{"n":[0,-1,9007199254740991,-9007199254740991]}`, `{"n":[0,-1,9007199254740991,-9007199254740991]}`},
		{"minus zero is zero (RFC 8785 appendix B)", `{"n":-0}`, `{"n":0}`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := sealedData(t, test.data)
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
			if again := sealedData(t, got); again != got {
				t.Errorf("the canonical form of the canonical form is another: %s", again)
			}
		})
	}
}

// The hashes of TestSealedBytes, computed with another program's SHA-256: of 32
// zero bytes and the first record's bytes, then of that and the second's.
const (
	firstHash  = "e58e4216cc7286d192277fdee8fae34c30655e9b5706374895476349293a80cb"
	secondHash = "c3116a49110b26880f29621b74371b6c235d1f4e67b1e1c7b59d3b0a943bcbac"
)

// TestSealedBytes freezes the whole form of a record. An edit here means that
// old logs would no longer be made the same.
func TestSealedBytes(t *testing.T) {
	first, err := journal.Seal(journal.Head{}, envelope(1, `{"heat":"junior-1.1.1","deadline_us":5}`))
	if err != nil {
		t.Fatal(err)
	}
	want := `{"actor":"a1","command":"c1","data":{"deadline_us":5,"heat":"junior-1.1.1"},"seq":1,"stream":"harbour/meet/spring","time":1800000000000000,"type":"HeatCalled","v":1}`
	if diff := cmp.Diff(want, string(first.Bytes)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	second, err := journal.Seal(first.Head(), envelope(2, `{}`))
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range []struct{ name, got, want string }{
		{"first", first.Hash.String(), firstHash},
		{"second", second.Hash.String(), secondHash},
	} {
		if h.got != h.want {
			t.Errorf("the %s hash is %s, want %s", h.name, h.got, h.want)
		}
	}
}

// TestRefused holds what does not go into a log.
func TestRefused(t *testing.T) {
	change := func(f func(e *journal.Envelope)) journal.Envelope {
		e := envelope(1, `{}`)
		f(&e)
		return e
	}
	tests := []struct {
		name string
		e    journal.Envelope
		says string
	}{
		{"a float", envelope(1, `{"m":1.5}`), "1.5 is not an integer"},
		{"a float that is whole", envelope(1, `{"m":1.0}`), "1.0 is not an integer"},
		{"an exponent", envelope(1, `{"m":1e3}`), "1e3 is not an integer"},
		{"2^53", envelope(1, `{"m":9007199254740992}`), "within ±(2^53-1)"},
		{"-2^53", envelope(1, `{"m":[{"a":-9007199254740992}]}`), "within ±(2^53-1)"},
		{"more than 64 bits", envelope(1, `{"m":99999999999999999999}`), "within ±(2^53-1)"},
		{"a time beyond 2^53", change(func(e *journal.Envelope) { e.Time = 1 << 53 }), "within ±(2^53-1)"},
		{"no data", envelope(1, ``), "not a JSON object"},
		{"a list", envelope(1, `[]`), "not a JSON object"},
		{"null", envelope(1, `null`), "not a JSON object"},
		{"half an object", envelope(1, `{"a":1`), "unexpected end"},
		{"two objects", envelope(1, `{}{}`), "invalid character"},
		{"a gap in seq", envelope(2, `{}`), "the next is 1"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := journal.Seal(journal.Head{}, test.e)
			if err == nil || !strings.Contains(err.Error(), test.says) {
				t.Errorf("got %v, want %q", err, test.says)
			}
		})
	}
}

// chain seals n records.
func chain(t testing.TB, n int) []journal.Record {
	t.Helper()
	var head journal.Head
	var out []journal.Record
	for i := range n {
		r, err := journal.Seal(head, envelope(int64(i+1), fmt.Sprintf(`{"n":%d}`, i)))
		if err != nil {
			t.Fatal(err)
		}
		out, head = append(out, r), r.Head()
	}
	return out
}

func follow(records []journal.Record) (at int, err error) {
	var head journal.Head
	for i, r := range records {
		if head, err = head.Follow(r); err != nil {
			return i, err
		}
	}
	return len(records), nil
}

// TestBrokenChain: whatever is done to a record in the middle is found there,
// even by somebody who hashes the changed record anew.
func TestBrokenChain(t *testing.T) {
	tests := []struct {
		name   string
		damage func(records []journal.Record) []journal.Record
		at     int
	}{
		{"untouched", func(r []journal.Record) []journal.Record { return r }, 6},
		{"a byte changed", func(r []journal.Record) []journal.Record {
			r[3].Bytes = []byte(strings.Replace(string(r[3].Bytes), `"n":3`, `"n":9`, 1))
			return r
		}, 3},
		{"changed and sealed anew", func(r []journal.Record) []journal.Record {
			r[3], _ = journal.Seal(r[2].Head(), envelope(4, `{"n":9}`))
			return r
		}, 4},
		{"removed", func(r []journal.Record) []journal.Record { return slices.Delete(r, 3, 4) }, 3},
		{"removed and numbered anew", func(r []journal.Record) []journal.Record {
			r = slices.Delete(r, 3, 4)
			for i := range r[3:] {
				r[3+i].Seq--
			}
			return r
		}, 3},
		{"one put in between", func(r []journal.Record) []journal.Record {
			extra, _ := journal.Seal(r[2].Head(), envelope(4, `{"n":9}`))
			return slices.Insert(r, 3, extra)
		}, 4},
		{"two exchanged", func(r []journal.Record) []journal.Record { r[3], r[4] = r[4], r[3]; return r }, 3},
		{"a hash changed", func(r []journal.Record) []journal.Record { r[3].Hash[0] ^= 1; return r }, 3},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			at, err := follow(test.damage(chain(t, 6)))
			if at != test.at || (err != nil) != (at < 6) || err != nil && !errors.Is(err, journal.ErrBrokenChain) {
				t.Errorf("found at %d: %v, want at %d", at, err, test.at)
			}
		})
	}
}

// TestOpen refuses records that do not hold one event of their place.
func TestOpen(t *testing.T) {
	good := chain(t, 1)[0]
	for name, text := range map[string]string{
		"nothing":            "",
		"no object":          "[]",
		"an unknown field":   `{"seq":1,"colour":"red"}`,
		"another seq":        strings.Replace(string(good.Bytes), `"seq":1`, `"seq":2`, 1),
		"something behind":   string(good.Bytes) + "{}",
		"a seq that is text": strings.Replace(string(good.Bytes), `"seq":1`, `"seq":"1"`, 1),
	} {
		if e, err := (journal.Record{Seq: 1, Bytes: []byte(text)}).Open(); err == nil {
			t.Errorf("%s opens as %+v", name, e)
		}
	}
	e, err := good.Open()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(envelope(1, `{"n":0}`), e); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestParseHash(t *testing.T) {
	h := chain(t, 1)[0].Hash
	if got, err := journal.ParseHash(h.String()); err != nil || got != h {
		t.Errorf("got %s, %v", got, err)
	}
	for _, text := range []string{"", "zz", h.String()[1:], h.String() + "00"} {
		if _, err := journal.ParseHash(text); err == nil {
			t.Errorf("%q is taken for a hash", text)
		}
	}
}

// FuzzOpen: whatever opens either cannot be sealed (it was not made here) or
// seals to bytes that open as the same event and seal to themselves.
func FuzzOpen(f *testing.F) {
	f.Add(chain(f, 1)[0].Bytes)
	f.Add([]byte(`{"seq":1,"data":{"a":[1,{"b":"\u00e9"}]}}`))
	f.Add([]byte(`{"seq":1,"data":{"a":"\ud800"}}`))
	f.Add([]byte(`{"seq":1,"data":1e99}`))
	f.Add([]byte(`{"seq":1,"data":{"a":1,"a":2}}`))
	f.Add([]byte(`{"actor":"","command":"","data":{} ,"seq":1,"stream":"","time":0,"type":"","v":0}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		e, err := (journal.Record{Seq: 1, Bytes: text}).Open()
		want, wrong := (journal.Record{Seq: 1, Bytes: text}).OpenSlowly()
		if (err == nil) != (wrong == nil) || err == nil && !reflect.DeepEqual(e, want) {
			t.Fatalf("%q opens as %+v (%v), not as %+v (%v)", text, e, err, want, wrong)
		}
		// Unread, it is the same, or has data that no reader takes.
		short := func(e journal.Envelope) journal.Envelope {
			return journal.Envelope{Seq: e.Seq, Type: e.Type, V: e.V, Time: e.Time, Data: e.Data}
		}
		if later, no := (journal.Record{Seq: 1, Bytes: text}).OpenUnread(); no == nil && !reflect.DeepEqual(short(later), short(e)) {
			if got, err := journal.Reader[map[string]any]()(later.Data); err == nil {
				t.Fatalf("%q opens unread as %+v, whose data reads as %+v; it is %+v (%v)", text, later, got, e, wrong)
			}
		} else if no != nil && err == nil {
			t.Fatalf("%q does not open unread: %v", text, no)
		}
		if err != nil {
			return
		}
		first, err := journal.Seal(journal.Head{}, e)
		if err != nil {
			return
		}
		opened, err := first.Open()
		if err != nil {
			t.Fatalf("%q seals to %q, which does not open: %v", text, first.Bytes, err)
		}
		second, err := journal.Seal(journal.Head{}, opened)
		if err != nil {
			t.Fatal(err)
		}
		if string(first.Bytes) != string(second.Bytes) || first.Hash != second.Hash {
			t.Fatalf("%q seals to %q and that to %q", text, first.Bytes, second.Bytes)
		}
	})
}
