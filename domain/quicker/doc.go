// Package quicker answers "is it quicker now?" over the practice runs of a car: it picks
// the runs that can be compared fairly, in the order in which the car drove, has package
// tuning compare them, and says what to run next, or why it is not fair to compare.
//
// # Which runs
//
// Those that count, of the two states, in one afternoon, on one bench and of one length:
// another day is another hall and another charge, and two benches read differently. Of
// several afternoons that hold both states the newest counts. Announcing a comparison
// again begins it anew.
//
// # Looking after each run
//
// A child looks after each run, so what a look may take into account is settled: whole
// fittings only, and no more than were announced. A run more is in the next comparison.
// Where nobody announced a number, it is [UsualFittings], or [UsualRuns] where a state
// was fitted once.
//
// The package is a report over the state of the club: pure, and part of no fold.
package quicker
