package fairness

// notes is the catalogue of sentences; {name} is replaced by the argument of
// that name.
var notes = map[NoteCode]string{
	// Benches.
	"bench-agrees":      "Bench {bench} agrees with the middle of the benches.",
	"bench-high":        "Bench {bench} reads {percent} % high: for the same car it shows that much more than the middle bench.",
	"bench-low":         "Bench {bench} reads {percent} % low: for the same car it shows that much less than the middle bench.",
	"bench-noisy":       "Bench {bench} is noisy: its results scatter {times} times as much as those of the others. Look at its rollers, sensor and mark before you trust them.",
	"bench-alone":       "Bench {bench} is the only one: there is nothing to compare it with.",
	"bench-few":         "There are too few runs to judge bench {bench}: run a car again on several benches.",
	"bench-untied":      "Bench {bench} cannot be compared with all others yet: no cars tie them together.",
	"bench-in-round":    "Bench {bench} cannot be compared with all others: it and its rounds go together, and cars change from round to round.",
	"bench-up-hour":     "Over the day it reads higher and higher, by about {percent} % an hour.",
	"bench-down-hour":   "Over the day it reads lower and lower, by about {percent} % an hour.",
	"bench-up-round":    "From round to round it reads higher, by about {percent} % each.",
	"bench-down-round":  "From round to round it reads lower, by about {percent} % each.",
	"benches-untied":    "No car has run on a bench of each of these two groups: {one}; and {other}. Run one car on a bench of each.",
	"benches-in-rounds": "What these two groups of benches read cannot be told from what all cars did from round to round: {one}; and {other}. Let cars change between them within the same rounds, some one way and some the other.",
	"bench-mean-high":   "Bench {bench} reads {percent} % above the mean of the benches.",
	"bench-mean-low":    "Bench {bench} reads {percent} % below the mean of the benches.",
	"bench-spread":      "Bench {bench} is noisy: its own results scatter more than chance explains. Look at its rollers, sensor and mark before you trust them.",
	"bench-straggler":   "Among equal benches that is rare, but it happens: look for a reason, and keep its results if there is none.",

	// Re-runs.
	"advice-noisy":    "Bench {bench} is noisy today.",
	"advice-suspect":  "This run is far from what the same car does in its other runs, benches allowed for.",
	"advice-level":    "Bench {bench} does not read as the others do: that is for the bench's factor, and no ground for a re-run.",
	"advice-whole":    "The same cause from outside hit {hit} of {lanes} lanes: race the whole heat again.",
	"run-impossible":  "This is {kmh} km/h on average, and no such car drives more than {most}: are the circumference and the marks of the bench right, or the count?",
	"run-far-above":   "This is {times} times what is usual in this division: are the circumference and the marks of the bench right, or the count?",
	"run-far-below":   "What is usual in this division is {times} times this: are the circumference and the marks of the bench right, or the count?",
	"advice-limit":    "The entry has had its {limit} re-runs: the rules allow no more.",
	"advice-official": "This is a suggestion: an official decides, with name and reason.",

	// The morning's check.
	"reference-cars":    "Take one or more reference cars that nobody races with, each with a fresh pack of one kind, and note their numbers.",
	"reference-benches": "Wipe rollers and marks, shade the sensors, and turn each roller by hand: the counter has to count every turn once.",
	"reference-warm":    "Let each car run for a minute on any bench first: cold motors and tyres change while you measure.",
	"reference-run":     "Follow the plan slot by slot: half a minute of running, half a minute to move on. Do not tune the cars in between.",
	"reference-fit":     "Look at the comparison of benches. Clean a noisy bench and run it again.",
	"reference-rule":    "Decide what was declared before: report, correct, or take a bench out. An official signs it.",
	"reference-again":   "Run the check again after lunch, and whenever a bench was moved or repaired. Where it fails, all runs of that bench since its last good check are listed.",
	"recheck-good":      "Bench {bench} reads as it did before.",
	"recheck-up":        "Bench {bench} has moved: it reads {percent} % more than before. Its runs since the last good check are in doubt.",
	"recheck-down":      "Bench {bench} has moved: it reads {percent} % less than before. Its runs since the last good check are in doubt.",
}
