package bracket

// Reason is a code that explains a pairing.
type Reason string

// The reasons of a pairing: who was put together, who has which side, and which rule had to give way.
const (
	SameScore     Reason = "same-score"      // both have the same points
	FloatsDown    Reason = "floats-down"     // one with more points meets the group below
	SidesWished   Reason = "sides-wished"    // both get the side that they are due
	SideOfOne     Reason = "side-of-one"     // only one is due a side
	SideStronger  Reason = "side-stronger"   // both are due one side: the one who is due it more
	SideHistory   Reason = "side-history"    // equally due: opposite to the last round in which their sides differed
	SideOfFirst   Reason = "side-of-first"   // equally due, equal histories: the one ranked first
	SideByNumber  Reason = "side-by-number"  // neither is due a side: by lot for the first entry, then in turn
	ByeLowest     Reason = "bye-lowest"      // the bye goes to the lowest who may have one
	RelaxedSide   Reason = "relaxed-side"    // no legal pairing: somebody has a side too often or a third time
	RelaxedBye    Reason = "relaxed-bye"     // no legal pairing: a second bye
	RelaxedRemeet Reason = "relaxed-rematch" // no legal pairing: the two have met
	TopScorers    Reason = "top-scorers"     // in the last round a top scorer may have a side too often
	OneCar        Reason = "one-car"         // the two share a car and run one after the other
)
