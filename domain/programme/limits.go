package programme

// Limits of a programme.
const (
	maxStages = 8
	maxRounds = 50
	maxLanes  = 8
	minRaceUS = 1_000_000
	maxRaceUS = 4 * 3600 * 1_000_000
)
