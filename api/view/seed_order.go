package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// SeedOrder is who is seeded where in the next draw of a division, with what the
// club has rated in its class.
func (v MeetView) SeedOrder(d day.Division, ratings map[day.EntrantID]club.Rating) gen.SeedOrder {
	s, _ := programme.SeedingOf(v.State, d.ID)
	out := gen.SeedOrder{
		Division: string(d.ID), Name: &d.Name, Seq: v.Head.Seq, Stage: s.Stage, Open: s.Open, Dealt: s.Dealt,
		Usual: wire.Word[gen.SeedMethod](s.Usual), Method: wire.OptWord[gen.SeedMethod](s.Method),
		Lines: []gen.SeedLine{}, Gone: []gen.Racer{},
	}
	for _, l := range s.Lines {
		e := v.State.Entries[l.Entry]
		line := gen.SeedLine{
			Racer: v.Racer(l.Entry), Club: wire.Opt(e.Team), CheckedIn: e.CheckedIn, Rank: wire.Opt(l.Rank), Late: l.Late, ByLot: l.ByLot,
		}
		if r, rated := ratings[e.Entrant]; rated {
			line.Rating, line.Deviation = wire.Opt(wire.Thousandths(r.Milli)), wire.Opt(wire.Thousandths(r.DeviationMilli))
		}
		out.Lines = append(out.Lines, line)
	}
	for _, id := range s.Gone {
		out.Gone = append(out.Gone, v.Racer(id))
	}
	return out
}

// SeedPreview is the first round that a seed order would give.
func SeedPreview(v MeetView, p programme.SeedPreview) gen.SeedPreview {
	out := gen.SeedPreview{Stage: p.Stage, Heats: []gen.SeedPreviewHeat{}, Byes: previewSlots(v, p.Byes)}
	for _, h := range p.Heats {
		out.Heats = append(out.Heats, gen.SeedPreviewHeat{Group: wire.Opt(h.Group), Slots: previewSlots(v, h.Entries)})
	}
	return out
}

func previewSlots(v MeetView, entries []day.EntryID) []gen.SeedPreviewSlot {
	out := []gen.SeedPreviewSlot{}
	for _, id := range entries {
		out = append(out, gen.SeedPreviewSlot{Racer: v.optRacer(id)})
	}
	return out
}
