package view

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
)

// CarDay is the day of one car as everybody may see it; false where there is no such
// entry. Its cost goes with the runs and heats of the whole day.
func (v MeetView) CarDay(id day.EntryID) (gen.CarDay, bool) {
	e, there := v.State.Entries[id]
	if !there {
		return gen.CarDay{}, false
	}
	out := gen.CarDay{Seq: v.Head.Seq, Entry: v.Entry(e), Heats: []gen.Heat{}, Runs: []gen.Run{}}
	for _, h := range v.State.SortedHeats() {
		if _, races := h.Lane(id); races {
			out.Heats = append(out.Heats, v.Heat(h.ID))
		}
	}
	batteries := RunBatteries(v.State)
	for _, r := range v.State.SortedRuns() {
		if r.Entry == id {
			out.Runs = append(out.Runs, v.Run(r, batteries[r.ID]))
		}
	}
	return out, true
}
