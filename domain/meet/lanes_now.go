package meet

import "benchmeet/domain/day"

// begins is the lane of an entry that begins anew: it has to race, unless its entry
// takes no further part.
func begins(s *day.State, entry day.EntryID) day.LaneNow {
	return day.LaneNow{Entry: entry, Out: s.Entries[entry].StatusOut()}
}

// beginAgain are the lanes that begin anew in a heat of which an entry has to race
// again: its own, and that of a car that had a walkover, for it has no run to stand on.
func beginAgain(s *day.State, h day.Heat, entry day.EntryID) []day.LaneNow {
	var out []day.LaneNow
	for _, l := range h.Lanes {
		idle := l.State == day.LaneDone && l.Counts == "" && l.Status == day.StatusNone
		if l.Entry == entry || idle {
			out = append(out, begins(s, l.Entry))
		}
	}
	return out
}

// kept is the earlier run of a lane whose re-run will not be: it counts then.
func kept(l day.Lane) day.RunID {
	if l.Counts == "" {
		return l.Better
	}
	return ""
}

// aside is the run that has to wait where another is put into its lane.
func aside(l day.Lane, run day.RunID) day.RunID {
	if l.Counts == run {
		return ""
	}
	return l.Counts
}
