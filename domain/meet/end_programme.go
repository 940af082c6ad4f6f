package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// EndProgramme ends a division before its last round: the hall closes, or too few
// cars are left. What was raced stands, and the standings as they are become the
// final ones. It is a ruling, and the round under way is closed first.
type EndProgramme struct {
	Division day.DivisionID
	Reason   day.Reason
}

func (c EndProgramme) decide(s *day.State, m Meta) ([]day.Event, error) {
	d, err := programme.Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	if programme.Through(s, d) {
		return nil, refusal.New("programme-over", "division", d.ID)
	}
	if stage, _ := s.Programmes[d.ID].Round(); stage > 0 {
		if open := s.Programmes[d.ID].OpenRounds(stage); len(open) > 0 {
			return nil, refusal.New("round-open", "division", d.ID, "stage", stage, "round", open[0])
		}
	}
	return []day.Event{day.ProgrammeEnded{Ruled: ruled, Division: d.ID}}, nil
}
