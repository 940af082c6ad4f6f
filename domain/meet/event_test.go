package meet_test

import (
	"bytes"
	"encoding/json"
	"slices"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/journal"
)

// FuzzDecode: what decodes is written so that it decodes to the same again, and
// holds no number that a log refuses, unless it was given.
func FuzzDecode(f *testing.F) {
	kinds := day.Types()
	slices.Sort(kinds)
	for _, e := range before() {
		data, err := json.Marshal(e)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(uint8(slices.Index(kinds, e.Type())), data)
	}
	for i := range kinds {
		f.Add(uint8(i), []byte(`{}`))
	}
	f.Fuzz(func(t *testing.T, at uint8, data []byte) {
		kind := kinds[int(at)%len(kinds)]
		e, err := day.Decode(kind, day.VersionOf(kind), data)
		if err != nil {
			return
		}
		first, err := json.Marshal(e)
		if err != nil || !json.Valid(first) || e.Type() != kind {
			t.Fatalf("%s %s is written as %s %s, %v", kind, data, e.Type(), first, err)
		}
		again, err := day.Decode(kind, day.VersionOf(kind), first)
		if err != nil {
			t.Fatalf("%s %s is written as %s, which does not decode: %v", kind, data, first, err)
		}
		second, err := json.Marshal(again)
		if err != nil || !bytes.Equal(first, second) {
			t.Fatalf("%s %s is written as %s and then as %s, %v", kind, data, first, second, err)
		}
		_, err = journal.Seal(journal.Head{}, journal.Envelope{Seq: 1, Type: kind, V: 1, Data: first})
		if err != nil && !bytes.ContainsAny(data, "0123456789") {
			t.Fatalf("%s cannot be kept: %v", first, err)
		}
	})
}
