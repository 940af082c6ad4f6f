package forecast

// Day is what is known of a day before it begins. Times are in seconds.
type Day struct {
	// Opens is when the first heat may start, Closes when the keys go back.
	Opens, Closes float64
	// Benches is how many cars can run at once, 1 to [MaxBenches].
	Benches int
	// ChangeOver is what lies between two heats of a bench, on average: cars put on,
	// checked and taken off.
	ChangeOver float64
	// HeatSpread and DaySpread are the relative standard deviations of a change-over
	// from heat to heat and from day to day.
	HeatSpread, DaySpread float64
	// FailureRate is the part of runs that give no result, RerunRate of those that are
	// raced again by themselves afterwards. Both are under one half.
	FailureRate, RerunRate float64
	// Rest lies between two runs of a car, Wait between the last heat of a round and
	// the first of the next one, where that depends on it: protest time.
	Rest, Wait float64
	// Stops are times in which no heat is on the benches: a common lunch, a briefing.
	Stops []Stop
	// Divisions race at the same time, on the same benches.
	Divisions []Division
}

// Stop is a time in which no heat is on the benches.
type Stop struct{ From, To float64 }

// Division is a field of cars that race for the same places.
type Division struct {
	ID string
	// Entries is how many, 1 to [MaxEntries].
	Entries int
	// CarSD is the relative standard deviation of the cars' true speeds, RunSD of the
	// runs of one car about its own.
	CarSD, RunSD float64
	Stages       []Stage
}

// Limits of what is played: beyond them nobody waits for an answer.
const (
	MaxBenches   = 64
	MaxEntries   = 512
	MaxDivisions = 64
	MaxStages    = 8
	MaxSamples   = 100_000
)
