package club_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"benchmeet/domain/club"
)

// FuzzDecode: what decodes in its newest version is written so that it decodes to the
// same again; nothing else breaks anything.
func FuzzDecode(f *testing.F) {
	logs, err := filepath.Glob(filepath.Join("testdata", "golden", "*.jsonl"))
	if err != nil || len(logs) == 0 {
		f.Fatal("no golden logs: ", err)
	}
	for _, log := range logs {
		text, err := os.ReadFile(log)
		if err != nil {
			f.Fatal(err)
		}
		for line := range bytes.Lines(text) {
			var e struct {
				Type string
				V    int
				Data json.RawMessage
			}
			if err := json.Unmarshal(line, &e); err != nil {
				f.Fatal(err)
			}
			f.Add(e.Type, e.V, []byte(e.Data))
		}
	}
	f.Add("NoSuchEvent", 1, []byte(`{}`))
	f.Fuzz(func(t *testing.T, kind string, version int, data []byte) {
		e, err := club.Decode(kind, version, data)
		if err != nil || version != club.VersionOf(kind) {
			return
		}
		first, err := json.Marshal(e)
		if err != nil || e.Type() != kind {
			t.Fatalf("%s %s is written as %s %s, %v", kind, data, e.Type(), first, err)
		}
		again, err := club.Decode(kind, version, first)
		if err != nil {
			t.Fatalf("%s %s is written as %s, which does not decode: %v", kind, data, first, err)
		}
		if second, err := json.Marshal(again); err != nil || !bytes.Equal(first, second) {
			t.Fatalf("%s %s is written as %s and then as %s, %v", kind, data, first, second, err)
		}
	})
}
