// Package evidence is what the stamps of a recorded run say when they are looked at
// again: under which conditions the run was measured, the names under which it may have
// been sent, and its speed over time.
//
// Everything is computed from a state and a train and never stored: a picture of a run is
// a report. The server measures by the same conditions as whoever verifies a log.
package evidence
