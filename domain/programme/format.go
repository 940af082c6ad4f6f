package programme

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// Form is one form of competition. A further form is a file with a type that
// implements this, and a line in the table below; nothing else asks which form a
// stage has.
type Form interface {
	// Check refuses settings of a stage that the form cannot have.
	Check(d day.DivisionID, number int, st day.Stage) error
	// TakesLate says whether an entry may still come after so many drawn rounds.
	TakesLate(st day.Stage, drawn int) bool
	// Rounds is how many rounds the stage has in all, once it is drawn.
	Rounds(s *day.State, d day.Division, stage int) int
	// Draw makes the next round from the seeds. It fills Heats, Byes, Method and,
	// where the form has one, Tree; the caller fills the rest.
	Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error)
	// Walkover says whether the last car left in a heat need not race.
	Walkover() bool
	// Tied finds what has to be raced again before the round can be closed, because
	// the form needs an order; nothing where it has one.
	Tied(s *day.State, heats []day.HeatID) []TiedLane
	// Rank orders the stage's entries, best first.
	Rank(s *day.State, d day.Division, stage int) []Standing
}

// TiedLane is a lane that cannot be told from another; without an entry it is a
// whole heat of two.
type TiedLane struct {
	Heat  day.HeatID
	Entry day.EntryID
}

var forms map[day.StageKind]Form

func init() {
	// In init, because the forms themselves look others up.
	forms = map[day.StageKind]Form{
		day.TimedRounds:       timedRounds{},
		day.Knockout:          knockout{},
		day.DoubleElimination: doubleElimination{},
		day.RoundRobin:        roundRobin{},
		day.Swiss:             swiss{},
		day.Groups:            groups{},
		day.Heats:             manyLanes{},
		day.PointsRounds:      pointsRounds{},
	}
}

// FormOf is a stage of a division, from 1, and the form in which it is raced.
func FormOf(d day.Division, stage int) (day.Stage, Form) {
	st := d.Stages[stage-1]
	return st, forms[st.Kind]
}

// stageDone says whether every round of a stage was drawn and closed.
func stageDone(s *day.State, d day.Division, stage int) bool {
	p := s.Programmes[d.ID]
	if len(p.Stages) < stage {
		return false
	}
	drawn := p.Stages[stage-1]
	_, form := FormOf(d, stage)
	if len(drawn.Rounds) < form.Rounds(s, d, stage) {
		return false
	}
	return drawn.Rounds[len(drawn.Rounds)-1].Closed
}

// OpenHeat finds a heat of a division whose result is not posted, those of
// earlier rounds first.
func OpenHeat(s *day.State, d day.DivisionID) (day.Heat, bool) {
	for _, h := range s.SortedHeats() {
		if h.Division == d && !h.Posted() {
			return h, true
		}
	}
	return day.Heat{}, false
}

// NextRound says which stage and round of a division is to be drawn now, both from 1.
// It refuses while the last round is open and when the programme is through.
func NextRound(s *day.State, d day.Division) (stage, round int, err error) {
	p := s.Programmes[d.ID]
	stage, round = p.Round()
	switch {
	case p.EndedEarly:
		return 0, 0, refusal.New("programme-over", "division", d.ID)
	case stage == 0:
		return 1, 1, nil
	}
	// A closed round can be open again in part: a ruling let a lane race once
	// more, and who goes on depends on it.
	if h, open := OpenHeat(s, d.ID); open && s.RoundClosed(h) {
		return 0, 0, refusal.New("heat-open", "heat", h.ID, "status", h.Phase)
	}
	if last, _ := p.Current(); !last.Closed {
		return 0, 0, refusal.New("round-open", "division", d.ID, "stage", stage, "round", round)
	}
	_, form := FormOf(d, stage)
	if round < form.Rounds(s, d, stage) {
		return stage, round + 1, nil
	}
	if stage < len(d.Stages) {
		return stage + 1, 1, nil
	}
	return 0, 0, refusal.New("programme-over", "division", d.ID)
}
