package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// RuleStatus rules that a car did not start, did not finish, or is disqualified
// in one heat. StatusNone takes such a ruling back: a run that was there counts
// again, a lane without one has to race.
type RuleStatus struct {
	Heat   day.HeatID
	Entry  day.EntryID
	Status day.LaneStatus
	Reason day.Reason
}

func (c RuleStatus) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason, h)
	if err != nil {
		return nil, err
	}
	entry, l := s.Entries[c.Entry], h.Lanes[i]
	switch {
	case !day.OneOf(c.Status, day.StatusNone, day.StatusDidNotStart, day.StatusDidNotFinish, day.StatusDisqualified):
		return nil, refusal.New("status-word", "status", c.Status)
	case entry.Disqualified,
		entry.Withdrawn && (l.Status == day.StatusWithdrawn || c.Status == day.StatusNone && l.Counts == ""):
		return nil, refusal.New("entry-out", "number", entry.StartNumber)
	case l.Status == c.Status:
		return nil, nil
	case c.Status == day.StatusNone && l.Counts == "" && (h.Phase == day.PhaseCalled || h.Phase == day.PhaseRacing):
		return nil, refusal.New("rerun-racing", "heat", h.ID)
	case c.Status == day.StatusDidNotStart && h.Phase == day.PhaseCalled && s.RaceClock(m.NowUS) < h.DeadlineUS:
		return nil, refusal.New("call-running", "number", entry.StartNumber)
	case c.Status == day.StatusDidNotStart && l.Counts != "":
		return nil, refusal.New("did-start", "number", entry.StartNumber)
	case c.Status == day.StatusDidNotFinish && l.Counts == "" && l.State != day.LaneRacing:
		return nil, refusal.New("did-not-race", "number", entry.StartNumber)
	}
	e := day.StatusRuled{Ruled: ruled, Heat: h.ID, Entry: c.Entry, Status: c.Status, Stands: c.Status, Keeps: kept(l)}
	switch {
	case e.Keeps != "" && c.Status != day.StatusDisqualified:
		e.Stands = day.StatusNone // only the re-run was not made; the earlier run counts
	case c.Status == day.StatusNone && l.Counts == "" && e.Keeps == "":
		e.Again = beginAgain(s, h, c.Entry)
	}
	return andPost(s, m, h.ID, e), nil
}
