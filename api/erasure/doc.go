// Package erasure erases people and free texts for good.
//
// An erasure is noted in the club's log first (club.ErasePerson, club.EraseText),
// which is all that its caller has to stay for. Finish does the rest: it removes the
// rows, has the screens look again, and has the space overwritten. It goes by what
// the log says and the store has not done yet, so it may be called at any time, by
// every server of a database, and again after a crash.
package erasure
