package meet

import "benchmeet/bracket"

// ThirdLeg is the third leg.
const ThirdLeg = 3

// DeciderDrawn says that the two legs of a heat left it level, so that a third is
// raced. Nobody who has gone home races it; who is left then has a walkover.
type DeciderDrawn struct {
	// Heat is the first leg, whose lanes the decider has.
	Heat           HeatID `json:"heat"`
	ProtestUntilUS int64  `json:"protest_until_us,omitempty"` // of a walkover
	Walkover       bool   `json:"walkover,omitempty"`
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

// LegID is the id of a leg of a heat: the first leg has the heat's own.
func LegID(heat HeatID, leg int) HeatID {
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

// FirstLeg is the first leg of the heat that a leg belongs to.
func FirstLeg(s *State, h Heat) Heat {
	return s.Heats[HeatIDOf(h.Division, h.Stage, h.Round, h.Number)]
}

// legs are the legs of a heat that are drawn, the first one first.
func legs(s *State, first Heat) []Heat {
	var out []Heat
	for n := 1; n <= ThirdLeg; n++ {
		if h, there := s.Heats[LegID(first.ID, n)]; there && h.Leg == n {
			out = append(out, h)
		}
	}
	return out
}

// LegBefore finds a leg that has to be posted before one may be called.
func LegBefore(s *State, h Heat) (HeatID, bool) {
	if h.Leg < 2 {
		return "", false
	}
	for _, leg := range legs(s, FirstLeg(s, h)) {
		if leg.Leg < h.Leg && !leg.Posted() {
			return leg.ID, true
		}
	}
	return "", false
}

// legWinner is the lane of the first leg whose entry won a leg, or negative where
// the leg was level or nobody raced it.
func legWinner(s *State, first, leg Heat) int {
	order, tied := OrderOf(s, leg)
	if tied || len(order) == 0 || order[0].Out {
		return -1
	}
	lane, _ := first.Lane(order[0].Entry)
	return lane
}

// LegWinners are the winners of the legs before the decider, and of the decider
// where it is posted; known once the first two are.
func LegWinners(s *State, first Heat) (winners []int, known bool) {
	legs := legs(s, first)
	if len(legs) < 2 || !legs[0].Posted() || !legs[1].Posted() {
		return nil, false
	}
	for _, leg := range legs {
		if leg.Posted() {
			winners = append(winners, legWinner(s, first, leg))
		}
	}
	return winners, true
}

// decidedBefore says whether the first two legs decide, whatever the decider gave.
func decidedBefore(s *State, leg Heat) bool {
	winners, known := LegWinners(s, FirstLeg(s, leg))
	return known && bracket.DecideLegs(winners[:2]) >= 0
}

// outcomeOf is the order of finish that a heat gives to the draw, and whether it
// is known. Of legs only the first gives one, for all of them together.
func outcomeOf(s *State, h Heat) (order []LaneResult, decided bool) {
	switch h.Leg {
	case 0:
		return finishOf(s, h), h.Posted()
	case 1:
		return Match(s, h)
	}
	return nil, false
}

// Match is the outcome of a heat over its legs. Who never raced a leg is out, and
// where that is both, nobody goes on.
func Match(s *State, first Heat) (order []LaneResult, decided bool) {
	winners, known := LegWinners(s, first)
	if !known {
		return nil, false
	}
	out := make([]LaneResult, len(first.Lanes))
	allOut := true
	legs := legs(s, first)
	for i, l := range first.Lanes {
		out[i] = LaneResult{Entry: l.Entry, Out: true}
		for _, leg := range legs {
			if at, in := leg.Lane(l.Entry); in && leg.Posted() && !ResultOf(s, leg.Lanes[at]).Out {
				out[i].Out, allOut = false, false
			}
		}
	}
	switch won := bracket.DecideLegs(winners); {
	case won == 1:
		out[0], out[1] = out[1], out[0]
		return out, true
	case won == 0 || allOut:
		return out, true
	}
	// Level, and nobody was there for the decider.
	if last := legs[len(legs)-1]; last.Leg == ThirdLeg && last.Posted() && winners[len(winners)-1] < 0 {
		if _, tied := OrderOf(s, last); !tied {
			for i := range out {
				out[i].Out = true
			}
			return out, true
		}
	}
	return nil, false
}

// PlannedBench is the bench on which a lane is to race: the one that the draw has
// planned, or for a later leg the one of the same lane in the first, since the
// lanes are turned round. It is empty where any bench will do.
func PlannedBench(s *State, h Heat, lane int) BenchID {
	if h.Leg < 2 {
		return h.Lanes[lane].Planned
	}
	first := FirstLeg(s, h)
	if lane >= len(first.Lanes) {
		return ""
	}
	if r, ran := s.Runs[first.Lanes[lane].Counts]; ran {
		return r.Bench
	}
	return first.Lanes[lane].Bench
}

// andDecider adds the drawing of a decider to events that leave the legs of a
// heat level, and takes it back where they do not any more and nobody has begun it.
func andDecider(s *State, m Meta, heat HeatID, events ...Event) []Event {
	after := After(s, m.NowUS, events...)
	h, there := after.Heats[heat]
	if !there || h.Leg == 0 {
		return events
	}
	first := FirstLeg(after, h)
	winners, known := LegWinners(after, first)
	if !known {
		return events
	}
	_, drawn := after.Heats[LegID(first.ID, ThirdLeg)]
	level := bracket.DecideLegs(winners[:2]) < 0
	if level && !drawn {
		if _, decided := Match(after, first); decided {
			return events // both are out
		}
		e := DeciderDrawn{Heat: first.ID}
		there := 0
		for _, l := range first.Lanes {
			if after.Entries[l.Entry].Racing() {
				there++
			}
		}
		if e.Walkover = there < 2; e.Walkover && !after.RoundClosed(first) {
			e.ProtestUntilUS = m.NowUS + after.Rules.ProtestUS
		}
		return append(events, e)
	}
	third := after.Heats[LegID(first.ID, ThirdLeg)]
	if drawn && !level && untouched(after, third) && !(third.Begun() && third.Posted()) {
		return append(events, DeciderDropped{Heat: first.ID, Kept: third.Begun()})
	}
	return events
}

// untouched says whether no car stands at a bench for a heat and none has a run.
func untouched(s *State, h Heat) bool {
	for _, l := range h.Lanes {
		if l.Counts != "" || l.Better != "" || OneOf(l.State, LaneCalled, LaneReady, LaneRacing) {
			return false
		}
	}
	return true
}

// Type is the name in the log.
func (DeciderDrawn) Type() string { return "DeciderDrawn" }

func (e DeciderDrawn) apply(s *State) {
	first := s.Heats[e.Heat]
	h := Heat{
		ID: LegID(first.ID, ThirdLeg), Leg: ThirdLeg, Division: first.Division, Stage: first.Stage, Round: first.Round,
		Number: first.Number, Phase: PhaseDrawn, From: first.From, Third: first.Third, Lanes: []Lane{},
	}
	for _, l := range first.Lanes {
		lane := s.toRace(Lane{Entry: l.Entry})
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
	id := LegID(first.ID, ThirdLeg)
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
