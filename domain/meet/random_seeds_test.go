package meet_test

import (
	"fmt"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// faultOfSeeds says what is wrong with bands, seed orders or the promise of races.
func faultOfSeeds(s *day.State) string {
	for id, e := range s.Entries {
		if programme.Host(s, e.Home()) != e.Division {
			return fmt.Sprintf("%s is of %s and races in %s", id, e.Home(), e.Division)
		}
	}
	for _, d := range s.SortedDivisions() {
		if programme.Host(s, d.ID) != d.ID && len(s.Programmes[d.ID].Stages) > 0 {
			return fmt.Sprintf("%s races in %s and is drawn", d.ID, programme.Host(s, d.ID))
		}
		seeding, _ := programme.SeedingOf(s, d.ID)
		seen := map[day.EntryID]bool{}
		for _, l := range seeding.Lines {
			if seen[l.Entry] {
				return fmt.Sprintf("%s stands twice in the seed order of %s", l.Entry, d.ID)
			}
			seen[l.Entry] = true
		}
		if _, err := programme.PreviewSeeds(s, d.ID, nil); err != nil {
			if _, is := refusal.As(err); !is {
				return fmt.Sprintf("the preview of %s is refused without a sentence: %v", d.ID, err)
			}
		}
		if says := faultOfPromise(s, d); says != "" {
			return says
		}
	}
	return ""
}

// faultOfPromise finds somebody who is said to race no more and has a lane to race.
func faultOfPromise(s *day.State, d day.Division) string {
	few := programme.TooFewRuns(s, d.ID)
	for _, h := range s.SortedHeats() {
		for _, l := range h.Lanes {
			out := slices.ContainsFunc(few, func(f programme.FewRuns) bool { return f.Entry == l.Entry })
			if h.Division == d.ID && l.State != day.LaneDone && out {
				return fmt.Sprintf("%s races no more and has a lane in %s", l.Entry, h.ID)
			}
		}
	}
	return ""
}
