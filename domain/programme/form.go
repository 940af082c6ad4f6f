package programme

import (
	"slices"

	"benchmeet/domain/day"
)

// Form is one form of competition as a stage is set. A further form is a file with a
// struct of its settings that implements this and enters itself into the table;
// nothing else asks which form a stage has. What only some forms have (they know
// seeds, take late entries, keep clubs apart, ...) they get from a struct that they embed.
type Form interface {
	day.Settings
	// Check refuses settings of a stage that the form cannot have.
	Check(d day.DivisionID, number int, st day.Stage) error
	// TakesLate says whether an entry may still come after so many drawn rounds.
	TakesLate(drawn int) bool
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
	// SureRuns is how often everybody of a field of n races in a stage, whatever the
	// results; an error says why the stage cannot be drawn for so many.
	SureRuns(st day.Stage, n int) (int, error)
	// Ahead is what lies ahead in a stage: the rounds that are not drawn. Of a stage that
	// is not drawn at all it is what a field would get whose cars are given, equal numbers
	// for entries of one car; nothing where the stage cannot be drawn for them.
	Ahead(s *day.State, d day.Division, stage int, cars []int) []RoundAhead
}

// TiedLane is a lane that cannot be told from another; without an entry it is a
// whole heat of two.
type TiedLane struct {
	Heat  day.HeatID
	Entry day.EntryID
}

// tiedLanes are the lanes of some entries in heats.
func tiedLanes(s *day.State, heats []day.HeatID, among []day.EntryID) []TiedLane {
	var out []TiedLane
	for _, id := range heats {
		for _, l := range s.Heats[id].Lanes {
			if slices.Contains(among, l.Entry) {
				out = append(out, TiedLane{id, l.Entry})
			}
		}
	}
	return out
}

// closePair is two entries on both sides of a line whose results are too close to
// call.
type closePair struct{ Upper, Lower TiedLane }

// closeCaller is a form in which results that are too close to call can decide
// something of a round, and so may need a decider.
type closeCaller interface {
	closePairs(s *day.State, d day.Division, stage, round int, heats []day.HeatID) []closePair
}

// finisher is a form that orders the cars of a heat further than their results do.
type finisher interface {
	finish(s *day.State, order []LaneResult)
}

// nextBester is a form in which cars go on from a round beside those that do so by
// their place.
type nextBester interface {
	// nextBest are those, best first; known once the round is through.
	nextBest(s *day.State, d day.Division, stage, round int) (best []LaneResult, known bool)
}
