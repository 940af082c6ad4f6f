package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// notes are what the draws of a division could not do, or did on purpose.
func (v MeetView) notes(division day.DivisionID) []gen.DrawNote {
	out := []gen.DrawNote{}
	for _, n := range programme.DrawNotes(v.State, division) {
		note := gen.DrawNote{Stage: n.Stage, Round: wire.Opt(n.Round), Code: string(n.Code), Group: wire.Opt(n.Group), Racers: []gen.Racer{}}
		for _, id := range n.Entries {
			note.Racers = append(note.Racers, v.Racer(id))
		}
		out = append(out, note)
	}
	return out
}
