package programme

import (
	"slices"

	"benchmeet/domain/day"
)

// tiedLast are the lanes of a last round whose cars share a rank across a line
// that matters. A tie with somebody who has left stays shared.
func tiedLast(s *day.State, heats []day.HeatID, rank func(*day.State, day.Division, int) []Standing) []TiedLane {
	open := func(id day.HeatID) bool { return !s.Heats[id].Posted() }
	if s.Rules.Tie != day.TieDecider || len(heats) == 0 || slices.ContainsFunc(heats, open) {
		return nil
	}
	last := s.Heats[heats[0]]
	d := s.Divisions[last.Division]
	if _, form := FormOf(d, last.Stage); last.Round < form.Rounds(s, d, last.Stage) {
		return nil
	}
	lines := rank(s, d, last.Stage)
	for _, at := range decisiveLines(s, d, last.Stage) {
		if at >= len(lines) || lines[at].Rank == 0 || lines[at].Rank != lines[at-1].Rank {
			continue
		}
		var among []day.EntryID
		for _, l := range lines {
			if l.Rank == lines[at].Rank && l.valued() && s.Entries[l.Entry].Racing() {
				among = append(among, l.Entry)
			}
		}
		if tied := tiedLanes(s, heats, among); len(tied) > 1 {
			return tied
		}
	}
	return nil
}

// earlierHeats are the heats of the stage's rounds before one, as positions in
// the seeds, so that a draw can change who meets whom.
func earlierHeats(s *day.State, d day.Division, stage, round int, seeds []day.EntryID) [][]int {
	at := make(map[day.EntryID]int, len(seeds))
	for i, id := range seeds {
		at[id] = i
	}
	var out [][]int
	if round == 1 {
		return nil
	}
	for _, r := range s.Programmes[d.ID].Stages[stage-1].Rounds[:round-1] {
		for _, id := range r.Heats {
			var heat []int
			for _, l := range s.Heats[id].Lanes {
				heat = append(heat, at[l.Entry])
			}
			out = append(out, heat)
		}
	}
	return out
}

// decisiveLines are the places in the table where being too close to call
// matters: the prizes and the last that goes on.
func decisiveLines(s *day.State, d day.Division, stage int) []int {
	if stage < len(d.Stages) {
		if most := d.Stages[stage].Entries; most > 0 {
			return []int{most}
		}
		return []int{1} // all go on; only the first seed is of interest
	}
	return []int{1, 2, 3}
}

// lines are those of the entries of a stage, before they are ranked.
type lines struct {
	all []Standing
	at  map[day.EntryID]int
}

// of is an entry's line.
func (l lines) of(id day.EntryID) Standing {
	if i, there := l.at[id]; there {
		return l.all[i]
	}
	return Standing{}
}

// put replaces the line of its entry.
func (l lines) put(line Standing) {
	if i, there := l.at[line.Entry]; there {
		l.all[i] = line
	}
}

// stageLines starts the line of every entry of a stage, with its runs by round.
func stageLines(s *day.State, d day.Division, stage int) lines {
	drawn := s.Programmes[d.ID].Stages[stage-1]
	out := lines{make([]Standing, len(drawn.Seeds)), make(map[day.EntryID]int, len(drawn.Seeds))}
	for i, id := range drawn.Seeds {
		out.all[i], out.at[id] = standingOf(s, id, stage), i
	}
	corrections := corrections(s)
	for i, r := range drawn.Rounds {
		for _, id := range r.Heats {
			for _, l := range s.Heats[id].Lanes {
				at, there := out.at[l.Entry]
				if !there || l.State != day.LaneDone && !l.Deciding {
					continue
				}
				res := ResultOf(s, l)
				line := &out.all[at]
				if line.Runs == nil {
					line.Runs = make([]TimedRun, 0, len(drawn.Rounds))
				}
				line.Runs = append(line.Runs, TimedRun{
					Round: i + 1, Heat: id, Run: res.Run, Status: res.Status,
					DistanceUM: res.DistanceUM, UUM: res.UUM, LowUM: res.LowUM, HighUM: res.HighUM, Valued: res.Valued,
					FactorPPM: res.FactorPPM, AsReadUM: res.AsReadUM, PenaltyUM: l.PenaltyUM, Corrections: corrections.of(id, l.Entry),
				})
			}
		}
	}
	return out
}
