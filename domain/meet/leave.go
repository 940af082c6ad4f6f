package meet

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// Withdraw takes an entry out of the rest of the day: the family goes home.
// Results that it has stay in the standings.
type Withdraw struct {
	Entry  day.EntryID
	Reason day.Reason
}

// Disqualify takes an entry out of its division altogether: it is not ranked.
type Disqualify struct {
	Entry  day.EntryID
	Reason day.Reason
}

func (c Withdraw) decide(s *day.State, m Meta) ([]day.Event, error) {
	entry, err := s.Entry(c.Entry)
	if err != nil {
		return nil, err
	}
	if !entry.Racing() {
		return nil, refusal.New("entry-out", "number", entry.StartNumber)
	}
	heats := s.HeatsOf(c.Entry)
	// Its results stay, so an official one is corrected only where a lane of it
	// was to race again.
	open := slices.DeleteFunc(slices.Clone(heats), day.Heat.Posted)
	ruled, err := ruledBy(s, m, c.Reason, open...)
	if err != nil {
		return nil, err
	}
	return andPostAll(s, m, heats, day.EntryWithdrawn{
		Ruled: ruled, Entry: c.Entry, Ends: ends(heats, c.Entry, day.StatusWithdrawn),
	}), nil
}

// Disqualify takes an entry that has withdrawn, too: what is found out later
// takes its results away.
func (c Disqualify) decide(s *day.State, m Meta) ([]day.Event, error) {
	entry, err := s.Entry(c.Entry)
	if err != nil {
		return nil, err
	}
	if entry.Disqualified {
		return nil, refusal.New("entry-out", "number", entry.StartNumber)
	}
	heats := s.HeatsOf(c.Entry)
	ruled, err := ruledBy(s, m, c.Reason, heats...)
	if err != nil {
		return nil, err
	}
	return andPostAll(s, m, heats, day.EntryDisqualified{
		Ruled: ruled, Entry: c.Entry, Ends: ends(heats, c.Entry, day.StatusDisqualified),
	}), nil
}

// ends are the lanes of an entry that it leaves without having raced.
func ends(heats []day.Heat, entry day.EntryID, status day.LaneStatus) []day.LaneNow {
	var out []day.LaneNow
	for _, h := range heats {
		if i, in := h.Lane(entry); in && h.Lanes[i].State != day.LaneDone {
			out = append(out, day.LaneNow{Heat: h.ID, Entry: entry, Out: status, Keeps: kept(h.Lanes[i])})
		}
	}
	return out
}

func andPostAll(s *day.State, m Meta, heats []day.Heat, events ...day.Event) []day.Event {
	for _, h := range heats {
		events = andPost(s, m, h.ID, events...)
	}
	return events
}
