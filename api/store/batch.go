package store

import (
	"context"
	"errors"

	"benchmeet/domain/journal"
)

// Batcher is a store that can write what was decided beforehand in one go, where a Write
// asks and answers several times on its way: one trip to a database elsewhere. Whoever
// writes so has to be ready to do it again by Write.
type Batcher interface {
	// WriteBatch appends records and remembers answers as one Write would, and returns
	// when they are on disk. Where the stream does not end at the batch's place any more,
	// or one of its commands has an answer already, nothing is kept, and the error is
	// ErrOvertaken.
	WriteBatch(ctx context.Context, s Stream, b Batch) error
}

// Rememberer is a store that says outside of any Write what was answered: enough for an
// order that changes nothing, where nobody else can have carried it out meanwhile.
type Rememberer interface {
	// Answers is that of Tx, of what is on disk.
	Answers(ctx context.Context, s Stream, commands []string) (map[string]Answer, error)
}

// Batch is what some commands lead to in a state that ends at a place of the log.
type Batch struct {
	After   journal.Head
	Records []journal.Record // right behind it
	Answers []Answer         // one or more, each of a command of its own
	// Epoch is that of the servers as whoever decided knew them, where the store is a
	// Fleet; 0 for whoever need not know. A server that has entered since overtakes it.
	Epoch int64
	// Alone says that as of Epoch there is no other server: nobody has to be told of it by
	// Changes.
	Alone bool
}

// ErrNobody is returned for a batch without answers, a mistake of whoever made it.
var ErrNobody = errors.New("a batch answers nobody")

// ErrOvertaken is returned for a batch that was decided on what is not so any more.
var ErrOvertaken = errors.New("somebody else has written meanwhile")
