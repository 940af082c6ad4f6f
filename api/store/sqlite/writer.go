package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"benchmeet/api/store"
)

// groupLimit bounds how many writes share one commit, so that the first of them
// does not wait for ever while more keep coming.
const groupLimit = 128

// writer owns the one connection that writes. Callers take turns on it; each
// turn works inside a transaction that may hold several turns, all but the first
// inside a savepoint: what the first wrote is all that there is to undo then.
// Whoever ends a turn while nobody waits for the next commits for all. So a
// lone write costs one sync, and many at once share it.
//
// Statements on the connection never get a context that can end: interrupting
// one makes SQLite undo the whole transaction, with other callers' turns in it.
type writer struct {
	conn    *connection
	waiting atomic.Int64 // callers that wait for the turn
	commits atomic.Int64 // so far

	turn   sync.Mutex // guards what follows
	group  *group     // nil while no transaction is open
	closed bool

	path     string
	readOnly bool // there is no connection, and every turn is refused
}

// group is the turns that share a transaction.
type group struct {
	size int
	done chan struct{} // closed after the commit or its failure
	err  error         // set before done is closed
}

// do runs fn in a turn and returns when what it wrote is on disk. An error of
// fn undoes the turn and is returned as it is.
func (w *writer) do(ctx context.Context, fn func(*connection) error) error {
	return w.plain(w.inTurn(ctx, fn))
}

func (w *writer) inTurn(ctx context.Context, fn func(*connection) error) error {
	if w.readOnly {
		return ErrReadOnly
	}
	w.waiting.Add(1)
	w.turn.Lock()
	w.waiting.Add(-1)
	g, err := w.take(ctx, fn)
	if g == nil {
		return err
	}
	// A turn that failed waits too: its error may rest on what an earlier turn
	// of the group wrote, which is true only once it is on disk.
	<-g.done
	if err != nil {
		return err
	}
	return g.err
}

// plain says what keeps the store from writing. A disk that is full shows as an error of
// the disk too, where SQLite was just about to grow a file.
func (w *writer) plain(err error) error {
	var said *sqlite.Error
	if errors.As(err, &said) && said.Code()&0xff == sqlite3.SQLITE_IOERR && noRoom(w.path) {
		return fmt.Errorf("%w (%w)", store.ErrFull, err)
	}
	return plain(err)
}

// take is one turn, from the lock to the unlock. A panic in fn, or a test that
// ends its goroutine there, undoes the turn and passes it on.
func (w *writer) take(ctx context.Context, fn func(*connection) error) (*group, error) {
	defer w.pass()
	if w.closed {
		return nil, errClosed
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := w.begin(); err != nil {
		return nil, err
	}
	g := w.group
	g.size++
	kept := false
	defer func() {
		if !kept {
			w.undo()
		}
	}()
	if err := fn(w.conn); err != nil {
		return g, err
	}
	if g.size > 1 {
		if err := w.exec(`RELEASE turn`); err != nil {
			return g, err // undo finds the same and fails the group
		}
	}
	kept = true
	return g, nil
}

// begin opens the transaction if there is none, and the savepoint.
func (w *writer) begin() error {
	if w.group == nil {
		if err := w.exec(`BEGIN IMMEDIATE`); err != nil {
			return err
		}
		w.group = &group{done: make(chan struct{})}
		return nil
	}
	if err := w.exec(`SAVEPOINT turn`); err != nil {
		w.fail(err)
		return err
	}
	return nil
}

// undo takes the turn's writing back. SQLite gives up the whole transaction at
// some errors (a full disk); then there is no savepoint any more, and nothing of
// the group was kept.
func (w *writer) undo() {
	w.conn.forget()
	if w.group.size == 1 {
		w.fail(nil)
		return
	}
	if err := w.exec(`ROLLBACK TO turn`); err != nil {
		w.fail(err)
		return
	}
	if err := w.exec(`RELEASE turn`); err != nil {
		w.fail(err)
	}
}

// pass ends a turn: it commits unless somebody waits who will.
func (w *writer) pass() {
	if w.group != nil && (w.waiting.Load() == 0 || w.group.size >= groupLimit) {
		w.commit()
	}
	w.turn.Unlock()
}

// commit ends the group. It returns to the group's callers after the sync.
func (w *writer) commit() {
	if err := w.exec(`COMMIT`); err != nil {
		w.fail(err)
		return
	}
	w.commits.Add(1)
	close(w.group.done)
	w.group = nil
}

// fail undoes the whole group. Without an error none is lost but the turn that says why itself.
func (w *writer) fail(err error) {
	w.conn.forget()
	_ = w.exec(`ROLLBACK`) // it may be undone already
	w.group.err = err
	close(w.group.done)
	w.group = nil
}

// alone runs fn in a turn outside of any transaction, for what SQLite does not
// do inside one.
func (w *writer) alone(ctx context.Context, fn func(*sql.Conn) error) error {
	if w.readOnly {
		return ErrReadOnly
	}
	w.waiting.Add(1)
	w.turn.Lock()
	w.waiting.Add(-1)
	defer w.turn.Unlock()
	if w.group != nil {
		w.commit()
	}
	if w.closed {
		return errClosed
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return fn(w.conn.Conn)
}

// close commits what is open and gives the connection back.
func (w *writer) close() error {
	if w.readOnly {
		return nil
	}
	return w.alone(context.Background(), func(*sql.Conn) error {
		w.closed = true
		return w.conn.Close()
	})
}

func (w *writer) exec(statement string) error {
	if _, err := w.conn.ExecContext(context.Background(), statement); err != nil {
		return fmt.Errorf("sqlite: %s: %w", statement, err)
	}
	return nil
}
