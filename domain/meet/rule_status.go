package meet

import "benchmeet/domain/refusal"

// RuleStatus rules that a car did not start, did not finish, or is disqualified
// in one heat. StatusNone takes such a ruling back: a run that was there counts
// again, a lane without one has to race.
type RuleStatus struct {
	Heat   HeatID
	Entry  EntryID
	Status LaneStatus
	Reason Reason
}

// StatusRuled says what was ruled of a lane.
type StatusRuled struct {
	Ruled
	Heat   HeatID     `json:"heat"`
	Entry  EntryID    `json:"entry"`
	Status LaneStatus `json:"status"`
}

func (c RuleStatus) decide(s *State, m Meta) ([]Event, error) {
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
	case !OneOf(c.Status, StatusNone, StatusDidNotStart, StatusDidNotFinish, StatusDisqualified):
		return nil, refusal.New("status-word", "status", c.Status)
	case entry.Disqualified,
		entry.Withdrawn && (l.Status == StatusWithdrawn || c.Status == StatusNone && l.Counts == ""):
		return nil, refusal.New("entry-out", "number", entry.StartNumber)
	case l.Status == c.Status:
		return nil, nil
	case c.Status == StatusNone && l.Counts == "" && (h.Phase == PhaseCalled || h.Phase == PhaseRacing):
		return nil, refusal.New("rerun-racing", "heat", h.ID)
	case c.Status == StatusDidNotStart && h.Phase == PhaseCalled && s.RaceClock(m.NowUS) < h.DeadlineUS:
		return nil, refusal.New("call-running", "number", entry.StartNumber)
	case c.Status == StatusDidNotStart && l.Counts != "":
		return nil, refusal.New("did-start", "number", entry.StartNumber)
	case c.Status == StatusDidNotFinish && l.Counts == "" && l.State != LaneRacing:
		return nil, refusal.New("did-not-race", "number", entry.StartNumber)
	}
	return andPost(s, m, h.ID, StatusRuled{Ruled: ruled, Heat: h.ID, Entry: c.Entry, Status: c.Status}), nil
}

// Type is the name in the log.
func (StatusRuled) Type() string { return "StatusRuled" }

func (e StatusRuled) apply(s *State) {
	h := s.Heats[e.Heat]
	i, in := h.Lane(e.Entry)
	if !in {
		return
	}
	l := h.Lanes[i]
	l.Status, l.State, l.Armed = e.Status, LaneDone, ""
	if l.Better != "" && l.Counts == "" && e.Status != StatusDisqualified {
		l.Status = StatusNone // only the re-run was not made; the earlier run counts
	}
	l = l.keptBetter()
	if e.Status == StatusNone && l.Counts == "" {
		l = s.toRace(l)
		h = s.reopened(h)
	}
	s.Heats[e.Heat] = h.withLane(i, l).ebbed()
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Status: e.Status})
}
