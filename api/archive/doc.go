// Package archive takes a club's data out of a database, checks it, and brings it
// into another one.
//
// An archive is one zip file that needs no program of ours to be read: the logs
// as lines of JSON with their stored bytes untouched, the traces run by run, the
// people and texts (which may be left out), the ids of erased people, and a
// manifest. Tokens and secrets are never in it. README.txt in the file says how
// to check a log's hash chain and how to read the stamps. The same content gives
// the same bytes.
//
// A Source is what can be taken out and checked: a store, a copy of a SQLite
// file, or an archive that was opened. So an archive can be checked like a
// database, and written again without people.
//
// Whoever was erased stays erased: the ids that the source, the target and the
// logs call erased are left out of every archive and erased by every import.
//
// Memory is bounded by one run's stamps, the people, the texts, and about a
// kilobyte a run; logs and traces are streamed.
package archive
