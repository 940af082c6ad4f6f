package postgres

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"benchmeet/api/store"
	"benchmeet/domain/trace"
)

// PutChunk implements store.Traces.
func (s *Store) PutChunk(ctx context.Context, club string, c trace.Stored) (fresh bool, err error) {
	if fresh, err = s.putChunk(ctx, club, c); err != nil {
		return false, fmt.Errorf("postgres: put chunk %d of run %s of bench %s of %s: %w", c.Key.Number, c.Key.Run, c.Key.Bench, club, plain(err))
	}
	return fresh, nil
}

func (s *Store) putChunk(ctx context.Context, club string, c trace.Stored) (bool, error) {
	var added int
	// One statement, so one commit: no crash can leave the last chunk of a run without the note
	// that the run has ended, by which it is found again and recorded.
	err := s.pool.QueryRow(ctx, `
		WITH added AS (
			INSERT INTO chunks (
				club_id,
				bench,
				boot,
				run,
				number,
				packed,
				last
			) VALUES ($1, $2, $3, $4, $5, $6, $7)
			ON CONFLICT DO NOTHING
			RETURNING
				club_id,
				bench,
				boot,
				run,
				last
		), ended AS (
			INSERT INTO runs (
				club_id,
				bench,
				boot,
				run,
				ended
			)
			SELECT
				club_id,
				bench,
				boot,
				run,
				true
			FROM added
			WHERE last IS NOT NULL
			ON CONFLICT (club_id, bench, boot, run) DO UPDATE SET
				ended = true
		)
		SELECT COUNT(*)
		FROM added`,
		club, c.Key.Bench, c.Key.Boot, c.Key.Run, c.Key.Number, full(c.Packed), c.Last).Scan(&added)
	if err != nil || added == 1 {
		return added == 1, explain(err)
	}
	// The chunk is there already. Whoever got no answer sends the same again; anything else
	// under its key is a conflict, and the first stays.
	there := trace.Stored{Key: c.Key}
	err = s.pool.QueryRow(ctx, `
		SELECT
			packed,
			last
		FROM chunks
		WHERE club_id = $1
			AND bench = $2
			AND boot = $3
			AND run = $4
			AND number = $5`,
		club, c.Key.Bench, c.Key.Boot, c.Key.Run, c.Key.Number).Scan(&there.Packed, &there.Last)
	if err == nil && !there.Same(c) {
		err = store.ErrConflict
	}
	return false, err
}

// Chunks implements store.Traces.
func (s *Store) Chunks(ctx context.Context, club string, run store.RunKey) ([]trace.Stored, error) {
	return s.chunks(ctx, club, run, false)
}

// LateChunks implements store.Traces.
func (s *Store) LateChunks(ctx context.Context, club string, run store.RunKey) ([]trace.Stored, error) {
	return s.chunks(ctx, club, run, true)
}

// chunks are those that a run is made of, or those that came late.
func (s *Store) chunks(ctx context.Context, club string, run store.RunKey, late bool) ([]trace.Stored, error) {
	// A run without a row, or with 0 chunks in it, was not frozen: the bound is then one above each
	// number, so that none of its chunks is late.
	chunks, err := list(ctx, s.pool, func(row pgx.CollectableRow) (c trace.Stored, err error) {
		c.Key = trace.Key{Bench: run.Bench, Boot: run.Boot, Run: run.Run}
		err = row.Scan(&c.Key.Number, &c.Packed, &c.Last)
		return c, err
	}, `
		SELECT
			number,
			packed,
			last
		FROM chunks
		WHERE club_id = $1
			AND bench = $2
			AND boot = $3
			AND run = $4
			AND $5 = (
				number >= COALESCE((
					SELECT NULLIF(runs.chunks, 0)
					FROM runs
					WHERE runs.club_id = chunks.club_id
						AND runs.bench = chunks.bench
						AND runs.boot = chunks.boot
						AND runs.run = chunks.run
				), number + 1)
			)
		ORDER BY number`,
		club, run.Bench, run.Boot, run.Run, late)
	if err != nil {
		return nil, fmt.Errorf("postgres: chunks of run %s of bench %s of %s: %w", run.Run, run.Bench, club, err)
	}
	return chunks, nil
}

// OpenRuns implements store.Traces.
func (s *Store) OpenRuns(ctx context.Context, club string) ([]store.RunKey, error) {
	open, err := list(ctx, s.pool, scanRun, `
		SELECT
			bench,
			boot,
			run
		FROM runs
		WHERE club_id = $1
			AND ended
			AND NOT closed
		ORDER BY
			bench,
			boot,
			run`,
		club)
	if err != nil {
		return nil, fmt.Errorf("postgres: list the open runs of %s: %w", club, err)
	}
	return open, nil
}

// FreezeRun implements store.Traces.
func (s *Store) FreezeRun(ctx context.Context, club string, run store.RunKey, n int) error {
	_, err := s.pool.Exec(ctx, `
		INSERT INTO runs (
			club_id,
			bench,
			boot,
			run,
			chunks
		) VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (club_id, bench, boot, run) DO UPDATE SET
			chunks = excluded.chunks
			WHERE runs.chunks = 0`,
		club, run.Bench, run.Boot, run.Run, n)
	if err != nil {
		return fmt.Errorf("postgres: freeze run %s of bench %s of %s: %w", run.Run, run.Bench, club, explain(err))
	}
	return nil
}

// CloseRun implements store.Traces.
func (s *Store) CloseRun(ctx context.Context, club string, run store.RunKey) error {
	_, err := s.pool.Exec(ctx, `
		INSERT INTO runs (
			club_id,
			bench,
			boot,
			run,
			closed
		) VALUES ($1, $2, $3, $4, true)
		ON CONFLICT (club_id, bench, boot, run) DO UPDATE SET
			closed = true`,
		club, run.Bench, run.Boot, run.Run)
	if err != nil {
		return fmt.Errorf("postgres: close run %s of bench %s of %s: %w", run.Run, run.Bench, club, explain(err))
	}
	return nil
}

// Runs implements store.Traces. It holds all keys in memory, about 100 bytes a
// run.
func (s *Store) Runs(ctx context.Context, club string, each func(store.RunKey) error) error {
	runs, err := list(ctx, s.pool, scanRun, `
		SELECT DISTINCT
			bench,
			boot,
			run
		FROM chunks
		WHERE club_id = $1
		ORDER BY
			bench,
			boot,
			run`,
		club)
	if err != nil {
		return fmt.Errorf("postgres: list the runs of %s: %w", club, plain(err))
	}
	for _, run := range runs {
		if err := each(run); err != nil {
			return err
		}
	}
	return nil
}

func scanRun(row pgx.CollectableRow) (run store.RunKey, err error) {
	err = row.Scan(&run.Bench, &run.Boot, &run.Run)
	return run, err
}
