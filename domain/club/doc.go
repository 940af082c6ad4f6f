// Package club is what a club has beside its meets, as a decider of its own:
// benches, cars, and the practice runs that are made whenever no heat needs a
// bench. A workshop begins here, with one bench and no programme at all.
//
// It is built like domain/meet (Decide, Evolve, state as a fold, no names of
// people); a meet copies the bench settings that it runs with.
package club
