package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// CarDay is the day of one car as everybody may see it; false where there is no such
// entry. Its cost goes with the runs and heats of the whole day.
func (v MeetView) CarDay(id day.EntryID) (gen.CarDay, bool) {
	e, there := v.State.Entries[id]
	if !there {
		return gen.CarDay{}, false
	}
	out := CarHead(v, e)
	out.Seq, out.Heats, out.Runs = v.Head.Seq, []gen.Heat{}, []gen.Run{}
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

// CarHead is the day of a car without its heats and runs. It follows from its entry and
// from what concerns the whole of its division.
func CarHead(v MeetView, e day.Entry) gen.CarDay {
	out := gen.CarDay{Entry: v.Entry(e), Corrections: wire.ShowCorrections(programme.PlaceCorrections(v.State, e.ID))}
	if published := v.State.Programmes[programme.Host(v.State, e.Division)].Published; len(published) > 0 {
		out.PublishedAt = wire.OptInstant(published[len(published)-1].AtUS)
	}
	return out
}
