package board

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// Bye is a round that is under way and who has no race in it.
type Bye struct {
	Division     day.DivisionID
	Stage, Round int
	Entries      []day.EntryID
}

// Byes are the rounds under way, by division and round, in which somebody who still takes
// part has no race: nobody has to wait for a call that does not come.
func Byes(s *day.State) []Bye {
	var out []Bye
	for _, d := range s.SortedDivisions() {
		p := s.Programmes[d.ID]
		stage, _ := p.Round()
		if stage == 0 || programme.Host(s, d.ID) != d.ID {
			continue
		}
		for _, round := range p.OpenRounds(stage) {
			of := Bye{Division: d.ID, Stage: stage, Round: round}
			for _, id := range p.Stages[stage-1].Rounds[round-1].Byes {
				if s.Entries[id].Racing() {
					of.Entries = append(of.Entries, id)
				}
			}
			if len(of.Entries) > 0 {
				out = append(out, of)
			}
		}
	}
	return out
}
