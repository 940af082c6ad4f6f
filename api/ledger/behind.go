package ledger

import (
	"errors"
	"fmt"
)

// mostAhead is how far ahead of a log a position can be that somebody was told
// of: what other processes wrote while this one did not look.
const mostAhead = 10_000

// BehindError is returned where a log has not come to a position.
type BehindError struct {
	Asked, Now int64
	// Never says that it is no use to ask again: nobody can have been told of it.
	Never bool
	cause error // why nobody waits any longer
}

// Error names both positions.
func (b *BehindError) Error() string {
	return fmt.Sprintf("the log is at position %d, not at %d yet", b.Now, b.Asked)
}

// Unwrap is the context's end, where the waiting ended so.
func (b *BehindError) Unwrap() error { return b.cause }

// ErrDamaged is wrapped by the error for a log that cannot be folded: its chain of
// hashes is broken, or a record cannot be read. Other streams are not concerned.
var ErrDamaged = errors.New("the log is damaged")

// ErrLater is returned for a log that a later version of the program has written: this one
// does not know what stands in it. It is an ErrDamaged to whoever has to go on without it.
var ErrLater error = laterError{}

// laterError is ErrLater, and says where.
type laterError struct {
	stream string
	why    error
}

// Error says that nothing is wrong with the log.
func (e laterError) Error() string {
	if e.why == nil {
		return "the log was written by a later version of the program"
	}
	return fmt.Sprintf("stream %s was written by a later version of the program: %v", e.stream, e.why)
}

// Is makes each of them ErrLater, and ErrDamaged.
func (laterError) Is(target error) bool {
	_, later := target.(laterError)
	return later || target == ErrDamaged
}
