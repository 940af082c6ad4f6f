package meet

import "benchmeet/domain/refusal"

// Stage kinds.
const (
	TimedRounds       StageKind = "timed-rounds"
	Knockout          StageKind = "knockout"
	DoubleElimination StageKind = "double-elimination"
	RoundRobin        StageKind = "round-robin"
	Swiss             StageKind = "swiss"
	Groups            StageKind = "groups"
	Heats             StageKind = "heats"
	PointsRounds      StageKind = "points-rounds"
)

// format is one form of competition. A further form is a file with a type that
// implements this, and a line in the table below; nothing else asks which form a
// stage has.
type format interface {
	// check refuses settings of a stage that the form cannot have.
	check(d DivisionID, number int, st Stage) error
	// takesLate says whether an entry may still come after so many drawn rounds.
	takesLate(st Stage, drawn int) bool
	// rounds is how many rounds the stage has in all, once it is drawn.
	rounds(s *State, d Division, stage int) int
	// draw makes the next round from the seeds. It fills Heats, Byes, Method and,
	// where the form has one, Tree; the caller fills the rest.
	draw(s *State, d Division, stage, round int, seeds []EntryID, lotSeed uint64) (RoundDrawn, error)
	// walkover says whether the last car left in a heat need not race.
	walkover() bool
	// tied finds what has to be raced again before the round can be closed, because
	// the form needs an order; nothing where it has one.
	tied(s *State, heats []HeatID) []tiedLane
	// rank orders the stage's entries, best first.
	rank(s *State, d Division, stage int) []Standing
}

// tiedLane is a lane that cannot be told from another; without an entry it is a
// whole heat of two.
type tiedLane struct {
	heat  HeatID
	entry EntryID
}

var formats map[StageKind]format

func init() {
	// In init, because the forms themselves look others up.
	formats = map[StageKind]format{
		TimedRounds:       timedRounds{},
		Knockout:          knockout{},
		DoubleElimination: doubleElimination{},
		RoundRobin:        roundRobin{},
		Swiss:             swiss{},
		Groups:            groups{},
		Heats:             manyLanes{},
		PointsRounds:      pointsRounds{},
	}
}

func formatOf(d Division, stage int) (Stage, format) {
	st := d.Stages[stage-1]
	return st, formats[st.Kind]
}

// stageDone says whether every round of a stage was drawn and closed.
func (s *State) stageDone(d Division, stage int) bool {
	p := s.Programmes[d.ID]
	if len(p.Stages) < stage {
		return false
	}
	drawn := p.Stages[stage-1]
	_, form := formatOf(d, stage)
	if len(drawn.Rounds) < form.rounds(s, d, stage) {
		return false
	}
	return drawn.Rounds[len(drawn.Rounds)-1].Closed
}

// openHeat finds a heat of a division whose result is not posted, those of
// earlier rounds first.
func (s *State) openHeat(d DivisionID) (Heat, bool) {
	for _, h := range s.SortedHeats() {
		if h.Division == d && !h.posted() {
			return h, true
		}
	}
	return Heat{}, false
}

// next says which stage and round of a division is to be drawn now, both from 1.
// It refuses while the last round is open and when the programme is through.
func (s *State) next(d Division) (stage, round int, err error) {
	p := s.Programmes[d.ID]
	stage, round = p.round()
	switch {
	case p.EndedEarly:
		return 0, 0, refusal.New("programme-over", "division", d.ID)
	case stage == 0:
		return 1, 1, nil
	}
	// A closed round can be open again in part: a ruling let a lane race once
	// more, and who goes on depends on it.
	if h, open := s.openHeat(d.ID); open && s.roundClosed(h) {
		return 0, 0, refusal.New("heat-open", "heat", h.ID, "status", h.Phase)
	}
	if last, _ := p.current(); !last.Closed {
		return 0, 0, refusal.New("round-open", "division", d.ID, "stage", stage, "round", round)
	}
	_, form := formatOf(d, stage)
	if round < form.rounds(s, d, stage) {
		return stage, round + 1, nil
	}
	if stage < len(d.Stages) {
		return stage + 1, 1, nil
	}
	return 0, 0, refusal.New("programme-over", "division", d.ID)
}
