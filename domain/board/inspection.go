package board

import (
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/programme"
)

// tableTasks are what the inspector's table asks to decide: cars to hold, cars
// that were not put right in time, and packs that did not come back.
func tableTasks(s *day.State, nowUS int64) []Task {
	var out []Task
	for _, d := range s.SortedDivisions() {
		for _, entry := range inspection.PodiumToCheck(s, d.ID) {
			out = append(out, Task{Kind: TaskPodium, SinceUS: inspection.LastPostedUS(s, d.ID), Division: d.ID, Entry: entry})
		}
	}
	for _, e := range s.SortedEntries("") {
		i := s.Inspections[e.ID]
		last, seen := i.Last()
		if !seen || i.Passed || !e.Racing() || len(last.Failed) == 0 || last.FixUntilUS == 0 || s.RaceClock(nowUS) < last.FixUntilUS {
			continue
		}
		if !inspection.RuledSince(s, e.ID, last.AtUS) {
			out = append(out, Task{Kind: TaskRepair, SinceUS: last.FixUntilUS, Division: e.Division, Entry: e.ID})
		}
	}
	if programme.Over(s) && len(inspection.MissingPacks(s)) > 0 {
		out = append(out, Task{Kind: TaskPacks})
	}
	return out
}
