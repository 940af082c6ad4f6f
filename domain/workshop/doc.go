// Package workshop knows a practice afternoon: whose turn it is on the benches
// ([Session]) and what a car was made of at each moment ([Life]).
//
// It is values and rules over them, pure and without events: package club keeps them in
// its log, where each rule was asked before and its answer stands in the event. It knows
// nobody's name and holds no free text: numbers and words of fixed lists only.
package workshop
