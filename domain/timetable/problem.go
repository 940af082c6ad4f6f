package timetable

// Limits of what is planned: beyond them an input is taken for a mistake.
const (
	// MostActivities is how many heats and tasks a plan may have.
	MostActivities = 5000
	// Latest is the last instant that may be named, in the unit of the problem.
	Latest = 1 << 40
)

// Problem is a day to be planned. All times are whole numbers in one unit of the
// caller's choice, seconds as a rule, counted from the opening of the day.
type Problem struct {
	Resources  []Resource
	Activities []Activity
	Rest       Rest
	Outages    []Outage
	// Fixed are starts that stay as they are: what has begun or was promised.
	Fixed map[string]int
	// FixedUnits names the units that an activity with a fixed start has: as many as it
	// needs of one resource. Without them any will do.
	FixedUnits map[string][]string
}

// Resource is something of which activities use whole units while they run, and
// give them back at their end: benches, referees, a room.
type Resource struct {
	Name     string
	Capacity int
	// Units names each unit, or is empty where nobody needs to know which one is
	// used. An outage can name one, and a plan says which ones an activity gets.
	Units []string
}

// Activity is a heat or a task. It runs once, without a break.
type Activity struct {
	ID string
	// Duration from 0, with the change-over. One of 0 uses nothing.
	Duration int
	// Needs is how many units it uses of each resource that it names.
	Needs map[string]int
	// After names the activities that must have ended before it starts.
	After []string
	// Release is its earliest start.
	Release int
	// Due is its latest end; nil where it has none.
	Due *int
	// Entries are the cars (or children) in it. Two activities that share one
	// never overlap and have its rest between them.
	Entries []string
}

// Rest is how much time lies between two activities of an entry.
type Rest struct {
	Default int
	// Entries holds what is said otherwise of single entries.
	Entries map[string]int
}

// Outage takes units of a resource away from From to To.
type Outage struct {
	Resource string
	// Amount is how many units; with Unit it is 1.
	Amount int
	// Unit names which one, or is empty: any.
	Unit string
	From int
	// To is the instant at which they are back, nil where they do not come back.
	To *int
}

// Options bound the search.
type Options struct {
	// Seed draws what the search tries. The same problem, seed and Rounds give
	// the same plan.
	Seed uint64
	// Rounds is how many plans are tried beyond the first ones; 0 leaves it to Stop.
	Rounds int
	// Stop is asked before each round and ends the search; nil never does. It is
	// how a caller with a clock bounds the time.
	Stop func() bool
	// Standing holds the starts of an earlier plan. Where it can still be kept, or
	// moved to the left, the new plan is never longer.
	Standing map[string]int
	// Rough leaves out the bounds that take long: for who wants a plan at once, and does
	// not ask how much shorter another could be.
	Rough bool
}

// Plan is a timetable that keeps every rule.
type Plan struct {
	// Makespan is the end of the last activity.
	Makespan int
	// LowerBound is a length below which no plan can come.
	LowerBound int
	// Proved says that no plan is shorter: Makespan is LowerBound.
	Proved bool
	// Starts by activity.
	Starts map[string]int
	// Units are the names of the units that an activity uses, by resource and
	// activity, in the order of the resource's names; only of resources with names.
	Units map[string]map[string][]string
	// Why says what holds the day up: the rule from which LowerBound comes.
	Why Reason
	// Greedy is the length of the plan that a simple rule gives: whenever something
	// is free, the first in the list that can start.
	Greedy int
	// Rounds is how many were searched.
	Rounds int
}
