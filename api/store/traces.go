package store

import (
	"context"

	"benchmeet/domain/trace"
)

// Traces keep what the benches sent, chunk by chunk, for ever.
type Traces interface {
	// PutChunk keeps a chunk. Fresh is false if the same chunk was there
	// already; another content under its key is ErrConflict and changes nothing.
	PutChunk(ctx context.Context, club string, c trace.Stored) (fresh bool, err error)
	// Chunks returns the chunks of a run by number, none if there is no such run.
	// Of a run that was frozen it returns those that it is made of.
	Chunks(ctx context.Context, club string, run RunKey) ([]trace.Stored, error)
	// FreezeRun fixes what a run is made of: its chunks 0 to n-1, which must be
	// here. It comes before the run is recorded, so that what stands in the log
	// never changes. The first call decides, in whichever process; later ones
	// change nothing.
	FreezeRun(ctx context.Context, club string, run RunKey, n int) error
	// LateChunks returns the chunks that a frozen run is not made of, by number:
	// they are kept, and they wait apart.
	LateChunks(ctx context.Context, club string, run RunKey) ([]trace.Stored, error)
	// OpenRuns lists the runs whose last chunk has come and that were not closed
	// by CloseRun, in the order of their keys: after a crash they still have to
	// be recorded. Chunks of such a run may be missing.
	OpenRuns(ctx context.Context, club string) ([]RunKey, error)
	// CloseRun notes that the run stands in a log. It is a cache: closing again
	// is harmless.
	CloseRun(ctx context.Context, club string, run RunKey) error
	// Runs calls each with every run's key that has a chunk, in order.
	Runs(ctx context.Context, club string, each func(RunKey) error) error
}

// RunKey says which run of which start of which counter box.
type RunKey struct {
	Bench string
	Boot  string
	Run   string
}
