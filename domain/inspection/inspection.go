package inspection

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// InspectionGrounds says what the inspection table still wants of an entry's car;
// none where it passed, or where its class has no checklist.
func InspectionGrounds(s *day.State, entry day.EntryID) []*refusal.Refusal {
	if len(s.Divisions[s.Entries[entry].Division].Class.Checklist) == 0 {
		return nil
	}
	i := s.Inspections[entry]
	last, seen := i.Last()
	switch {
	case i.Passed:
		return nil
	case i.Lapsed != "" && i.Lapsed != day.ReasonCarChanged:
		return []*refusal.Refusal{refusal.New("inspect-again")}
	case i.Lapsed != "":
		return []*refusal.Refusal{refusal.New("inspect-lapsed")}
	case !seen:
		return []*refusal.Refusal{refusal.New("inspect-none")}
	case len(last.Failed) == 0:
		return nil
	}
	out := []*refusal.Refusal{refusal.New("inspect-failed", "why", last.Says()[0])}
	return append(out, last.Says()[1:]...)
}

// PodiumToCheck are the entries on the first three places of a division whose cars
// are held: the programme is over, and they were not found right since their last
// heat, and nobody ruled about what was found. In the order of the standings.
func PodiumToCheck(s *day.State, division day.DivisionID) []day.EntryID {
	host := programme.Host(s, division) // of a division that races in another and is awarded apart
	d, there := s.Divisions[host]
	if !there || s.Rules.InspectionGate == day.GateOff || len(d.Class.Checklist) == 0 || !programme.Through(s, d) {
		return nil
	}
	if _, open := programme.OpenHeat(s, host); open {
		return nil
	}
	since := LastPostedUS(s, host)
	var out []day.EntryID
	for _, line := range programme.Standings(s, division) {
		last, seen := s.Inspections[line.Entry].Last()
		fine := seen && last.AtUS >= since && (len(last.Failed) == 0 || RuledSince(s, line.Entry, last.AtUS))
		rank := line.Rank
		if line.Band != "" {
			rank = line.BandRank
		}
		ours := line.Band == "" || line.Band == division
		if ours && rank >= 1 && rank <= 3 && !fine {
			out = append(out, line.Entry)
		}
	}
	return out
}

// LastPostedUS is when the last heat of a division was posted; 0 before.
func LastPostedUS(s *day.State, division day.DivisionID) int64 {
	var last int64
	for _, h := range s.Heats {
		if h.Division == division {
			last = max(last, h.PostedUS)
		}
	}
	return last
}

// RuledSince says whether an official ruled about an entry since an instant.
func RuledSince(s *day.State, entry day.EntryID, sinceUS int64) bool {
	for _, r := range s.Rulings {
		if r.Entry == entry && r.AtUS >= sinceUS {
			return true
		}
	}
	return false
}
