package forecast

import "benchmeet/bracket"

// Kind is a form of competition.
type Kind string

// The forms, under the names that plans give them.
const (
	TimedRounds       Kind = "timed-rounds"
	PointsRounds      Kind = "points-rounds"
	Knockout          Kind = "knockout"
	DoubleElimination Kind = "double-elimination"
	RoundRobin        Kind = "round-robin"
	Groups            Kind = "groups"
	Swiss             Kind = "swiss"
	Heats             Kind = "heats"
)

// Rule says what counts of several runs of a car in timed rounds.
type Rule string

// The rules; Best where none is named.
const (
	Best Rule = "best"
	Mean Rule = "mean"
)

// Stage is one part of a division's programme.
type Stage struct {
	Kind Kind
	// Race is how long a race takes, in seconds.
	Race float64
	// Entries is how many go on into this stage, the best of the one before; 0: all.
	Entries int
	// Rounds of timed, points and Swiss rounds.
	Rounds int
	// Lanes is the most cars of a heat; 0: as many as there are benches, two in duels.
	Lanes int
	Rule  Rule
	// Groups, Advance (of each group or heat) and NextBest are of groups and heats.
	Groups, Advance, NextBest int
	// Cycles is how often all meet all; 0: once.
	Cycles int
	// Legs is 2 where a duel is run twice, with a decider when level.
	Legs       int
	ThirdPlace bool
	Plate      bool
	BFinal     bool
}

// duels says whether two cars meet in a heat.
func (k Kind) duels() bool {
	switch k {
	case Knockout, DoubleElimination, RoundRobin, Groups, Swiss:
		return true
	}
	return false
}

// lanes is the most cars of a heat of the stage.
func (s Stage) lanes(benches, entries int) int {
	switch {
	case s.Kind.duels():
		return 2
	case s.Lanes > 0:
		return s.Lanes
	case s.Kind == Heats || s.Kind == PointsRounds:
		return max(2, min(benches, entries))
	}
	return max(1, min(benches, entries))
}

// LanesOn is how many cars a heat of the stage has at most, on so many benches.
func (s Stage) LanesOn(benches, entries int) int { return s.lanes(benches, s.field(entries)) }

// field is how many of those who are there race in the stage.
func (s Stage) field(there int) int {
	if s.Entries > 0 {
		return min(s.Entries, there)
	}
	return there
}

// draw lays out the forms whose heats stand before the first race. Entries are in the
// order of the stage before, or of the lot.
func (s Stage) draw(n, lanes int) (*bracket.Draw, error) {
	knockout := bracket.KnockoutOptions{Seeds: n, ThirdPlace: s.ThirdPlace && n >= 4, Plate: s.Plate, Legs: s.Legs}
	switch s.Kind {
	case Knockout:
		return bracket.Knockout(n, knockout)
	case DoubleElimination:
		return bracket.DoubleElimination(n, bracket.KnockoutOptions{Seeds: n, Legs: s.Legs})
	case RoundRobin:
		return bracket.RoundRobin(n, bracket.RoundRobinOptions{Cycles: max(1, s.Cycles)})
	case Groups:
		return bracket.Groups(n, bracket.GroupOptions{
			Groups: s.Groups, Cycles: max(1, s.Cycles), Seeds: n, Advance: s.Advance, NextBest: s.NextBest, ThirdPlace: s.ThirdPlace,
		})
	case Heats:
		return bracket.Heats(n, bracket.HeatsOptions{
			Lanes: lanes, Seeds: n, Advance: s.Advance, NextBest: s.NextBest, BFinal: s.BFinal,
		})
	}
	return nil, nil // the other forms have no draw before the first race
}
