// Package tuning says whether a car is quicker after a change.
//
// A child runs a car, changes one thing, and runs it again. [Compare] tells the effect
// of the change from the drift of the afternoon (a pack that flattens, a motor that
// warms) and from the scatter of the car's own runs, and answers with an interval or
// says why it cannot. [Order] proposes in which order to run the two states, [Needed]
// how often, before the first run.
//
// # What is compared
//
// The unit is a fitting: whatever was fitted once and run one or more times. Two runs
// of one fitting share how well it was fitted, so they are one value, their mean; an
// interval from single runs would be too narrow as often as a gear was not taken out
// in between. A state that was fitted only once is compared "as fitted", run by run,
// and the answer says so.
//
// Values are compared as logarithms: a change is relative, and what the roller reads
// too high on one bench it reads too high in both states. So the uncertainty of the
// bench has no place in the interval of a difference on it; two benches are not
// compared here.
//
// # Looking after each run
//
// A child looks after each run. The interval of each look has a level of its own, and
// all of them together spend 5 %: see [Level]. So "quicker" may be said at any look.
//
// The package reads no clock, draws no lot and depends on nothing but its input.
package tuning
