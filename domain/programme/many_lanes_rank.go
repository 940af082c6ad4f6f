package programme

import (
	"cmp"
	"fmt"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/standings"
)

// reached says how far an entry came in a stage of heats of many; the fields
// compare in order, and the smaller is the better.
type reached struct {
	// group is 0 for who still races for the final, then the final, the B-final, and
	// the rounds from the last one back.
	group int
	// class is 0 for a distance, 1 for a race without one, 2 for none.
	class int
	// shortUM is the distance below zero, so that the longer one is the smaller.
	shortUM int64
	uUM     int64
	// pending is true before the race that decides the place in the group.
	pending bool
}

// Groups of reached.
const (
	stillIn     = 0
	inFinal     = 1
	inBFinal    = 2
	outInRounds = 3 // and one more for each round before the last
)

func compareReached(a, b reached) int {
	return cmp.Or(cmp.Compare(a.group, b.group), cmp.Compare(a.class, b.class), cmp.Compare(a.shortUM, b.shortUM))
}

// Rank orders by the final, then the B-final, then by the round in which an entry
// went out and its distance in it. Equals share a rank; where the rules say so,
// their other runs part them. Who may still go on shares the first rank.
func (m manyLanes) Rank(s *day.State, d day.Division, stage int) []Standing {
	drawn := s.Programmes[d.ID].Stages[stage-1]
	far := m.reached(s, d, stage)
	lines := stageLines(s, d, stage)
	out := make([]Standing, 0, len(drawn.Seeds))
	for _, id := range drawn.Seeds {
		line := lines.of(id)
		if r := far[id]; !r.pending {
			line.Exit = exitOfHeats(r.group, len(drawn.Tree.Rounds))
			line.DistanceUM, line.UUM = -r.shortUM, r.uUM
		}
		out = append(out, line)
	}
	level := func(a, b Standing) int {
		return cmp.Or(CompareBool(a.Disqualified(), b.Disqualified()), compareReached(far[a.Entry], far[b.Entry]))
	}
	compare := func(a, b Standing) int {
		if order := level(a, b); order != 0 || s.Rules.Tie != day.TieNextBest || far[a.Entry].pending {
			return order
		}
		return slices.Compare(best(b), best(a))
	}
	slices.SortStableFunc(out, compare)
	rankLines(out, compare)
	for i := range out {
		if out[i].Rank == 1 && far[out[i].Entry].group == inFinal {
			out[i].Exit = "" // it won
		}
	}
	for i := 1; i < len(out); i++ {
		if out[i].Rank > 0 && out[i].Rank != out[i-1].Rank && level(out[i-1], out[i]) == 0 {
			out[i].DecidedBy = standings.NextBest
		}
	}
	return disqualifiedLast(out)
}

// best are the distances of a line, the longest first.
func best(l Standing) []int64 {
	var out []int64
	for _, r := range l.Runs {
		if r.Valued {
			out = append(out, r.DistanceUM)
		}
	}
	slices.SortFunc(out, func(a, b int64) int { return cmp.Compare(b, a) })
	return out
}

// reached says of every entry of a stage how far it came.
func (m manyLanes) reached(s *day.State, d day.Division, stage int) map[day.EntryID]reached {
	drawn := s.Programmes[d.ID].Stages[stage-1]
	far := map[day.EntryID]reached{}
	for i, round := range drawn.Rounds {
		_, all := m.nextBest(s, d, stage, i+1)
		for _, id := range round.Heats {
			h := s.Heats[id]
			purpose := Purpose(s, h)
			last := i+1 == len(drawn.Tree.Rounds)
			for place, r := range drawnFinish(s, h) {
				at := reached{group: outInRounds + len(drawn.Tree.Rounds) - 2 - i}
				switch {
				case purpose == bracket.BFinal:
					at.group = inBFinal
				case last:
					at.group = inFinal
				}
				switch {
				case !h.Posted() && purpose == bracket.BFinal:
					at.pending = true // they share its best rank
				case !h.Posted():
					at.group, at.pending = stillIn, true
				case r.Out:
					at.class = 2
				case !last && (place < m.Advance || !all):
					at.group, at.pending = stillIn, true // goes on, or may
				case !r.Valued:
					at.class = 1
				default:
					at.shortUM, at.uUM = -r.DistanceUM, r.UUM
				}
				far[r.Entry] = at
			}
		}
	}
	// Those who have a lane in a round to come are still in.
	for _, v := range drawn.Tree.Follow(treeResults(s, d, stage, drawn.Seeds)) {
		if v.Round <= len(drawn.Rounds) {
			continue
		}
		to := reached{pending: true}
		if h, _ := drawn.Tree.Heat(v.ID); h.Purpose == bracket.BFinal {
			to.group = inBFinal
		}
		for _, at := range v.Lanes {
			if at >= 0 {
				far[seedAt(drawn.Seeds, at)] = to
			}
		}
	}
	return far
}

// exitOfHeats is how far an entry came as a word for the catalogue: "in-final",
// "b-final", or "heats-N" for the N-th round.
func exitOfHeats(group, rounds int) string {
	switch group {
	case inFinal:
		return "in-final"
	case inBFinal:
		return "b-final"
	}
	return fmt.Sprintf("heats-%d", rounds-1-(group-outInRounds))
}
