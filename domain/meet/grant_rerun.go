package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// GrantRerun lets a lane race a second time: one that has a result, or one whose
// bench failed while the others race on. A re-run because of a tie does not
// count against the entry's limit, nor one whose bench was taken out of service under
// the race.
type GrantRerun struct {
	Heat   day.HeatID
	Entry  day.EntryID
	Counts day.RerunCounts
	Reason day.Reason
}

func (c GrantRerun) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason, h)
	if err != nil {
		return nil, err
	}
	entry := s.Entries[c.Entry]
	l := h.Lanes[i]
	free := c.Reason.Code == day.ReasonTie || c.Counts == day.CountsDecider && !l.Decided ||
		l.State == day.LaneRacing && s.Benches[l.Bench].OutOfService // it has had no run
	switch {
	case !day.OneOf(c.Counts, day.CountsRerun, day.CountsBetter, day.CountsDecider):
		return nil, refusal.New("rerun-counts", "counts", c.Counts)
	case !entry.Racing():
		return nil, refusal.New("entry-out", "number", entry.StartNumber)
	case h.Phase == day.PhaseRacing && h.Lanes[i].State == day.LaneRacing:
		// Its bench has failed: the others race on, this lane is called again.
	case h.Lanes[i].State != day.LaneDone:
		return nil, refusal.New("rerun-early", "number", entry.StartNumber, "heat", h.ID)
	case h.Phase == day.PhaseCalled || h.Phase == day.PhaseRacing:
		return nil, refusal.New("rerun-racing", "heat", h.ID)
	}
	if c.Counts == day.CountsDecider {
		if err := programme.MayDecide(s, h, h.Lanes[i], c.Reason.Code); err != nil {
			return nil, err
		}
	}
	switch {
	case !free && entry.Reruns >= s.Rules.RerunsPerEntry:
		return nil, refusal.New("rerun-limit", "number", entry.StartNumber, "limit", s.Rules.RerunsPerEntry)
	case c.Counts != day.CountsRerun && h.Lanes[i].Counts == "":
		return nil, refusal.New("rerun-nothing-better", "number", entry.StartNumber)
	}
	e := day.RerunGranted{Ruled: ruled, Heat: h.ID, Entry: c.Entry, Counts: c.Counts, Free: free}
	if c.Counts == day.CountsRerun {
		e.DropsPenaltyUM = h.Lanes[i].PenaltyUM // it belonged to the run that is replaced
	} else {
		e.Better = h.Lanes[i].Counts
	}
	e.Again = beginAgain(s, h, c.Entry)
	if h.Phase == day.PhaseRacing {
		e.Again = []day.LaneNow{begins(s, c.Entry)} // the others race on
	}
	return []day.Event{e}, nil
}
