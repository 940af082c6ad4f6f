// Package signal says whether the signal of a bench is good enough to race on, from the
// stamps of some seconds with a car at full speed; and where it is not, what is wrong and
// the one thing to do about it.
//
// # How
//
// The stamps are measured as those of a race are (package measure); what was put right
// there is counted by its kind. A stamp that is too many and follows its pass closely is
// an echo of the mark; echoes keep their place behind the pass, strays fall anywhere, so
// those in the later part of the steps tell how many strays there are in all. The scatter
// of the stamps comes from the steps: what a bent roller or the car does is slow against a
// step, so each step is held against the mean of those before and behind it. With several
// marks the steps of one turn differ in a pattern that comes again with each turn: it gives
// the places of the marks, and where one mark was stated, their number.
//
// # What may be relied on
//
// A signal that is called good was measured without anything that could have changed its
// number of turns. Limits are set well below the rates at which the count begins to be
// wrong: the tests hold the verdict to set-ups with known faults, in which a signal is bad
// if the measured turns of a race differ from the true ones by a thousandth.
//
// # What it does not do
//
// Marks that stand evenly are not told apart from one mark at a multiple of the speed: one
// turn of the roller by hand tells. It asks no board and draws no plot.
package signal
