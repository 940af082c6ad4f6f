package day

import "slices"

// RestDrawnAgain says that the heats of a round that nobody had raced in were drawn anew,
// for the benches that were left, and why. What was raced stays as it is.
type RestDrawnAgain struct {
	Ruled
	Division DivisionID `json:"division"`
	Stage    int        `json:"stage"`
	Round    int        `json:"round"`
	// Dropped are the heats that the new ones are made of: the same entries, each once.
	Dropped []HeatID `json:"dropped"`
	LotSeed uint64   `json:"lot_seed"`
	Method  string   `json:"method"`
	// Heats are the new ones with their numbers, none of which was called before, so
	// that no bench sends an old run into a new lane.
	Heats []DrawnHeat `json:"heats"`
}

// Type is the name in the log.
func (RestDrawnAgain) Type() string { return "RestDrawnAgain" }

func (e RestDrawnAgain) apply(s *State) {
	lanes := map[EntryID]Lane{}
	r := s.Programmes[e.Division].Stages[e.Stage-1].Rounds[e.Round-1]
	r.Spent = slices.Clone(r.Spent)
	for _, id := range e.Dropped {
		h := s.Heats[id]
		for _, l := range h.Lanes {
			lanes[l.Entry] = l
		}
		if h.Begun() {
			r.Spent = append(r.Spent, h.Number)
		}
		delete(s.Heats, id)
	}
	r.Heats = slices.DeleteFunc(slices.Clone(r.Heats), func(id HeatID) bool { return slices.Contains(e.Dropped, id) })
	for _, drawn := range e.Heats {
		h := Heat{
			ID: e.Division.Heat(e.Stage, e.Round, drawn.Number), Division: e.Division, Stage: e.Stage, Round: e.Round,
			Number: drawn.Number, Phase: PhaseDrawn, Lanes: []Lane{},
		}
		for _, entry := range drawn.Entries {
			h.Lanes = append(h.Lanes, lanes[entry].redrawn())
		}
		s.Heats[h.ID] = h
		r.Heats = append(r.Heats, h.ID)
	}
	s.Programmes[e.Division] = s.Programmes[e.Division].withRound(e.Stage, e.Round, r)
	s.rule(e.Type(), e.Ruled, Ruling{Div: e.Division})
}

// redrawn is a lane that nobody raced in, in another heat: what was ruled on it and the
// pack that was dealt to its car stay, its bench and its calls do not.
func (l Lane) redrawn() Lane {
	l.Bench, l.Planned, l.Armed, l.Pack, l.Attempt = "", "", "", "", 0
	return l
}
