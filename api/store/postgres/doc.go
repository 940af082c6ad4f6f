// Package postgres keeps the store in PostgreSQL, for a server with many clubs.
//
// Several processes may share the database. Write holds an advisory lock of its
// stream until it has committed, so writers of a stream queue across all
// processes while streams do not wait for each other. Other processes learn of
// a write by LISTEN and NOTIFY.
//
// The URL may name the size of the pool (pool_max_conns); a pooler between this
// package and the server must keep sessions (LISTEN needs one).
//
// Names that were erased are gone from the tables. The server's own write-ahead
// log and its archives hold them until they are recycled; DEVELOPERS.md says
// what to set.
package postgres
