// Package trace is the form in which a bench's stamps travel and are kept: in
// numbered chunks that may come late, twice or in another order, joined to one
// train whose SHA-256 stands in the log.
//
// A chunk's key is (bench, boot id, run, number). The last chunk states the
// totals, so a run is complete when all its chunks are there, whatever their
// order. Stamps are µs of the counter box's own clock since it started; arrival
// times never enter.
//
// The package does not measure; domain/measure does.
package trace
