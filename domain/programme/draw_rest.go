package programme

import (
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// redealer is a form whose rounds are dealt to heats of any size, so that the rest of a
// round can be dealt again.
type redealer interface{ redeals() bool }

func (r dealt) redeals() bool { return !r.LaneDesign }

// methodRest names the draw in events; raise it when the same seed would give another.
const methodRest = "timed-rounds-rest/1"

// redeals says whether the rest of a round of a stage can be drawn again.
func redeals(d day.Division, stage int) bool {
	form, is := d.Stages[stage-1].Form.(redealer)
	return is && form.redeals()
}

// RestOf are the heats of a round that nobody has raced in and nobody is called to, where
// they can be drawn again.
func RestOf(s *day.State, d day.Division, stage, round int) []day.HeatID {
	if !redeals(d, stage) {
		return nil
	}
	ran := map[day.HeatID]bool{}
	for _, r := range s.Runs { // of calls that were called off and heats that were voided, too
		ran[r.Heat] = true
	}
	var out []day.HeatID
	for _, id := range s.Programmes[d.ID].Stages[stage-1].Rounds[round-1].Heats {
		h := s.Heats[id]
		open := slices.ContainsFunc(h.Lanes, func(l day.Lane) bool { return l.State != day.LaneDone })
		if h.Phase == day.PhaseDrawn && open && !ran[id] {
			out = append(out, id)
		}
	}
	return out
}

// DrawRest deals the cars of the heats that nobody has raced in to heats of as many lanes
// as benches are in service, at most those of the stage. It knows who met whom and who
// had which lane in the other rounds, as the first draw did. Cars that do not race any
// more stay in the round's lists: one each in the first of the new heats.
func DrawRest(s *day.State, d day.Division, stage, round int, lotSeed uint64) (day.RestDrawnAgain, error) {
	out := day.RestDrawnAgain{Division: d.ID, Stage: stage, Round: round, LotSeed: lotSeed, Method: methodRest, Heats: []day.DrawnHeat{}}
	benches := len(BenchesInService(s))
	out.Dropped = RestOf(s, d, stage, round)
	switch {
	case !redeals(d, stage):
		return out, refusal.New("rest-form", "division", d.ID)
	case s.Programmes[d.ID].Stages[stage-1].Rounds[round-1].Closed || len(out.Dropped) == 0:
		return out, refusal.New("rest-none", "division", d.ID, "round", round)
	case benches == 0:
		return out, refusal.New("no-benches")
	}
	var racing, settled []day.EntryID
	for _, id := range out.Dropped {
		for _, l := range s.Heats[id].Lanes {
			if l.State == day.LaneDone {
				settled = append(settled, l.Entry)
			} else {
				racing = append(racing, l.Entry)
			}
		}
	}
	made, err := bracket.TimedRound(upTo(len(racing)), bracket.TimedOptions{
		Round: round, Lanes: min(d.Stages[stage-1].Lanes, benches), Cars: carsOf(s, racing),
		Earlier: otherHeats(s, d, stage, round, racing), LotSeed: lotSeed,
	})
	if err != nil {
		return out, explainDraw(s, err, racing)
	}
	numbers := freeNumbers(s, d, stage, round, out.Dropped)
	for i, h := range made.Heats {
		heat := day.DrawnHeat{Number: numbers(), Entries: []day.EntryID{}}
		for _, slot := range h.Lanes {
			heat.Entries = append(heat.Entries, racing[slot.Entry])
		}
		for k := i; k < len(settled); k += len(made.Heats) {
			heat.Entries = append(heat.Entries, settled[k])
		}
		out.Heats = append(out.Heats, heat)
	}
	return out, nil
}

// otherHeats are the heats of the other rounds of a stage, as positions among entries.
func otherHeats(s *day.State, d day.Division, stage, round int, entries []day.EntryID) [][]int {
	var out [][]int
	for i, r := range s.Programmes[d.ID].Stages[stage-1].Rounds {
		if i+1 == round {
			continue
		}
		for _, id := range r.Heats {
			var heat []int
			for _, l := range s.Heats[id].Lanes {
				at := slices.Index(entries, l.Entry)
				if at < 0 {
					at = len(entries) // one of those who are not drawn: it keeps its lane
				}
				heat = append(heat, at)
			}
			out = append(out, heat)
		}
	}
	return out
}

// freeNumbers gives numbers for the new heats of a round, in rising order: those of
// dropped heats that were never called, then such as no heat had.
func freeNumbers(s *day.State, d day.Division, stage, round int, dropped []day.HeatID) func() int {
	r := s.Programmes[d.ID].Stages[stage-1].Rounds[round-1]
	taken := map[int]bool{}
	for _, number := range r.Spent {
		taken[number] = true
	}
	for _, id := range r.Heats {
		taken[s.Heats[id].Number] = s.Heats[id].Begun() || !slices.Contains(dropped, id)
	}
	next := 0
	return func() int {
		for next++; taken[next]; next++ { //nolint:revive // the condition is the work
		}
		return next
	}
}
