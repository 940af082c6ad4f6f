// Package meet is one race day as a decider: commands -> events -> state.
//
// Decide holds every rule of the day and changes nothing: it answers a command
// with the events that follow from it, or with a refusal. What the rules made of it
// stands in the events. [day.Evolve] puts an event into the state, never refuses and
// asks no rule, for what stands in the log has happened.
// The state is nothing but the fold of a stream's events from New on; folding
// the same events gives the same state to the byte on every platform, because
// both hold only integers in fixed units, strings and booleans, and because the
// order of a map never reaches an event.
//
// Time and chance are inputs: a command comes with Meta, which carries the
// server's clock and a seed drawn by the server, and events store them.
//
// Where things are: a file for each command here; the events and the state in
// package day, draws and standings in package programme, the inspector's table in
// package inspection, what is to be done in package board.
//
// No name of a person is here: entrants and officials are ids, a free text is a
// salted hash.
//
// To see what a command does, read the told days in testdata/day; random_test.go
// lists what holds of every state; testdata/golden keeps logs as they were once
// written, which must open for ever.
//
// Units are in the names: US is µs (instants since 1970-01-01 UTC), UM is µm,
// MRPM is a thousandth of a turn a minute.
package meet
