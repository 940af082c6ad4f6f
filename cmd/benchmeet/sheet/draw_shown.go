package sheet

import (
	"slices"

	"benchmeet/bracket"
)

// showDraw writes a draw with the ids of the entries.
func showDraw(lotSeed uint64, d *bracket.Draw, entries []drawEntry) DrawOutput {
	out := DrawOutput{LotSeed: lotSeed, HeatsTotal: d.HeatsTotal(), Legs: d.Legs}
	if runs := d.RunsAtLeast(); len(runs) > 0 {
		out.RunsAtLeast = slices.Min(runs)
	}
	for _, g := range d.Groups {
		out.Groups = append(out.Groups, drawGroup{g.Name, entryIDs(entries, g.Entries)})
	}
	for _, r := range d.Rounds {
		round := drawRound{Number: r.Number, Part: r.Part, Heats: []drawHeat{}, Byes: showSlots(r.Byes, entries)}
		for _, h := range r.Heats {
			round.Heats = append(round.Heats, drawHeat{
				ID: h.ID, Group: h.Group, Lanes: showSlots(h.Lanes, entries), Purpose: h.Purpose, IfNeeded: h.IfNeeded,
			})
		}
		out.Rounds = append(out.Rounds, round)
	}
	for _, n := range d.Notes {
		ids := entryIDs(entries, n.Entries)
		out.Notes = append(out.Notes, drawNote{n.Code, ids, n.Round, n.Group, noteSays(n, ids)})
	}
	return out
}

func showSlots(slots []bracket.Slot, entries []drawEntry) []any {
	var shown []any
	for _, s := range slots {
		switch s.Kind {
		case bracket.EntrySlot:
			shown = append(shown, entries[s.Entry].ID)
		case bracket.WinnerSlot:
			shown = append(shown, map[string]any{"winner_of": s.Heat})
		case bracket.LoserSlot:
			shown = append(shown, map[string]any{"loser_of": s.Heat})
		case bracket.PlaceSlot:
			shown = append(shown, map[string]any{"heat": s.Heat, "place": s.Place})
		case bracket.GroupSlot:
			shown = append(shown, map[string]any{"group": s.Group, "place": s.Place})
		case bracket.NextBestSlot:
			shown = append(shown, map[string]any{"next_best": s.Place})
		case bracket.EmptySlot:
			shown = append(shown, nil)
		}
	}
	return shown
}
