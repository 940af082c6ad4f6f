package meet

import "benchmeet/domain/refusal"

// Reinstate takes a withdrawal or a disqualification of an entry back: it was
// the wrong start number, or a protest was upheld. Lanes that the leaving ended
// race again where the result is not official; in an official heat they stay
// ended until an official takes their status back. A heat in which the entry was
// disqualified by a ruling on that heat alone, with a run, stays as ruled.
type Reinstate struct {
	Entry  EntryID
	Reason Reason
}

// EntryReinstated says that an entry takes part again.
type EntryReinstated struct {
	Ruled
	Entry EntryID `json:"entry"`
}

func (c Reinstate) decide(s *State, m Meta) ([]Event, error) {
	entry, err := s.Entry(c.Entry)
	if err != nil {
		return nil, err
	}
	if entry.Racing() {
		return nil, nil
	}
	heats := s.HeatsOf(c.Entry)
	for _, h := range heats {
		i, _ := h.Lane(c.Entry)
		if h.Lanes[i].EndedByLeaving() && (h.Phase == PhaseCalled || h.Phase == PhaseRacing) {
			return nil, refusal.New("rerun-racing", "heat", h.ID)
		}
	}
	changes := heats
	if !entry.Disqualified {
		changes = nil // its official results stood all the time
	}
	ruled, err := ruledBy(s, m, c.Reason, changes...)
	if err != nil {
		return nil, err
	}
	return andPostAll(s, m, heats, EntryReinstated{ruled, c.Entry}), nil
}

// EndedByLeaving says whether a lane has no run because its entry left.
func (l Lane) EndedByLeaving() bool {
	return l.Counts == "" && (l.Status == StatusWithdrawn || l.Status == StatusDisqualified)
}

// Type is the name in the log.
func (EntryReinstated) Type() string { return "EntryReinstated" }

func (e EntryReinstated) apply(s *State) {
	entry := s.Entries[e.Entry]
	entry.Withdrawn, entry.Disqualified = false, false
	s.Entries[e.Entry] = entry
	for _, h := range s.HeatsOf(e.Entry) {
		i, _ := h.Lane(e.Entry)
		l := h.Lanes[i]
		switch {
		case l.EndedByLeaving() && (h.Phase == PhaseDrawn || h.Phase == PhaseProvisional):
			s.Heats[h.ID] = s.reopened(h.withLane(i, s.toRace(l)))
		case l.Status == StatusWithdrawn && l.Counts != "":
			l.Status = StatusNone
			s.Heats[h.ID] = h.withLane(i, l)
		}
	}
	s.rule(e.Type(), e.Ruled, Ruling{Entry: e.Entry, Div: entry.Division})
}
