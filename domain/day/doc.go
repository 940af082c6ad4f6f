// Package day holds what has happened on a race day: its nouns (entries, benches,
// heats, runs, packs, rulings), the events, and their fold into a State.
//
// An event file has the event, the name under which it stands in the log, and its
// `apply`, which puts the fact into the state: it never refuses, and asks no rule, for
// the event says what rules made of it. Events of earlier versions said less: Decode
// marks them, and before.go makes them what they would be today, by the rules of then.
// Replaying a stream from New with Evolve is the only way to make a State.
//
// What is not in here: the rules. What may happen is decided in package meet; who
// races whom and who is ahead is asked of package programme; what the inspector's
// table says of a car, of package inspection; what is to be done now, of package
// board. This package imports none of them.
//
// Events and state hold integers in fixed units, so that every machine folds a log
// into the same bytes: US is µs since 1970-01-01 UTC (or a length in µs), UM is µm,
// MRPM is a thousandth of a turn a minute.
package day
