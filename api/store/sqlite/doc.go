// Package sqlite keeps the store in one SQLite file, for a laptop with no
// server to install.
//
// One process owns the file: a lock on FILE.lock holds the others off. SQLite
// has one writer at a time, so all writing goes through one connection, in
// turns; reading has connections of its own and is never held up by it. Writes
// that wait for their turn while another one is at work are committed together,
// with one sync of the disk for all of them. Each of them is still kept or
// undone by itself, and none returns before the sync.
//
// A write-ahead log with synchronous=FULL makes every commit durable.
// secure_delete is on from the creation of the file, so that what is removed is
// overwritten with zeros.
//
// The function that is handed to Write must not call another writing method of
// the store: it would wait for its own turn for ever.
package sqlite
