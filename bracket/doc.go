// Package bracket draws and pairs: knockouts, double eliminations, round robins, groups, Swiss rounds, heats
// of many lanes and timed rounds. It works on plain numbers. An entry is an index into the caller's own list;
// the package knows no meet, no person and no bench, reads no clock, and takes chance only from a [Lot] whose
// seed the caller hands in.
//
// A [Draw] is a plan: rounds of heats whose lanes are entries, or say where an entry will come from (the
// winner of a heat, a place in a group, the next best). [Draw.Follow] lays results over a plan and tells who
// stands in which lane now; it is pure too, so a caller keeps the plan and the results and nothing else.
//
// # What may be relied on
//
// Same input and same lot seed give the same draw, on every platform: the tests freeze some. Where several
// draws are equally good (clubmates apart, lanes shared out), the one returned is repeatable, not the only
// one, and a later version may choose another. Nothing depends on the order of a map.
//
// What a draw could not do is said in its notes, as a code and the entries concerned; what it may not do is
// refused with a [Refusal], which carries the entries and the rule. The package words no sentence for the
// public: callers do, from the codes.
package bracket
