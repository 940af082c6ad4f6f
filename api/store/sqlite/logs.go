package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// pageSize is how many records are fetched at a time. Between two pages no
// connection is held, so a slow reader holds up neither writers nor erasure.
const pageSize = 512

// rows is what a page is read from: the pool of readers or the writer's
// connection.
type rows interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// Write implements store.Logs.
func (s *Store) Write(ctx context.Context, stream store.Stream, fn func(store.Tx) error) error {
	return s.writer.do(ctx, func(conn *connection) error {
		t := &tx{conn: conn, stream: stream}
		defer func() { t.conn = nil }()
		return fn(t)
	})
}

// Read implements store.Logs. The head is looked up first and pages are read up
// to it: records never change, so that is the log as of that moment.
func (s *Store) Read(ctx context.Context, stream store.Stream, after int64, each func(journal.Record) error) error {
	head, err := headOf(ctx, s.reading, stream)
	if err != nil {
		return fmt.Errorf("sqlite: read %s: %w", stream, err)
	}
	return readPages(ctx, s.reading, stream, after, head.Seq, each)
}

// readPages calls each with the records after one seq up to another.
func readPages(ctx context.Context, from rows, stream store.Stream, after, upTo int64, each func(journal.Record) error) error {
	for after < upTo {
		page, err := readPage(ctx, from, stream, after, upTo)
		if err != nil {
			return fmt.Errorf("sqlite: read %s after %d: %w", stream, after, err)
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

func readPage(ctx context.Context, from rows, stream store.Stream, after, upTo int64) (page []journal.Record, err error) {
	// The upper bound keeps out what was appended since the head was looked up.
	found, err := from.QueryContext(ctx, `
		SELECT
			seq,
			bytes,
			hash
		FROM events
		WHERE club_id = ?
			AND stream = ?
			AND seq > ?
			AND seq <= ?
		ORDER BY seq
		LIMIT ?`,
		stream.Club, stream.Name, after, upTo, pageSize)
	if err != nil {
		return nil, err
	}
	defer func() { _ = found.Close() }()
	for found.Next() {
		var (
			r    journal.Record
			hash []byte
		)
		if err := found.Scan(&r.Seq, &r.Bytes, &hash); err != nil {
			return nil, err
		}
		copy(r.Hash[:], hash)
		page = append(page, r)
	}
	return page, found.Err()
}

// headOf is the stream's head, the zero Head of a stream without records.
func headOf(ctx context.Context, from rows, stream store.Stream) (journal.Head, error) {
	var (
		head journal.Head
		hash []byte
	)
	err := from.QueryRowContext(ctx, `
		SELECT
			seq,
			hash
		FROM events
		WHERE club_id = ?
			AND stream = ?
		ORDER BY seq DESC
		LIMIT 1`,
		stream.Club, stream.Name).Scan(&head.Seq, &hash)
	if errors.Is(err, sql.ErrNoRows) {
		return journal.Head{}, nil
	}
	copy(head.Hash[:], hash)
	return head, err
}

// Streams implements store.Logs. It jumps from name to name in the index and from
// each to its last record, so its cost grows with the number of streams and not of
// records: joined to the events instead, SQLite would walk through all of them
// once for each name.
func (s *Store) Streams(ctx context.Context, club string) (heads []store.StreamHead, err error) {
	// The last name is NULL, behind which there is no other; it is left out at the end.
	found, err := s.reading.QueryContext(ctx, `
		WITH RECURSIVE names (stream) AS (
			SELECT MIN(stream)
			FROM events
			WHERE club_id = ?1
			UNION ALL
			SELECT (
				SELECT MIN(e.stream)
				FROM events AS e
				WHERE e.club_id = ?1
					AND e.stream > names.stream
			)
			FROM names
			WHERE names.stream IS NOT NULL
		)
		SELECT
			names.stream,
			(
				SELECT e.seq
				FROM events AS e
				WHERE e.club_id = ?1
					AND e.stream = names.stream
				ORDER BY e.seq DESC
				LIMIT 1
			),
			(
				SELECT e.hash
				FROM events AS e
				WHERE e.club_id = ?1
					AND e.stream = names.stream
				ORDER BY e.seq DESC
				LIMIT 1
			)
		FROM names
		WHERE names.stream IS NOT NULL
		ORDER BY names.stream`,
		club)
	if err != nil {
		return nil, fmt.Errorf("sqlite: list the streams of %s: %w", club, err)
	}
	defer func() { _ = found.Close() }()
	for found.Next() {
		var (
			h    = store.StreamHead{Stream: store.Stream{Club: club}}
			hash []byte
		)
		if err := found.Scan(&h.Stream.Name, &h.Head.Seq, &hash); err != nil {
			return nil, fmt.Errorf("sqlite: list the streams of %s: %w", club, err)
		}
		copy(h.Head.Hash[:], hash)
		heads = append(heads, h)
	}
	if err := found.Err(); err != nil {
		return nil, fmt.Errorf("sqlite: list the streams of %s: %w", club, err)
	}
	return heads, nil
}

// Changes implements store.Logs. No other process can open the file, so no
// notice is ever sent.
func (s *Store) Changes(ctx context.Context) (<-chan store.Stream, error) {
	if s.closing.Err() != nil {
		return nil, errClosed
	}
	notices := make(chan store.Stream)
	go func() {
		defer close(notices)
		select {
		case <-ctx.Done():
		case <-s.closing.Done():
		}
	}()
	return notices, nil
}
