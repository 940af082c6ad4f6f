// Package journal is the form in which every event is kept: one envelope, one
// canonical byte string, one hash chain a stream.
//
// An event's canonical bytes (RFC 8785) are made once, when it is sealed, and
// stored as they are. Each record's hash is SHA-256(previous hash, bytes), so
// that changing, removing or inserting a record breaks the chain from there on.
// Replay reads the stored bytes and never makes them again: a later version of
// this package cannot break an old chain.
//
// The package knows no meet and no storage. It does not say what an event
// means; domain/meet and domain/club do.
package journal
