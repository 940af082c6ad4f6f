package store

import (
	"context"
	"errors"

	"benchmeet/domain/journal"
)

// Fleet is a store that several servers may share at once. Each says up to which version it
// reads every kind of event, so that the others write none that it could not read.
type Fleet interface {
	// EnterServer puts a server in, or in again, and raises the epoch. It waits for the
	// writes that go on; when it returns, none goes by the epoch before any more.
	EnterServer(ctx context.Context, s Server) error
	// BeatServer counts a server's beat up, which says that it lives, and lists all
	// servers as Servers does. One that is not among them was taken for dead by another:
	// it has to enter again.
	BeatServer(ctx context.Context, id string) (Servers, error)
	// Servers lists the servers that have entered, by their ids.
	Servers(ctx context.Context) (Servers, error)
	// BuryServer removes a server whose beat stands still at this one. It does nothing
	// where the server has moved on.
	BuryServer(ctx context.Context, id string, beat int64) error
	// LeaveServer removes a server that ends. One that is not there is no error.
	LeaveServer(ctx context.Context, id string) error
}

// Server is a server of a fleet.
type Server struct {
	ID   string
	Beat int64
	// Reads is up to which version it reads each kind of event. A kind that is missing it
	// does not know.
	Reads map[string]int
}

// Servers are those of a fleet at a moment.
type Servers struct {
	// Epoch is higher after each entry of a server, above 0.
	Epoch int64
	All   []Server
}

// Common is what all servers of a fleet read, as one of them knows it.
type Common struct {
	// Epoch is that by which it knows it; 0 where only one process can write to the store.
	Epoch int64
	// Reads is up to which version all of them read each kind of event; nil where all read
	// what this one writes.
	Reads map[string]int
	// Alone says that there is no other. Who enters reads what was written before, and
	// nothing is written by this epoch afterwards.
	Alone bool
}

// FleetTx is a Tx of a Fleet.
type FleetTx interface {
	Tx
	// AppendAt is Append by who knows the servers as of an epoch. Where one has entered
	// since, it is ErrServersChanged.
	AppendAt(ctx context.Context, epoch int64, records []journal.Record) error
}

// ErrServersChanged is returned where a server has entered since whoever writes looked who
// is there: look again, for it may read less.
var ErrServersChanged = errors.New("another server has come in meanwhile")
