// Package board is what the caller, the benches and the officials look at: which heats
// race and come next, what each bench has to do now, and the list of what needs a
// decision, with the advice on re-runs that goes with it.
//
// Everything here is a report on a day.State at an instant: nothing is stored, and no
// order depends on it. What is not in here: standings and draws (package programme) and
// the orders that answer a decision (package meet).
package board
