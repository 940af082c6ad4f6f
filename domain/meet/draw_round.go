package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// DrawRound draws the next round of a division: the lots with Meta.Seed, the
// seeds from the stage before. Entries must be closed first. Where the programme makes sure
// of fewer races than the rules promise by now, and nobody has gone on knowing that, it asks.
type DrawRound struct {
	Division day.DivisionID
	// Sure says that somebody was asked and goes on, see [CloseEntries].
	Sure bool
}

// DrawAgain replaces the last drawn round by another draw. It is a ruling, and
// only possible while none of its heats was called. The first round of a stage
// may get another seed order with it.
type DrawAgain struct {
	Division day.DivisionID
	Reason   day.Reason
	// Seeds is the new seed order; nil leaves the one that stands.
	Seeds *programme.SeedOrder
}

func (c DrawRound) decide(s *day.State, m Meta) ([]day.Event, error) {
	d, err := programme.Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	if !s.Programmes[d.ID].EntriesClosed {
		return nil, refusal.New("entries-open", "division", d.ID)
	}
	stage, round, err := programme.NextRound(s, d)
	if err != nil {
		return nil, err
	}
	if round == 1 && programme.WantsSeeds(s, d, stage) {
		return nil, refusal.New("seed-first", "division", d.ID)
	}
	drawn, err := programme.Draw(s, d, stage, round, m.Seed)
	if err != nil {
		return nil, err
	}
	if short := programme.ShortOfPromise(s, d.ID); short != nil && !programme.KnownShort(s, d.ID, *short) {
		if !c.Sure {
			return nil, shortOfPromise(d.ID, *short)
		}
		drawn.Short = short
	}
	return []day.Event{asDrawn(s, m, drawn)}, nil
}

// asDrawn says of the heats of a draw who does not race them, and until when what is a
// walkover may be protested.
func asDrawn(s *day.State, m Meta, drawn day.RoundDrawn) day.RoundDrawn {
	for i := range drawn.Heats {
		h := &drawn.Heats[i]
		for _, entry := range h.Entries {
			if now := begins(s, entry); now.Out != day.StatusNone {
				h.Out = append(h.Out, now)
			}
		}
		if h.Walkover {
			h.ProtestUntilUS = m.NowUS + s.Rules.ProtestUS
		}
	}
	return drawn
}

func (c DrawAgain) decide(s *day.State, m Meta) ([]day.Event, error) {
	d, err := programme.Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	stage, round := s.Programmes[d.ID].Round()
	if round == 0 {
		return nil, refusal.New("nothing-drawn", "division", d.ID)
	}
	last, _ := s.Programmes[d.ID].Current()
	for _, id := range last.Heats {
		if s.Heats[id].Begun() {
			return nil, refusal.New("draw-begun", "heat", id)
		}
	}
	if h, open := programme.OpenHeat(s, d.ID); open && s.RoundClosed(h) {
		return nil, refusal.New("heat-open", "heat", h.ID, "status", h.Phase)
	}
	var events []day.Event
	if c.Seeds != nil {
		if round > 1 {
			return nil, refusal.New("seed-round", "division", d.ID, "stage", stage)
		}
		seeded, err := programme.Seed(s, d, stage, *c.Seeds, m.Seed)
		if err != nil {
			return nil, err
		}
		seeded.By = m.Actor
		events = append(events, seeded)
	}
	drawn, err := programme.Draw(with(s, m.NowUS, events...), d, stage, round, m.Seed)
	if err != nil {
		return nil, err
	}
	return append(events, day.RoundDrawnAgain{Ruled: ruled, Drawn: asDrawn(s, m, drawn)}), nil
}
