// Package intake takes in what the benches measure: it keeps each chunk, joins
// the chunks of a run when its last one has come, measures, and hands the run to
// the meet that armed it, or to the club as practice.
//
// A chunk is on disk before it is acknowledged, and the run stands in the log
// under an order id that follows from the run's key: after a crash, or when two
// servers take chunks of one run, the run is recorded once. Sweep finds runs
// that are complete and not recorded.
//
// Live speed is computed beside that from the chunks as they come. It is
// telemetry: nothing is stored, and any of it may be lost.
package intake
