package programme

import (
	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// Part says where a round stands in a stage that was drawn as a whole.
type Part struct {
	// Part is bracket's name of the part that the round belongs to; empty for most.
	Part string
	// Left is how many rounds of the part there are from this one on: 1 is its last.
	// It is 0 where the stage has no such draw.
	Left int
	// Number counts the rounds of the part from 1; 0 where the stage has no such draw.
	Number int
}

// PartOf says where a drawn or coming round stands in its stage's draw.
func PartOf(s *day.State, d day.DivisionID, stage, round int) Part {
	p := s.Programmes[d]
	if stage < 1 || len(p.Stages) < stage || p.Stages[stage-1].Tree == nil {
		return Part{}
	}
	return partOf(p.Stages[stage-1].Tree, round)
}

func partOf(tree *bracket.Draw, round int) Part {
	if round < 1 || round > len(tree.Rounds) {
		return Part{}
	}
	out := Part{Part: tree.Rounds[round-1].Part}
	for i, r := range tree.Rounds {
		switch {
		case r.Part != out.Part:
		case i < round-1:
			out.Number++
		default:
			out.Left++
		}
	}
	out.Number++
	return out
}
