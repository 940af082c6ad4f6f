package postgres

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgerrcode"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

var _ store.Batcher = (*Store)(nil)

// WriteBatch implements store.Batcher. All of it is one message to the database and one
// back: PostgreSQL takes what comes before the end of a message for one transaction. It
// waits for the stream's lock like every other writer.
func (s *Store) WriteBatch(ctx context.Context, stream store.Stream, b store.Batch) error {
	if err := check(b); err != nil {
		return fmt.Errorf("postgres: append to %s: %w", stream, err)
	}
	select {
	case s.writes <- struct{}{}:
		defer func() { <-s.writes }()
	case <-ctx.Done():
		return ctx.Err()
	case <-s.closing.Done():
		return errClosed
	}
	ctx, stop := context.WithTimeout(ctx, patience)
	defer stop()
	written, err := s.sendBatch(ctx, stream, b)
	switch {
	case err != nil && overtaken(err), err == nil && written == 0:
		return fmt.Errorf("postgres: append to %s: %w", stream, store.ErrOvertaken)
	case err != nil:
		return fmt.Errorf("postgres: append to %s: %w", stream, explain(err))
	}
	if len(b.Records) > 0 && !b.Alone { // a notice costs a sync, and a look of whoever hears it
		s.notifier.tell(stream)
	}
	return nil
}

// check looks for mistakes of whoever made the batch, before anything is sent.
func check(b store.Batch) (err error) {
	head := b.After
	for _, r := range b.Records {
		if head, err = head.Follow(r); err != nil {
			return err
		}
	}
	if len(b.Answers) == 0 {
		return store.ErrNobody
	}
	return nil
}

// overtaken says whether an error means that the rows of a batch are there already, as
// others wrote them.
func overtaken(err error) bool {
	var refused *pgconn.PgError
	return errors.As(err, &refused) && refused.Code == pgerrcode.UniqueViolation
}

// sendBatch says how many answers were written: all or none.
func (s *Store) sendBatch(ctx context.Context, stream store.Stream, b store.Batch) (int64, error) {
	seqs, texts, hashes := columns(b.Records)
	commands, contents, bodies := answerColumns(b.Answers)
	var all pgx.Batch
	all.Queue(`
		SELECT
			pg_advisory_xact_lock($1),
			pg_advisory_xact_lock_shared($2)`,
		lockKey(stream.String()), fleetLock)
	// The second statement sees what was there when it began, which is after the locks. Where the log
	// does not end where it should, or a server has come in that whoever decided does not know of, it
	// writes nothing; a row that is there already is an error.
	all.Queue(`
		WITH newest AS (
			SELECT
				seq,
				hash
			FROM events
			WHERE club_id = $1::text
				AND stream = $2::text
			ORDER BY seq DESC
			LIMIT 1
		), place AS (
			SELECT 1
			WHERE (
				($3::bigint = 0 AND NOT EXISTS (SELECT 1 FROM newest))
				OR EXISTS (SELECT 1 FROM newest WHERE seq = $3::bigint AND hash = $4::bytea)
			)
				AND ($11::bigint = 0 OR EXISTS (SELECT 1 FROM fleet WHERE epoch = $11::bigint))
		), events_put AS (
			INSERT INTO events (
				club_id,
				stream,
				seq,
				bytes,
				hash
			)
			SELECT
				$1::text,
				$2::text,
				new.seq,
				new.bytes,
				new.hash
			FROM unnest($5::bigint[], $6::bytea[], $7::bytea[]) AS new (seq, bytes, hash)
			CROSS JOIN place
		)
		INSERT INTO answers (
			club_id,
			stream,
			command,
			content,
			body
		)
		SELECT
			$1::text,
			$2::text,
			new.command,
			new.content,
			new.body
		FROM unnest($8::text[], $9::bytea[], $10::bytea[]) AS new (command, content, body)
		CROSS JOIN place`,
		stream.Club, stream.Name, b.After.Seq, b.After.Hash[:], seqs, texts, hashes, commands, contents, bodies, b.Epoch)
	sent := s.pool.SendBatch(ctx, &all)
	_, err := sent.Exec()
	var done pgconn.CommandTag
	if err == nil {
		done, err = sent.Exec()
	}
	// The transaction ends with the message: until then nothing is on disk.
	return done.RowsAffected(), errors.Join(err, sent.Close())
}

// columns are records as arrays.
func columns(records []journal.Record) (seqs []int64, texts, hashes [][]byte) {
	seqs, texts, hashes = make([]int64, len(records)), make([][]byte, len(records)), make([][]byte, len(records))
	for i, r := range records {
		seqs[i], texts[i], hashes[i] = r.Seq, full(r.Bytes), r.Hash[:]
	}
	return seqs, texts, hashes
}

// answerColumns are answers as arrays.
func answerColumns(answers []store.Answer) (commands []string, contents, bodies [][]byte) {
	commands, contents, bodies = make([]string, len(answers)), make([][]byte, len(answers)), make([][]byte, len(answers))
	for i, a := range answers {
		commands[i], contents[i], bodies[i] = a.Command, a.Content[:], full(a.Body)
	}
	return commands, contents, bodies
}
