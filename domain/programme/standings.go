package programme

import "benchmeet/domain/day"

// Standings is a division's table, best first: those of the last drawn stage,
// then those who did not reach it as the stage before had them, and so on.
// Before the first draw it is empty. That of a division that races in another has
// its own entries alone.
func Standings(s *day.State, division day.DivisionID) []Standing {
	d, there := s.Divisions[division]
	if !there {
		return nil
	}
	var out []Standing
	if Host(s, division) != division {
		return bandStandings(s, division)
	}
	listed, corrections := map[day.EntryID]int{}, corrections(s)
	for stage := len(s.Programmes[division].Stages); stage >= 1; stage-- {
		_, form := FormOf(d, stage)
		// Behind those with a rank so far; who went on leaves its rank here free.
		ahead := 0
		for _, line := range out {
			if line.Rank > 0 {
				ahead++
			}
		}
		shift := ahead
		for _, line := range form.Rank(s, d, stage) {
			if at, there := listed[line.Entry]; there {
				out[at].Earlier = append(out[at].Earlier, line)
				if line.Rank > 0 {
					shift--
				}
				continue
			}
			listed[line.Entry] = len(out)
			line.Corrections = corrections.of("", line.Entry)
			if line.Rank > 0 {
				line.Rank = max(line.Rank+shift, ahead+1)
			}
			out = append(out, line)
		}
	}
	markFarOff(s, division, out)
	return bands(s, division, disqualifiedLast(out))
}

// Finished says whether a division's programme is through and no lane of it races
// again.
func Finished(s *day.State, division day.DivisionID) bool {
	division = Host(s, division)
	d, there := s.Divisions[division]
	if !there || !Through(s, d) {
		return false
	}
	_, open := OpenHeat(s, division)
	return !open
}

// Winners are the entries on the first rank of a division that is finished; none
// before.
func Winners(s *day.State, division day.DivisionID) []day.EntryID {
	if !Finished(s, division) {
		return nil
	}
	var out []day.EntryID
	for _, line := range Standings(s, division) {
		if line.Rank == 1 {
			out = append(out, line.Entry)
		}
	}
	return out
}
