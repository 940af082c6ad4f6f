// Package inspection is the inspector's table: what a check of a battery pack or a
// car says by the class, how long it counts, which packs may be dealt, and what of it
// stands between a car and its race (Gate).
//
// Whether a check still counts depends on the instant, so it is asked with a time and
// never stored. What is not in here: the figures of batteries as such (package
// fairness), the orders at the table (package meet), and whether the caller may call
// (package board shows the gate, package meet refuses by it).
package inspection
