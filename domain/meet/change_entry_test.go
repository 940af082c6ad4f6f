package meet_test

import (
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// TestChangedEntryIsJudgedByItsAge: who saves an entry again has its band judged by the
// age that is known now, and where none is known what was noted stays.
func TestChangedEntryIsJudgedByItsAge(t *testing.T) {
	s := given(t, day.EntryTaken{ID: "e9", Division: "junior", StartNumber: 9, Entrant: "p9", Car: "c9", RacesUp: true})
	d := s.Divisions["junior"]
	for _, c := range []struct {
		name  string
		age   int
		up    bool
		wrong refusal.Code
	}{
		{"not known", -1, true, ""},
		{"younger", d.AgeFrom - 1, true, ""},
		{"of the band", d.AgeFrom, false, ""},
		{"too old", d.AgeTo + 1, false, "too-old"},
	} {
		events, err := meet.Decide(s, meet.ChangeEntry{ID: "e9", Division: "junior", StartNumber: 10, Car: "c9", Age: c.age}, meet.Meta{NowUS: 1})
		if no, _ := refusal.As(err); c.wrong != "" {
			if no == nil || no.Code != c.wrong {
				t.Errorf("%s: got %v, want the refusal %s", c.name, err, c.wrong)
			}
			continue
		}
		if err != nil || len(events) != 1 || events[0].(day.EntryChanged).RacesUp != c.up {
			t.Errorf("%s: got %+v, %v; want races up %v", c.name, events, err, c.up)
		}
	}
}
