package dayplan

import (
	"testing"

	"benchmeet/domain/day"
)

// TestOnlyWhoLeavesARunningDayHasLeft: of five children one withdrew before the first call and
// one never came; one went an hour after it, and two are there two hours after it.
func TestOnlyWhoLeavesARunningDayHasLeft(t *testing.T) {
	const first = 10 * hourUS
	s := day.New()
	for id, e := range map[day.EntryID]day.Entry{
		"early": {CheckedIn: true, Withdrawn: true}, "never": {}, "gone": {CheckedIn: true, Withdrawn: true},
		"one": {CheckedIn: true}, "other": {CheckedIn: true},
	} {
		e.ID = id
		s.Entries[id] = e
	}
	left := (day.EntryWithdrawn{}).Type()
	s.Rulings = []day.Ruling{{Kind: left, Entry: "early", AtUS: first - 1}, {Kind: left, Entry: "gone", AtUS: first + hourUS}}
	s.TimeUS = first + 2*hourUS
	if got, want := seenLeaving(s, first), (leavers{gone: 1, hereUS: 5 * hourUS}); got != want {
		t.Errorf("seen %+v, want %+v", got, want)
	}
	if got := seenLeaving(s, 0); got != (leavers{}) {
		t.Errorf("before the first call %+v", got)
	}
}
