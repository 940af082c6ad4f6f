package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// MostEntries is how many entries one order may take.
const MostEntries = 400

// TakeEntries takes entries in their order, all or none: the first that cannot be taken
// is the answer for all.
type TakeEntries struct {
	Entries []TakeEntry
}

func (c TakeEntries) decide(s *day.State, m Meta) ([]day.Event, error) {
	if len(c.Entries) == 0 || len(c.Entries) > MostEntries {
		return nil, refusal.New("entries-many", "most", MostEntries)
	}
	var events []day.Event
	for _, l := range LookEntries(s, c.Entries) {
		if l.Refused != nil {
			return nil, l.Refused
		}
		events = append(events, l.Taken)
	}
	return events, nil
}

// LookedEntry is what would come of one entry among others.
type LookedEntry struct {
	Taken   day.EntryTaken
	Refused error // a *refusal.Refusal, nil where it would be taken
}

// LookEntries decides entries one after the other, each after those before it that can be
// taken. It costs one copy of the state's tables.
func LookEntries(s *day.State, entries []TakeEntry) []LookedEntry {
	next := s.Clone()
	out := make([]LookedEntry, len(entries))
	for i, e := range entries {
		events, err := e.decide(next, Meta{})
		if err != nil {
			out[i].Refused = err
			continue
		}
		for _, event := range events {
			day.Evolve(next, event, next.TimeUS)
			if taken, is := event.(day.EntryTaken); is {
				out[i].Taken = taken
			}
		}
	}
	return out
}
