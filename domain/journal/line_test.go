package journal_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/journal"
)

// A line keeps the bytes as they are, also those that an encoder would escape.
func TestLineKeepsTheBytes(t *testing.T) {
	want, err := journal.Seal(journal.Head{}, journal.Envelope{
		Stream: "harbour/club", Seq: 1, Type: "Noted", V: 1, Data: []byte(`{"b":"<&>\u2028\"é","a":{"n":-3}}`),
	})
	if err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	if err := journal.WriteLine(&text, want); err != nil {
		t.Fatal(err)
	}
	if bytes.Count(text.Bytes(), []byte("\n")) != 1 || !bytes.HasSuffix(text.Bytes(), []byte("}\n")) {
		t.Errorf("not one line: %q", text.Bytes())
	}
	got, err := journal.ReadLine(text.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("record (-want +got):\n%s", diff)
	}
	if _, err := (journal.Head{}).Follow(got); err != nil {
		t.Error(err)
	}
}

func TestLineRefused(t *testing.T) {
	hash := strings.Repeat("0a", 32)
	for _, c := range []struct{ name, line, says string }{
		{"nothing", "", "cannot be read"},
		{"no JSON", "seq 1", "cannot be read"},
		{"an unknown field", `{"seq":1,"hash":"` + hash + `","event":{},"by":1}`, "by"},
		{"a short hash", `{"seq":1,"hash":"0a","event":{}}`, "not a hash"},
		{"no event", `{"seq":7,"hash":"` + hash + `"}`, "record 7 has no event"},
		{"two records", `{"seq":1,"hash":"` + hash + `","event":{}} {}`, "something behind"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := journal.ReadLine([]byte(c.line))
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want one with %q", err, c.says)
			}
		})
	}
}

// What can be read is written back as a line with the same meaning.
func FuzzReadLine(f *testing.F) {
	f.Add([]byte(`{"seq":1,"hash":"` + strings.Repeat("0a", 32) + `","event":{"type":"x"}}`))
	f.Add([]byte(`{"event":[1, 2],"seq":-5,"hash":"` + strings.Repeat("FF", 32) + `"}` + "\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := journal.ReadLine(text)
		if err != nil {
			return
		}
		var again bytes.Buffer
		if err := journal.WriteLine(&again, r); err != nil {
			t.Fatal(err)
		}
		back, err := journal.ReadLine(again.Bytes())
		if err != nil {
			t.Fatalf("%q was written as %q: %v", text, again.Bytes(), err)
		}
		if diff := cmp.Diff(r, back); diff != "" {
			t.Errorf("record (-read +written and read):\n%s", diff)
		}
	})
}
