package meet_test

import (
	"strings"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

func TestIdentities(t *testing.T) {
	long := strings.Repeat("a", 64)
	for id, good := range map[string]bool{
		"a": true, "B7": true, "7": true, "a.b-c_d": true, long: true,
		"": false, "-a": false, ".": false, "_a": false, "a b": false, "a/b": false, "ä": false, "a\n": false,
	} {
		for what, err := range map[string]error{
			"car": day.CheckID("car", string(day.CarID(id))), "person": day.CheckID("person", string(day.EntrantID(id))),
			"meet": day.CheckID("meet", id), "run": day.RunID(id).Check(),
		} {
			no, is := refusal.As(err)
			code := refusal.Code("bad-id")
			if what == "run" {
				code = "bad-run-id" // it says how long a run's may be
			}
			if (err == nil) != good || err != nil && (!is || no.Code != code) {
				t.Errorf("%q as the id of a %s: %v", id, what, err)
			}
		}
	}
	// A run's id is made of its heat's and may be longer.
	if day.CheckID("car", string(day.CarID(long+"a"))) == nil || day.RunID(long+"-1.1.1-L1-1").Check() != nil ||
		day.RunID(strings.Repeat(long, 3)).Check() == nil {
		t.Error("the longest ids are not as they should be")
	}
}
