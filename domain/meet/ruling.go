package meet

import (
	"benchmeet/domain/day"
)

// ruledLane finds the lane that a ruling is about, which changes no result.
func ruledLane(s *day.State, m Meta, heat day.HeatID, entry day.EntryID, r day.Reason) (h day.Heat, lane int, ruled day.Ruled, err error) {
	if h, lane, err = s.HeatLane(heat, entry); err != nil {
		return h, lane, ruled, err
	}
	ruled, err = ruledBy(s, m, r)
	return h, lane, ruled, err
}

// ruledBy fills the shared part of a ruling's event, numbering it as a correction
// where one of the heats is in a round that was closed.
func ruledBy(s *day.State, m Meta, r day.Reason, heats ...day.Heat) (day.Ruled, error) {
	if err := r.Check(); err != nil {
		return day.Ruled{}, err
	}
	out := day.Ruled{By: m.Actor, Reason: r}
	for _, h := range heats {
		if h.Phase == day.PhaseOfficial || s.RoundClosed(h) {
			out.Correction = s.Corrections + 1
		}
	}
	return out, nil
}
