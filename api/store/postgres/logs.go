package postgres

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// pageSize is how many records are fetched at a time. Between two pages no
// connection and no snapshot is held.
const pageSize = 512

// queryer is what is read from: the pool or a transaction.
type queryer interface {
	Query(ctx context.Context, query string, args ...any) (pgx.Rows, error)
	QueryRow(ctx context.Context, query string, args ...any) pgx.Row
	Exec(ctx context.Context, query string, args ...any) (pgconn.CommandTag, error)
}

// Write implements store.Logs.
func (s *Store) Write(ctx context.Context, stream store.Stream, fn func(store.Tx) error) error {
	select {
	case s.writes <- struct{}{}:
		defer func() { <-s.writes }()
	case <-ctx.Done():
		return ctx.Err()
	case <-s.closing.Done():
		return errClosed
	}
	begun, err := s.pool.BeginTx(ctx, pgx.TxOptions{BeginQuery: beginAlone(stream)})
	if err != nil {
		return fmt.Errorf("postgres: begin to write to %s: %w", stream, plain(err))
	}
	defer rollback(begun) // also when fn panics; after a commit it does nothing
	t := &tx{tx: begun, stream: stream}
	defer func() { t.tx = nil }()
	if err := fn(t); err != nil {
		return err
	}
	if err := commit(ctx, begun); err != nil {
		return fmt.Errorf("postgres: commit to %s: %w", stream, plain(err))
	}
	if t.appended {
		s.notifier.tell(stream)
	}
	return nil
}

// beginAlone begins a transaction and waits for the stream's lock, in one
// message. Each statement must see what was committed before it began, so that
// those after the lock see all that the writer before has written.
func beginAlone(stream store.Stream) string {
	return fmt.Sprintf(`
		BEGIN ISOLATION LEVEL READ COMMITTED READ WRITE;
		SELECT pg_advisory_xact_lock('%d'::bigint)`,
		lockKey(stream.String()))
}

// commit makes a transaction durable. A caller who goes away meanwhile must not
// leave it open whether it was, so the context's end does not stop it.
func commit(ctx context.Context, t pgx.Tx) error {
	ctx, stop := context.WithTimeout(context.WithoutCancel(ctx), patience)
	defer stop()
	return t.Commit(ctx)
}

// rollback undoes a transaction that was not committed.
func rollback(t pgx.Tx) {
	ctx, stop := context.WithTimeout(context.Background(), 5*time.Second)
	defer stop()
	_ = t.Rollback(ctx)
}

// Read implements store.Logs. The head is looked up first and pages are read up
// to it: records never change, so that is the log as of that moment.
func (s *Store) Read(ctx context.Context, stream store.Stream, after int64, each func(journal.Record) error) error {
	head, err := headOf(ctx, s.pool, stream)
	if err != nil {
		return fmt.Errorf("postgres: read %s: %w", stream, plain(err))
	}
	return readPages(ctx, s.pool, stream, after, head.Seq, each)
}

// readPages calls each with the records after one seq up to another.
func readPages(ctx context.Context, from queryer, stream store.Stream, after, upTo int64, each func(journal.Record) error) error {
	for after < upTo {
		page, err := readPage(ctx, from, stream, after, upTo)
		if err != nil {
			return fmt.Errorf("postgres: read %s after %d: %w", stream, after, err)
		}
		if len(page) == 0 {
			return nil
		}
		for _, r := range page {
			if err := each(r); err != nil {
				return err
			}
		}
		after = page[len(page)-1].Seq
	}
	return nil
}

func readPage(ctx context.Context, from queryer, stream store.Stream, after, upTo int64) ([]journal.Record, error) {
	return list(ctx, from, func(row pgx.CollectableRow) (r journal.Record, err error) {
		var hash []byte
		err = row.Scan(&r.Seq, &r.Bytes, &hash)
		copy(r.Hash[:], hash)
		return r, err
	}, `
		SELECT
			seq,
			bytes,
			hash
		FROM events
		WHERE club_id = $1
			AND stream = $2
			AND seq > $3
			AND seq <= $4
		ORDER BY seq
		LIMIT $5`,
		stream.Club, stream.Name, after, upTo, pageSize)
}

// headOf is the stream's head, the zero Head of a stream without records.
func headOf(ctx context.Context, from queryer, stream store.Stream) (journal.Head, error) {
	var (
		head journal.Head
		hash []byte
	)
	err := from.QueryRow(ctx, `
		SELECT
			seq,
			hash
		FROM events
		WHERE club_id = $1
			AND stream = $2
		ORDER BY seq DESC
		LIMIT 1`,
		stream.Club, stream.Name).Scan(&head.Seq, &hash)
	if errors.Is(err, pgx.ErrNoRows) {
		return journal.Head{}, nil
	}
	copy(head.Hash[:], hash)
	return head, err
}

// Streams implements store.Logs. It jumps from name to name in the index, so
// its cost grows with the number of streams and not of records.
func (s *Store) Streams(ctx context.Context, club string) ([]store.StreamHead, error) {
	// The last name is NULL, behind which there is no other; the join drops it, for no event has it.
	heads, err := list(ctx, s.pool, func(row pgx.CollectableRow) (store.StreamHead, error) {
		var (
			h    = store.StreamHead{Stream: store.Stream{Club: club}}
			hash []byte
		)
		err := row.Scan(&h.Stream.Name, &h.Head.Seq, &hash)
		copy(h.Head.Hash[:], hash)
		return h, err
	}, `
		WITH RECURSIVE names (stream) AS (
			SELECT MIN(stream)
			FROM events
			WHERE club_id = $1
			UNION ALL
			SELECT (
				SELECT MIN(e.stream)
				FROM events AS e
				WHERE e.club_id = $1
					AND e.stream > names.stream
			)
			FROM names
			WHERE names.stream IS NOT NULL
		)
		SELECT
			newest.stream,
			newest.seq,
			newest.hash
		FROM names
		CROSS JOIN LATERAL (
			SELECT
				e.stream,
				e.seq,
				e.hash
			FROM events AS e
			WHERE e.club_id = $1
				AND e.stream = names.stream
			ORDER BY e.seq DESC
			LIMIT 1
		) AS newest
		ORDER BY newest.stream`,
		club)
	if err != nil {
		return nil, fmt.Errorf("postgres: list the streams of %s: %w", club, err)
	}
	return heads, nil
}

// list collects the rows of a query.
func list[T any](ctx context.Context, from queryer, read pgx.RowToFunc[T], query string, args ...any) ([]T, error) {
	var found []T
	err := within(ctx, func(ctx context.Context) error {
		rows, err := from.Query(ctx, query, args...)
		if err != nil {
			return err
		}
		found, err = pgx.CollectRows(rows, read)
		return err
	})
	return found, plain(err)
}
