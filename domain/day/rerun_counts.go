package day

// CloseRule says what results mean that lie too close together to call at a prize
// or qualifying line.
type CloseRule string

// Close rules; an empty one is CloseSay.
const (
	CloseSay     CloseRule = "say"     // the longer distance ranks, and the closeness is said
	CloseDecider CloseRule = "decider" // the two race a decider before the round is closed
)

// RerunCounts says which run counts after a re-run.
type RerunCounts string

// Which run counts.
const (
	CountsRerun  RerunCounts = "rerun"  // the second, whatever it gives
	CountsBetter RerunCounts = "better" // the better of both
	// CountsDecider is for a re-run that decides between two entries whose results are
	// too close to call. The earlier run stays the result, whatever the decider gives:
	// a third entry must not lose its place to an attempt that it did not have. The
	// better decider ranks before the other; where both are equal, the results do.
	CountsDecider RerunCounts = "decider"
)
