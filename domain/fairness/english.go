package fairness

// notes is the catalogue of sentences; {name} is replaced by the argument of
// that name.
var notes = map[NoteCode]string{
	// Benches.
	"bench-agrees":     "Bench {bench} agrees with the middle of the benches.",
	"bench-high":       "Bench {bench} reads {percent} % high: for the same car it shows that much more than the middle bench.",
	"bench-low":        "Bench {bench} reads {percent} % low: for the same car it shows that much less than the middle bench.",
	"bench-noisy":      "Bench {bench} is noisy: its results scatter {times} times as much as those of the others. Look at its rollers, sensor and mark before you trust them.",
	"bench-alone":      "Bench {bench} is the only one: there is nothing to compare it with.",
	"bench-few":        "There are too few runs to judge bench {bench}: run a car again on several benches.",
	"bench-untied":     "Bench {bench} cannot be compared with all others yet: no cars tie them together.",
	"bench-up-hour":    "Over the day it reads higher and higher, by about {percent} % an hour.",
	"bench-down-hour":  "Over the day it reads lower and lower, by about {percent} % an hour.",
	"bench-up-round":   "From round to round it reads higher, by about {percent} % each.",
	"bench-down-round": "From round to round it reads lower, by about {percent} % each.",
	"benches-untied":   "No car has run on a bench of each of these two groups: {one}; and {other}. Run one car on a bench of each.",
	"bench-mean-high":  "Bench {bench} reads {percent} % above the mean of the benches.",
	"bench-mean-low":   "Bench {bench} reads {percent} % below the mean of the benches.",
	"bench-spread":     "Bench {bench} is noisy: its own results scatter more than chance explains. Look at its rollers, sensor and mark before you trust them.",
	"bench-straggler":  "Among equal benches that is rare, but it happens: look for a reason, and keep its results if there is none.",
}
