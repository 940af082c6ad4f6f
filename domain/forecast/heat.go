package forecast

// heat is one race of a division as a sample played it.
type heat struct {
	cars []int
	// races is how often the cars run in it: two legs and a decider are up to three.
	races int
	// again says that it is raced once more, by itself: what else can race goes first.
	again bool
}

// round is the heats that may be called together.
type round struct {
	stage, number int // from 1
	heats         []heat
	// apart says that the round does not wait for the one before.
	apart bool
	race  float64
}

// raced is a division as a sample played it.
type raced struct {
	rounds []round
	// places holds for each car its place, ties as the middle of what they share.
	places []float64
	// runs counts the races of each car, those that were raced again not twice.
	runs []int
}

// startFrom is the division before its first stage.
func startFrom(entries int) raced {
	return raced{places: make([]float64, entries), runs: make([]int, entries)}
}
