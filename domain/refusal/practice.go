package refusal

// ofPractice are the sentences about practice sessions and what cars are made of.
var ofPractice = map[Code]string{
	"no-practice":       "There is no practice session “{session}”: open one.",
	"practice-over":     "This practice session is over: open another one.",
	"practice-there":    "There is such a practice session already: open one under another id.",
	"practice-benches":  "Name the benches of the practice session, each once.",
	"practice-open":     "{bench} is in another practice session already: close that one first, or leave the bench out.",
	"practice-settings": "A turn has 1 to {most} runs, and the distance to drive together is at most 1,000,000 km.",
	"queue-not-in":      "Car number {number} does not wait here: put it into the queue first.",
	"guess-range":       "A guess is more than 0 m and at most {most} m.",
	"guess-late":        "That run is over, so the guess is not taken: guess the next one.",
	"guess-none":        "{bench} is armed for no car: arm it first, then guess.",
	"no-practice-run":   "There is no practice run “{run}”.",
	"reference-moved":   "This run compares benches: take it out of its reference check instead.",
	"drop-word":         "A run does not count because of one of these: off-rollers, helped, mistake, other.",
	"setup-range":       "Something of this car cannot be: a wheel is at most 1 m, a gear has at most 200 teeth, a car weighs at most 10 kg and has at most {cells} cells, and numbers have four digits.",
	"setup-teeth":       "Give the teeth of both gear wheels: that on the motor and that on the axle.",
	"setup-word":        "This car has a kind of cells, tyres or grease that is not among the choices: pick one of them.",
	"setup-reference":   "Car number {number} compares benches: it stays as it is.",
	"compare-small":     "So small a change cannot be seen with {most} fittings: look for a larger one.",
	"compare-states":    "Choose two different states of this car.",
	"compare-cars":      "Choose two different cars that have run.",
	"compare-benches":   "Choose two different benches on which this car has run.",
	"compare-plan":      "A comparison has 4 to {most} fittings, an even number, and 1 to {runs} runs of each.",
}
