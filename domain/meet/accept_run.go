package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// AcceptRun lets a waiting run count in a lane. The run that counted there, if
// any, waits from then on.
type AcceptRun struct {
	Run    day.RunID
	Heat   day.HeatID
	Entry  day.EntryID
	Reason day.Reason
}

func (c AcceptRun) decide(s *day.State, m Meta) ([]day.Event, error) {
	r, err := s.Run(c.Run)
	if err != nil {
		return nil, err
	}
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	switch {
	case r.Void:
		return nil, refusal.New("run-void", "run", r.ID)
	case held(s, r.ID, c.Heat, c.Entry):
		return nil, refusal.New("run-counts", "run", r.ID)
	case s.Entries[c.Entry].Disqualified:
		return nil, refusal.New("entry-out", "number", s.Number(c.Entry))
	}
	ruled, err := ruledBy(s, m, c.Reason, h)
	if err != nil {
		return nil, err
	}
	return andPost(s, m, h.ID, day.RunAccepted{
		Ruled: ruled, Run: r.ID, Heat: h.ID, Entry: c.Entry, SetsAside: aside(h.Lanes[i], r.ID),
	}), nil
}

// held says whether a run counts in a lane, or may still count in another one
// than given as the better of two.
func held(s *day.State, run day.RunID, heat day.HeatID, entry day.EntryID) bool {
	r := s.Runs[run]
	h := s.Heats[r.Heat]
	i, in := h.Lane(r.Entry)
	if !in {
		return false
	}
	l := h.Lanes[i]
	return l.Counts == run || l.Decider == run || l.Better == run && (r.Heat != heat || r.Entry != entry)
}
