package day

import "benchmeet/bracket"

// DeciderDrawn says that the two legs of a heat left it level, so that a third is
// raced. Nobody who has gone home races it; who is left then has a walkover.
type DeciderDrawn struct {
	// Heat is the first leg, whose lanes the decider has.
	Heat           HeatID `json:"heat"`
	ProtestUntilUS int64  `json:"protest_until_us,omitempty"` // of a walkover
	Walkover       bool   `json:"walkover,omitempty"`
	// Again are its lanes.
	Again []LaneNow `json:"again,omitempty"`
	Aged
}

// DeciderDropped says that a decider which nobody has raced is not needed any
// more: a leg was corrected.
type DeciderDropped struct {
	// Heat is the first leg.
	Heat HeatID `json:"heat"`
	// Kept says that the decider was called once, so it stays in the lists: posted,
	// without a race.
	Kept bool `json:"kept,omitempty"`
}

// Leg is the id of a leg of a heat, from 1: the first leg has the heat's own.
func (heat HeatID) Leg(leg int) HeatID {
	if leg < 2 {
		return heat
	}
	return HeatID(string(heat) + "." + string(rune('0'+leg)))
}

// OfLeg is a heat of a draw as one of its legs, with the lanes turned round in
// every second one.
func (drawn DrawnHeat) OfLeg(n int) DrawnHeat {
	drawn.Leg = n
	if n%2 == 1 || len(drawn.Entries) != 2 {
		return drawn
	}
	at := bracket.LegLanes([2]int{0, 1}, n)
	drawn.Entries = []EntryID{drawn.Entries[at[0]], drawn.Entries[at[1]]}
	if len(drawn.From) == 2 {
		drawn.From = []bracket.Slot{drawn.From[at[0]], drawn.From[at[1]]}
	}
	return drawn
}

// Type is the name in the log.
func (DeciderDrawn) Type() string { return "DeciderDrawn" }

func (e DeciderDrawn) apply(s *State) {
	first := s.Heats[e.Heat]
	h := Heat{
		ID: first.ID.Leg(ThirdLeg), Leg: ThirdLeg, Division: first.Division, Stage: first.Stage, Round: first.Round,
		Number: first.Number, Phase: PhaseDrawn, From: first.From, Third: first.Third, Lanes: []Lane{},
	}
	for _, now := range e.Again {
		lane := Lane{Entry: now.Entry}.anew(now.Out)
		if e.Walkover {
			lane.State = LaneDone
		}
		h.Lanes = append(h.Lanes, lane)
	}
	if e.Walkover {
		h.Phase, h.PostedUS, h.ProtestUntilUS = PhaseProvisional, s.TimeUS, e.ProtestUntilUS
		if s.RoundClosed(first) {
			h.Phase = PhaseOfficial
		}
	}
	s.Heats[h.ID] = h
	p := s.Programmes[h.Division]
	r := p.Stages[h.Stage-1].Rounds[h.Round-1]
	r.Heats = append(r.Heats[:len(r.Heats):len(r.Heats)], h.ID)
	s.Programmes[h.Division] = p.withRound(h.Stage, h.Round, r)
}

// Type is the name in the log.
func (DeciderDropped) Type() string { return "DeciderDropped" }

func (e DeciderDropped) apply(s *State) {
	first := s.Heats[e.Heat]
	id := first.ID.Leg(ThirdLeg)
	if e.Kept {
		h := s.Heats[id].withLanes(func(_ int, l Lane) Lane {
			l.State = LaneDone
			return l
		})
		h.Phase, h.PostedUS, h.ProtestUntilUS = PhaseProvisional, s.TimeUS, 0
		if s.RoundClosed(h) {
			h.Phase = PhaseOfficial
		}
		s.Heats[id] = h
		return
	}
	delete(s.Heats, id)
	p := s.Programmes[first.Division]
	r := p.Stages[first.Stage-1].Rounds[first.Round-1]
	var left []HeatID
	for _, other := range r.Heats {
		if other != id {
			left = append(left, other)
		}
	}
	r.Heats = left
	s.Programmes[first.Division] = p.withRound(first.Stage, first.Round, r)
}
