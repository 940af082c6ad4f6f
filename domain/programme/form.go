package programme

import "benchmeet/domain/day"

// Form is one form of competition. A further form is a file with a type that
// implements this and enters itself into the table; nothing else asks which form a
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
