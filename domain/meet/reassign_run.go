package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// ReassignRun moves a counting run from its lane to another entry's lane, in the
// same heat or another: the wrong car stood there. The lane that it leaves has
// to race, unless another ruling follows.
type ReassignRun struct {
	Run    day.RunID
	Heat   day.HeatID
	Entry  day.EntryID
	Reason day.Reason
}

func (c ReassignRun) decide(s *day.State, m Meta) ([]day.Event, error) {
	r, err := s.Run(c.Run)
	if err != nil {
		return nil, err
	}
	to, lane, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	from, i, err := s.HeatLane(r.Heat, r.Entry)
	if err != nil || r.Waiting != day.WaitsNot || from.Lanes[i].Counts != r.ID {
		return nil, refusal.New("run-not-counting", "run", r.ID)
	}
	switch {
	case r.Heat == c.Heat && r.Entry == c.Entry:
		return nil, nil
	case s.Entries[c.Entry].Disqualified:
		return nil, refusal.New("entry-out", "number", s.Number(c.Entry))
	case from.Phase == day.PhaseCalled || from.Phase == day.PhaseRacing:
		return nil, refusal.New("rerun-racing", "heat", from.ID)
	case to.Phase == day.PhaseCalled || to.Phase == day.PhaseRacing:
		return nil, refusal.New("rerun-racing", "heat", to.ID)
	}
	ruled, err := ruledBy(s, m, c.Reason, from, to)
	if err != nil {
		return nil, err
	}
	return andPostAll(s, m, []day.Heat{from, to}, day.RunReassigned{
		Ruled: ruled, Run: r.ID, FromHeat: r.Heat, FromEntry: r.Entry, Heat: c.Heat, Entry: c.Entry,
		Again: beginAgain(s, from, r.Entry), SetsAside: aside(to.Lanes[lane], r.ID),
	}), nil
}
