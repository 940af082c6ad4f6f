package store

import "errors"

// What keeps a store from writing, though it is sound; errors of all writing methods
// wrap these. Nothing of the failed write is kept, and everything of before is.
var (
	// ErrFull says that the disk has no room left. It goes on by itself when there is.
	ErrFull = errors.New("the disk is full: free some space there, and it goes on by itself; what was acknowledged is kept")
	// ErrReadOnly says that the database may be read and not written.
	ErrReadOnly = errors.New(
		"the database may be read and not written: make its disk and its folder writable for this program, and start it again")
	// ErrAway says that the database could not be reached, or was lost on the way; errors of
	// reading methods wrap it too. It goes on by itself when the database is back. What was
	// being written may be kept all the same: whoever sends it again gets its answer.
	ErrAway = errors.New("the database does not answer: look whether it runs and can be reached; it goes on by itself when it is back")
)
