// Package standings ranks entries: from measured runs (timed rounds), from points won against each other (groups,
// Swiss rounds) and from places in heats of many, each with a chain of tie-breaks. It says which tie-break
// decided, and which results lie too close together to call.
//
// All figures are exact: measured values are whole numbers in a fixed unit that the caller chooses (micrometres,
// microseconds), points and means are a [Fraction]. Nothing is rounded before it is compared. Equal ranks are
// shared as 1 2 2 4, and rows with an equal rank are listed by entry id, so the same input gives the same output
// on every platform. The package reads no clock and draws no lot; what stays level stays level, for the programme
// to share, to draw or to race off.
//
// # Statuses
//
// An entry that was disqualified, withdrew, did not start or did not finish is ranked by the [StatusRules] of the
// programme; the defaults are written there.
package standings
