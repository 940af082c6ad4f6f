package trace

import "errors"

var (
	// ErrIncomplete is returned by Join while chunks are still missing.
	ErrIncomplete = errors.New("chunks of this run are still missing")
	// ErrDisagree is wrapped by Join when the totals of the last chunk and the
	// chunks themselves do not agree.
	ErrDisagree = errors.New("the totals do not agree with the chunks")
)
