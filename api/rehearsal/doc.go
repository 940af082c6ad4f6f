// Package rehearsal plays a whole meet against a real server, over HTTP and
// WebSocket, with simulated benches: it plans, enters, checks in, draws, calls,
// races, rules and publishes as people would, and then checks that nothing was
// lost, doubled or computed wrongly.
//
// The benches have the faults that benches have: double triggers, missed pulses,
// batteries that sag, a sensor that falls silent in the middle of a run, a
// counter box that sends late and twice, one that starts anew, and a bench that
// is taken out while it races. All noise is keyed by (seed, entry, heat,
// attempt) and never by the order of arrival, so the same seed gives the same
// standings on every store and at every speed.
//
// Where the server's clock is the day's own ([Clock]) it is played by its timetable, one thing
// after the other, and the same seed gives the same day to the second; else in waves, as quickly
// as the server answers, or in real time.
//
// The package only talks to the server as others do; it knows its rules from
// domain/meet alone, to recompute the standings from the log.
package rehearsal
