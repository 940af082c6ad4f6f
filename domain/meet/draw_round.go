package meet

import (
	"errors"
	"fmt"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/refusal"
)

// DrawRound draws the next round of a division: the lots with Meta.Seed, the
// seeds from the stage before. Entries must be closed first.
type DrawRound struct {
	Division DivisionID
}

// DrawAgain replaces the last drawn round by another draw. It is a ruling, and
// only possible while none of its heats was called. The first round of a stage
// may get another seed order with it.
type DrawAgain struct {
	Division DivisionID
	Reason   Reason
	// Seeds is the new seed order; nil leaves the one that stands.
	Seeds *SeedOrder
}

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
}

// DrawnHeat is a heat of a draw.
type DrawnHeat struct {
	Entries  []EntryID      `json:"entries"`
	From     []bracket.Slot `json:"from,omitempty"`
	Third    bool           `json:"third,omitempty"`
	Walkover bool           `json:"walkover,omitempty"`
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
}

func (c DrawRound) decide(s *State, m Meta) ([]Event, error) {
	d, err := Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	if !s.Programmes[d.ID].EntriesClosed {
		return nil, refusal.New("entries-open", "division", d.ID)
	}
	stage, round, err := NextRound(s, d)
	if err != nil {
		return nil, err
	}
	if round == 1 && WantsSeeds(s, d, stage) {
		return nil, refusal.New("seed-first", "division", d.ID)
	}
	drawn, err := Draw(s, d, stage, round, m.Seed)
	if err != nil {
		return nil, err
	}
	return []Event{drawn}, nil
}

func (c DrawAgain) decide(s *State, m Meta) ([]Event, error) {
	d, err := Hosting(s, c.Division)
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
	if h, open := OpenHeat(s, d.ID); open && s.RoundClosed(h) {
		return nil, refusal.New("heat-open", "heat", h.ID, "status", h.Phase)
	}
	var events []Event
	if c.Seeds != nil {
		if round > 1 {
			return nil, refusal.New("seed-round", "division", d.ID, "stage", stage)
		}
		seeded, err := Seed(s, d, stage, *c.Seeds, m.Seed)
		if err != nil {
			return nil, err
		}
		seeded.By = m.Actor
		events = append(events, seeded)
	}
	drawn, err := Draw(After(s, m.NowUS, events...), d, stage, round, m.Seed)
	if err != nil {
		return nil, err
	}
	return append(events, RoundDrawnAgain{Ruled: ruled, Drawn: drawn}), nil
}

// Draw makes a round of a stage. A first round takes its seeds from the entries
// or from the stage before, in the order that was given, a later one keeps those of its stage, with late
// entries behind.
func Draw(s *State, d Division, stage, round int, lotSeed uint64) (RoundDrawn, error) {
	if len(BenchesInService(s)) == 0 {
		return RoundDrawn{}, refusal.New("no-benches")
	}
	seeds := SeedsOf(s, d, stage, round)
	if len(seeds) == 0 {
		return RoundDrawn{}, refusal.New("no-entries", "division", d.ID)
	}
	_, form := FormOf(d, stage)
	drawn, err := form.Draw(s, d, stage, round, seeds, lotSeed)
	if err != nil {
		return RoundDrawn{}, explainDraw(s, err, seeds)
	}
	drawn.Division, drawn.Stage, drawn.Round = d.ID, stage, round
	if drawn.Seeds == nil {
		drawn.Seeds = seeds
	}
	drawn.LotSeed = lotSeed
	return drawn, nil
}

func SeedsOf(s *State, d Division, stage, round int) []EntryID {
	if round > 1 {
		seeds := slices.Clone(s.Programmes[d.ID].Stages[stage-1].Seeds)
		if !TakesLate(s, d, stage, round-1) {
			return seeds
		}
		// Who entered late, and who entered in time and came late.
		for _, e := range s.SortedEntries(d.ID) {
			if e.CheckedIn && e.Racing() && !slices.Contains(seeds, e.ID) {
				seeds = append(seeds, e.ID)
			}
		}
		return seeds
	}
	field := candidates(s, d, stage)
	if stage == 1 {
		field = slices.DeleteFunc(field, func(id EntryID) bool { return !s.Entries[id].CheckedIn })
	}
	return inOrder(s, d, stage, field)
}

// inOrder is a field in the seed order that was given for a stage, if any.
func inOrder(s *State, d Division, stage int, field []EntryID) []EntryID {
	if list, has := seedListOf(s.Programmes[d.ID], stage); has {
		field, _ = orderedBy(list, field)
	}
	return field
}

// qualified are the entries that go on to a stage, in seed order: those of the
// stage before by rank, without who is out of the day. Who is among drawn went
// on while it was still in, so leaving later does not let another one in.
func qualified(s *State, d Division, stage int, drawn []EntryID) []EntryID {
	var seeds []EntryID
	_, before := FormOf(d, stage-1)
	most := d.Stages[stage-1].Entries
	for _, line := range before.Rank(s, d, stage-1) {
		in := s.Entries[line.Entry].Racing() || slices.Contains(drawn, line.Entry)
		if line.Rank > 0 && in && (most == 0 || len(seeds) < most) {
			seeds = append(seeds, line.Entry)
		}
	}
	return seeds
}

// explainDraw names the entries of a refused draw by their start numbers.
func explainDraw(s *State, err error, seeds []EntryID) error {
	var no *bracket.Refusal
	if !errors.As(err, &no) {
		return err
	}
	numbers := ""
	for i, at := range no.Entries {
		if i > 0 {
			numbers += ", "
		}
		if at >= 0 && at < len(seeds) {
			numbers += fmt.Sprint(s.Entries[seeds[at]].StartNumber)
		}
	}
	if numbers == "" {
		numbers = "–"
	}
	return refusal.New("draw-refused", "rule", no.Says, "numbers", numbers)
}

// carsOf numbers the cars of entries so that equal cars have equal numbers.
func carsOf(s *State, entries []EntryID) []int {
	at := map[CarID]int{}
	out := make([]int, len(entries))
	for i, id := range entries {
		car := s.Entries[id].Car
		n, seen := at[car]
		if !seen {
			n = len(at)
			at[car] = n
		}
		out[i] = n
	}
	return out
}

func BenchesInService(s *State) []Bench {
	all := s.SortedBenches()
	return slices.DeleteFunc(all, func(b Bench) bool { return b.OutOfService })
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
	s.Programmes[e.Division] = p
}

// heat makes the heat of a draw as it stands at first.
func (drawn DrawnHeat) heat(s *State, e RoundDrawn, number int) Heat {
	if drawn.Number > 0 {
		number = drawn.Number
	}
	h := Heat{
		ID: LegID(HeatIDOf(e.Division, e.Stage, e.Round, number), drawn.Leg), Leg: drawn.Leg, Division: e.Division, Stage: e.Stage,
		Round: e.Round, Number: number, Phase: PhaseDrawn, From: drawn.From, Third: drawn.Third, Group: drawn.Group, Reasons: drawn.Reasons, Lanes: []Lane{},
	}
	for i, entry := range drawn.Entries {
		lane := Lane{Entry: entry, State: LaneWaiting}
		if i < len(drawn.Benches) {
			lane.Planned = drawn.Benches[i]
		}
		if status := s.Entries[entry].StatusOut(); status != StatusNone {
			lane.State, lane.Status = LaneDone, status
		} else if drawn.Walkover {
			lane.State = LaneDone
		}
		h.Lanes = append(h.Lanes, lane)
	}
	if drawn.Walkover {
		h.Phase, h.PostedUS, h.ProtestUntilUS = PhaseProvisional, s.TimeUS, s.TimeUS+s.Rules.ProtestUS
	}
	return h
}

// StatusOut is the lane status of an entry that no longer takes part.
func (e Entry) StatusOut() LaneStatus {
	switch {
	case e.Disqualified: // also of an entry that had withdrawn before
		return StatusDisqualified
	case e.Withdrawn:
		return StatusWithdrawn
	}
	return StatusNone
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
