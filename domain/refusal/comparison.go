package refusal

// ofComparison are the sentences about how benches read beside one another, and about what
// is raced again to tell cars apart.
var ofComparison = map[Code]string{
	// Comparing benches.
	"study-short":    "There is too little to compare: at least two benches are needed, and one of them with two values or more.",
	"study-empty":    "Bench “{bench}” has no value: leave it out, or add its values.",
	"study-value":    "A value of bench “{bench}” cannot be compared: it has to be a number above zero, written in full.",
	"study-shape":    "This study needs the same number of values from every car on every bench, and at least two of each: add what is missing, or leave it out.",
	"study-benches":  "There are {benches} benches, and at most {most} can be compared at once: compare those of one hall.",
	"reference-plan": "A reference check needs two benches or more and one to as many cars, each named once.",
	"policy-word":    "“{policy}” is no choice for benches: report, correct or take-out.",
	"factor-range":   "The factor of bench “{bench}” is not between 0.5 and 2: such a bench is broken or set up wrongly; take it out.",

	// Deciders.
	"heat-close":      "Start numbers {one} and {other} are too close to call at a line that matters, and the rules demand a decider: grant both of them a re-run that decides.",
	"decider-nothing": "Start number {number} is not in a pair that has to race a decider: let the re-run or the better run count.",
	"decider-once":    "Start number {number} has had its decider: it is not raced again because of closeness.",

	// Bench factors.
	"factors-policy": "The rules of this meet say “{policy}” for benches that differ: results are corrected only where “correct” was declared before the first heat.",
	"factors-heat":   "{heat} is {status}: adopt or withdraw factors when no heat is at the benches.",
	"factors-none":   "No factors are in force: there is nothing to withdraw.",
	"factors-moved":  "The comparison has changed since you looked at it: look again, then adopt.",

	// Reference checks.
	"reference-none":        "No reference check of this meet has begun: begin one on the desk's page of the benches.",
	"reference-bench":       "Bench {bench} is not in this reference check: begin another one that has it.",
	"reference-not-planned": "Car {number} is not in this reference check: take one of its cars, or begin another check.",
	"reference-car":         "Car {number} is not marked as a reference car: mark it first, so that nobody races with it.",
	"reference-run":         "This run is not of a reference check: there is nothing to drop.",
	"reference-time":        "A reference run lasts 1 second to 10 minutes.",
}
