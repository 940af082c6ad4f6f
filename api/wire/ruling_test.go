package wire_test

import (
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/refusal"
)

// needs is what each ruling is about, from the contract's words: the fields without
// which it says nothing.
var needs = map[gen.RulingBodyKind][]string{
	"grant-rerun": {"Heat", "Entry", "Counts"}, "let-stand": {"Heat", "Entry"}, "turn-down-rerun": {"Heat", "Entry"},
	"accept-run": {"Run", "Heat", "Entry"}, "set-aside": {"Run"}, "reassign": {"Run", "Heat", "Entry"},
	"swap": {"Heat", "Entry", "Other"}, "void": {"Heat"},
	"did-not-start": {"Heat", "Entry"}, "did-not-finish": {"Heat", "Entry"}, "disqualify-heat": {"Heat", "Entry"}, "lift": {"Heat", "Entry"},
	"disqualify": {"Entry"}, "withdraw": {"Entry"}, "reinstate": {"Entry"}, "let-race": {"Heat", "Entry"},
	"penalise": {"Heat", "Entry", "PenaltyM"}, "correct-hand-count": {"Run", "DistanceM", "UDistanceM"}, "draw-rest": {"Heat"}, "set-clock": {},
}

// TestEveryRulingIsRead: each kind of the contract becomes a command that holds what
// was said, and is refused by the name of the field that it lacks.
func TestEveryRulingIsRead(t *testing.T) {
	spec, err := gen.GetSpec()
	if err != nil {
		t.Fatal(err)
	}
	kinds := spec.Components.Schemas["RulingBody"].Value.Properties["kind"].Value.Enum
	if len(kinds) != len(needs) {
		t.Errorf("the contract has %d kinds, this list %d", len(kinds), len(needs))
	}
	used := map[string]bool{}
	for _, k := range kinds {
		kind := gen.RulingBodyKind(k.(string))
		t.Run(string(kind), func(t *testing.T) {
			body := filled[gen.RulingBody](1, false)
			body.Kind = kind
			c, err := wire.ReadRuling(body, filledReason(), true)
			if err != nil {
				t.Fatal(err)
			}
			empty := zeros(c)
			if kind == "lift" { // a status is lifted by ruling none
				empty = slices.DeleteFunc(empty, func(path string) bool { return path == "Status" })
			}
			if len(empty) > 0 {
				t.Errorf("of a full body nothing is read into %v of %T", empty, c)
			}
			for _, field := range needs[kind] {
				used[field] = true
				without := body
				reflect.ValueOf(&without).Elem().FieldByName(field).SetZero()
				_, err := wire.ReadRuling(without, filledReason(), true)
				var no *refusal.Refusal
				if !errors.As(err, &no) || no.Code != "ruling-field" || !strings.Contains(no.Error(), wireName(field)) {
					t.Errorf("without %s: %v", field, err)
				}
			}
		})
	}
	for i := range reflect.TypeFor[gen.RulingBody]().NumField() {
		name := reflect.TypeFor[gen.RulingBody]().Field(i).Name
		if !used[name] && name != "Kind" && name != "Reason" {
			t.Errorf("no ruling reads %s", name)
		}
	}
}

// wireName is how the contract calls a field of a ruling.
func wireName(field string) string {
	f, _ := reflect.TypeFor[gen.RulingBody]().FieldByName(field)
	name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	return name
}
