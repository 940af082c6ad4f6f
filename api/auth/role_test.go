package auth_test

import (
	"testing"

	"benchmeet/api/auth"
)

func TestMayUse(t *testing.T) {
	own := []string{"b1", "b2"}
	for _, tt := range []struct {
		name    string
		caller  auth.Caller
		bench   string
		mayUse  bool
		mayRule bool // as organiser or official
	}{
		{"the organiser, any bench", auth.Caller{Role: auth.Organiser}, "b9", true, true},
		{"an official, any bench", auth.Caller{Role: auth.Official}, "b9", true, true},
		{"a phone, its own bench", auth.Caller{Role: auth.Volunteer, Benches: own}, "b2", true, false},
		{"a phone, another bench", auth.Caller{Role: auth.Volunteer, Benches: own}, "b3", false, false},
		{"a counter box, its own bench", auth.Caller{Role: auth.Box, Benches: own}, "b1", true, false},
		{"a counter box, another bench", auth.Caller{Role: auth.Box, Benches: own}, "b", false, false},
		{"a phone without benches", auth.Caller{Role: auth.Volunteer}, "b1", false, false},
		{"a referee, any bench", auth.Caller{Role: auth.Referee}, "b9", true, false},
		{"an inspector, no bench", auth.Caller{Role: auth.Inspector}, "b1", false, false},
		{"no bench named", auth.Caller{Role: auth.Volunteer, Benches: own}, "", false, false},
		{"everybody, though benches are named", auth.Caller{Role: auth.Public, Benches: own}, "b1", false, false},
		{"nobody", auth.Caller{}, "b1", false, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.caller.MayUse(tt.bench); got != tt.mayUse {
				t.Errorf("may use the bench: %v", got)
			}
			if got := tt.caller.May(auth.Organiser, auth.Official); got != tt.mayRule {
				t.Errorf("may rule: %v", got)
			}
		})
	}
	if (auth.Caller{Role: auth.Organiser}).May() {
		t.Error("a list of no roles lets somebody in")
	}
}
