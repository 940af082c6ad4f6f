package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// Reinstate takes a withdrawal or a disqualification of an entry back: it was
// the wrong start number, or a protest was upheld. Lanes that the leaving ended
// race again where the result is not official; in an official heat they stay
// ended until an official takes their status back. A heat in which the entry was
// disqualified by a ruling on that heat alone, with a run, stays as ruled.
type Reinstate struct {
	Entry  day.EntryID
	Reason day.Reason
}

func (c Reinstate) decide(s *day.State, m Meta) ([]day.Event, error) {
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
		if h.Lanes[i].EndedByLeaving() && (h.Phase == day.PhaseCalled || h.Phase == day.PhaseRacing) {
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
	e := day.EntryReinstated{Ruled: ruled, Entry: c.Entry}
	for _, h := range heats {
		i, _ := h.Lane(c.Entry)
		l := h.Lanes[i]
		switch {
		case l.EndedByLeaving() && day.OneOf(h.Phase, day.PhaseDrawn, day.PhaseProvisional):
			for _, now := range beginAgain(s, h, c.Entry) {
				if now.Heat = h.ID; now.Entry == c.Entry {
					now.Out = day.StatusNone // from now on
				}
				e.Again = append(e.Again, now)
			}
		case l.Status == day.StatusWithdrawn && l.Counts != "":
			e.Clears = append(e.Clears, h.ID)
		}
	}
	return andPostAll(s, m, heats, e), nil
}
