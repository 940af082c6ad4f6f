package day

import (
	"slices"

	"benchmeet/bracket"
)

// RoundDrawn says how a round was drawn. With the seed and the method anybody
// can draw it again.
type RoundDrawn struct {
	Division DivisionID `json:"division"`
	Stage    int        `json:"stage"`
	Round    int        `json:"round"`
	// Seeds are the entries in seed order.
	Seeds   []EntryID   `json:"seeds"`
	LotSeed uint64      `json:"lot_seed"`
	Method  string      `json:"method"`
	Heats   []DrawnHeat `json:"heats"`
	Byes    []EntryID   `json:"byes,omitempty"`
	// ByeReasons explain the bye of a Swiss round.
	ByeReasons []bracket.Reason `json:"bye_reasons,omitempty"`
	// Tree comes with the first round of a stage that is drawn as a whole, and with
	// a later one whose lanes had to change.
	Tree *bracket.Draw `json:"tree,omitempty"`
	// Design and Benches come with the first round of a stage whose lanes are shared
	// out by a design.
	Design  bracket.DesignKind `json:"design,omitempty"`
	Benches []BenchID          `json:"benches,omitempty"`
	// Short says that the programme makes sure of fewer races than the rules promise by now,
	// and that somebody was asked and went on; nil where nobody had to be.
	Short *ShortOfPromise `json:"short,omitempty"`
	Aged
}

// DrawnHeat is a heat of a draw.
type DrawnHeat struct {
	Entries  []EntryID      `json:"entries"`
	From     []bracket.Slot `json:"from,omitempty"`
	Third    bool           `json:"third,omitempty"`
	Walkover bool           `json:"walkover,omitempty"`
	// ProtestUntilUS is until when a walkover may be protested.
	ProtestUntilUS int64 `json:"protest_until_us,omitempty"`
	// Out are the entries that are drawn although they take no further part.
	Out []LaneNow `json:"out,omitempty"`
	// Number is the heat's number in its round where it is not its place in the list,
	// and Leg its leg: two race several times.
	Number int `json:"number,omitempty"`
	Leg    int `json:"leg,omitempty"`
	// Benches are those that the draw has planned, one for each entry.
	Benches []BenchID `json:"benches,omitempty"`
	// Group is the letter of the group that meets.
	Group string `json:"group,omitempty"`
	// Reasons explain the pairing of a Swiss round.
	Reasons []bracket.Reason `json:"reasons,omitempty"`
}

// RoundDrawnAgain says how the last round was drawn anew, and why.
type RoundDrawnAgain struct {
	Ruled
	Drawn RoundDrawn `json:"drawn"`
	Aged
}

// Type is the name in the log.
func (RoundDrawn) Type() string { return "RoundDrawn" }

func (e RoundDrawn) apply(s *State) {
	p := s.Programmes[e.Division]
	p.Stages = slices.Clone(p.Stages)
	if e.Round == 1 {
		p.Stages = append(p.Stages, StageState{Tree: e.Tree, Design: e.Design, Benches: e.Benches})
	}
	st := p.Stages[e.Stage-1]
	st.Seeds = e.Seeds
	if e.Round > 1 && e.Tree != nil {
		st.Tree = e.Tree
	}
	round := RoundState{LotSeed: e.LotSeed, Method: e.Method, Byes: e.Byes, ByeReasons: e.ByeReasons, DrawnUS: s.TimeUS, Heats: []HeatID{}}
	for i, drawn := range e.Heats {
		h := drawn.heat(s, e, i+1)
		s.Heats[h.ID] = h
		round.Heats = append(round.Heats, h.ID)
	}
	st.Rounds = append(slices.Clone(st.Rounds), round)
	p.Stages[e.Stage-1] = st
	if e.Short != nil {
		p.Short = e.Short
	}
	s.Programmes[e.Division] = p
}

// heat makes the heat of a draw as it stands at first.
func (drawn DrawnHeat) heat(s *State, e RoundDrawn, number int) Heat {
	if drawn.Number > 0 {
		number = drawn.Number
	}
	h := Heat{
		ID: e.Division.Heat(e.Stage, e.Round, number).Leg(drawn.Leg), Leg: drawn.Leg, Division: e.Division, Stage: e.Stage,
		Round: e.Round, Number: number, Phase: PhaseDrawn, From: drawn.From, Third: drawn.Third, Group: drawn.Group,
		Reasons: drawn.Reasons, Lanes: []Lane{},
	}
	for i, entry := range drawn.Entries {
		lane := Lane{Entry: entry, State: LaneWaiting}
		if i < len(drawn.Benches) {
			lane.Planned = drawn.Benches[i]
		}
		if drawn.Walkover {
			lane.State = LaneDone
		}
		h.Lanes = append(h.Lanes, lane)
	}
	for _, now := range drawn.Out {
		if i, in := h.Lane(now.Entry); in {
			h.Lanes[i].State, h.Lanes[i].Status = LaneDone, now.Out
		}
	}
	if drawn.Walkover {
		h.Phase, h.PostedUS, h.ProtestUntilUS = PhaseProvisional, s.TimeUS, drawn.ProtestUntilUS
	}
	return h
}

// Type is the name in the log.
func (RoundDrawnAgain) Type() string { return "RoundDrawnAgain" }

func (e RoundDrawnAgain) apply(s *State) {
	p := s.Programmes[e.Drawn.Division]
	last, _ := p.Current()
	for _, id := range last.Heats {
		delete(s.Heats, id)
	}
	p.Stages = slices.Clone(p.Stages)
	if e.Drawn.Round == 1 {
		p.Stages = p.Stages[:e.Drawn.Stage-1]
	} else {
		st := p.Stages[e.Drawn.Stage-1]
		st.Rounds = slices.Clone(st.Rounds[:e.Drawn.Round-1])
		p.Stages[e.Drawn.Stage-1] = st
	}
	s.Programmes[e.Drawn.Division] = p
	e.Drawn.apply(s)
	s.rule(e.Type(), e.Ruled, Ruling{Div: e.Drawn.Division})
}
