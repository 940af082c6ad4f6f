// Package forecast says how a race day will likely go: when it ends, how likely that is
// too late, what holds it up, and what other forms of competition would give the same
// children.
//
// # How
//
// [Play] plays a day many times. First each division is raced: the true speeds of its
// cars and the scatter of their runs are drawn, and the heats follow from the results by
// the draws of package bracket, so that a knockout has the heats, walkovers and second
// finals that it would have. Then the heats of all divisions are put onto the benches:
// whenever benches are free, the division with most races ahead of it calls its next
// heat whose cars are free and rested. A race takes its length and a change-over that
// scatters from heat to heat and from day to day; runs fail, and some are raced again.
//
// [Compare] plays the day in other forms beside the planned one, on the same cars; how cars
// and runs scatter can be learned from runs ([SpreadOf]).
//
// # What may be relied on
//
// The same day, seed and samples give the same figures on one machine and another, in
// this version. Sample k draws the same cars whatever the form, so that forms are
// compared on the same children. The cost is about a millisecond a sample for 40
// entries.
//
// # What it does not do
//
// It knows no clock, no officials, no lunch and no rest of a battery beyond [Day.Rest].
// Rounds of a division follow one another; those of timed rounds overlap where cars
// are free. Swiss rounds are paired simply (neighbours in points who have not met), not
// by the whole rule book: that moves nobody's time and few places.
package forecast
