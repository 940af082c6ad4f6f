package programme

import (
	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// FewRuns is an entry whose day in its division would end below the runs that the
// rules promise.
type FewRuns struct {
	Entry day.EntryID
	// Runs is how many races it has had.
	Runs int
}

// TooFewRuns are the entries of a division that race no more by its programme and
// have had fewer races than the rules promise, by start number. Who left is not
// among them, and neither is anybody who may still go on: nothing is said before it
// is sure. A re-run counts as the race that it replaces. Nothing is said either of what
// was asked when the entries were closed or a round was drawn, and somebody went on knowing it.
func TooFewRuns(s *day.State, division day.DivisionID) []FewRuns {
	d, there := s.Divisions[division]
	p := s.Programmes[division]
	if !there || s.Rules.RunsAtLeast == 0 || len(p.Stages) == 0 {
		return nil
	}
	runs, coming := map[day.EntryID]int{}, mayStillRace(s, d)
	for _, h := range s.SortedHeats() {
		if h.Division != division {
			continue
		}
		for _, l := range h.Lanes {
			switch {
			case l.State != day.LaneDone:
				coming[l.Entry] = true
			case raced(ResultOf(s, l)):
				runs[l.Entry]++
			}
		}
	}
	var out []FewRuns
	for _, e := range s.SortedEntries(division) {
		if e.CheckedIn && e.Racing() && !coming[e.ID] && runs[e.ID] < s.Rules.RunsAtLeast &&
			!known(p, s.Rules.RunsAtLeast, runs[e.ID]) {
			out = append(out, FewRuns{e.ID, runs[e.ID]})
		}
	}
	return out
}

// ShortOfPromise says whether the programme of a division, for those who have entered,
// makes sure of fewer races than the rules promise; nil where it does not, or where
// nobody knows yet. What somebody has gone on knowing counts all the same, see [KnownShort].
func ShortOfPromise(s *day.State, division day.DivisionID) *day.ShortOfPromise {
	promised := s.Rules.RunsAtLeast
	if promised == 0 {
		return nil
	}
	sure, known := SureRunsNow(s, division)
	if !known || sure.Runs >= promised {
		return nil
	}
	return &day.ShortOfPromise{Sure: sure.Runs, Promised: promised}
}

// KnownShort says whether somebody was asked about what is short of the promise of a division,
// or about worse, and went on.
func KnownShort(s *day.State, division day.DivisionID, short day.ShortOfPromise) bool {
	return known(s.Programmes[division], short.Promised, short.Sure)
}

// known says whether somebody went on knowing that so many races would be all.
func known(p day.Programme, promised, runs int) bool {
	return p.Short != nil && p.Short.Promised == promised && runs >= p.Short.Sure
}

// mayStillRace are the entries that may get a heat which is not drawn yet.
func mayStillRace(s *day.State, d day.Division) map[day.EntryID]bool {
	out := map[day.EntryID]bool{}
	p := s.Programmes[d.ID]
	if Through(s, d) {
		return out
	}
	stage := len(p.Stages)
	if stageDone(s, d, stage) {
		for _, id := range qualified(s, d, stage+1, nil) {
			out[id] = true
		}
		return out
	}
	_, form := FormOf(d, stage)
	drawn := p.Stages[stage-1]
	if TakesLate(s, d, stage, len(drawn.Rounds)) {
		for _, e := range s.SortedEntries(d.ID) {
			out[e.ID] = true
		}
		return out
	}
	// Whoever is in the stage may go on to the next one, or get another round of it.
	more := stage < len(d.Stages) || drawn.Tree == nil && len(drawn.Rounds) < form.Rounds(s, d, stage)
	for _, id := range drawn.Seeds {
		out[id] = more
	}
	if drawn.Tree == nil || more {
		return out
	}
	results := treeResults(s, d, stage, drawn.Seeds)
	if waitsForNextBest(drawn.Tree, results) {
		for _, id := range drawn.Seeds {
			out[id] = true
		}
		return out
	}
	for _, v := range drawn.Tree.Follow(results) {
		if v.State != bracket.Waiting && v.State != bracket.Ready {
			continue
		}
		for _, at := range v.Lanes {
			if at >= 0 {
				out[seedAt(drawn.Seeds, at)] = true
			}
		}
	}
	return out
}

// waitsForNextBest says whether a lane to come is for one of the next best of a
// round that is not through: it may be anybody's.
func waitsForNextBest(tree *bracket.Draw, results bracket.Results) bool {
	for _, r := range tree.Rounds {
		for _, h := range r.Heats {
			for _, slot := range h.Lanes {
				if _, known := results.NextBest[slot.Round]; slot.Kind == bracket.NextBestSlot && slot.Round > 0 && !known {
					return true
				}
			}
		}
	}
	return false
}
