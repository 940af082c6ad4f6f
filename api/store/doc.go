// Package store is what the server keeps: the event logs, the traces, the
// people and texts that stay outside the logs, and the tokens.
//
// The interfaces are small on purpose; api/store/sqlite and api/store/postgres
// implement them, and api/store/storetest is the one suite that proves both.
// Change the suite first.
//
// Three things hold for every implementation:
//   - What a method has returned without an error is on disk.
//   - Write runs alone on its stream, across all processes that share the
//     database, and all that it did is kept or nothing.
//   - Nothing ever changes or removes a record of a log. People and texts are
//     outside so that they can be erased.
package store
