package sqlite

import (
	"context"
	"fmt"

	"benchmeet/api/store"
	"benchmeet/domain/trace"
)

// PutChunk implements store.Traces.
func (s *Store) PutChunk(ctx context.Context, club string, c trace.Stored) (fresh bool, err error) {
	err = s.writer.do(ctx, func(conn *connection) error {
		fresh, err = putChunk(ctx, conn, club, c)
		return err
	})
	if err != nil {
		return false, fmt.Errorf("sqlite: put chunk %d of run %s of bench %s of %s: %w", c.Key.Number, c.Key.Run, c.Key.Bench, club, err)
	}
	return fresh, nil
}

func putChunk(ctx context.Context, conn *connection, club string, c trace.Stored) (fresh bool, err error) {
	added, err := exec(ctx, conn, `
		INSERT INTO chunks (
			club_id,
			bench,
			boot,
			run,
			number,
			packed,
			last
		) VALUES (?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT DO NOTHING`,
		club, c.Key.Bench, c.Key.Boot, c.Key.Run, c.Key.Number, full(c.Packed), c.Last)
	if err != nil {
		return false, err
	}
	if added == 0 {
		// Whoever got no answer sends the same again; anything else under its key is a conflict,
		// and the first stays.
		there := trace.Stored{Key: c.Key}
		err := conn.QueryRowContext(context.WithoutCancel(ctx), `
			SELECT
				packed,
				last
			FROM chunks
			WHERE club_id = ?
				AND bench = ?
				AND boot = ?
				AND run = ?
				AND number = ?`,
			club, c.Key.Bench, c.Key.Boot, c.Key.Run, c.Key.Number).Scan(&there.Packed, &there.Last)
		if err == nil && !there.Same(c) {
			err = store.ErrConflict
		}
		return false, err
	}
	if c.Last == nil {
		return true, nil
	}
	// In the same turn as the chunk, so that no crash can leave the last chunk of a run without the
	// note that the run has ended, by which it is found again and recorded.
	_, err = exec(ctx, conn, `
		INSERT INTO runs (
			club_id,
			bench,
			boot,
			run,
			ended
		) VALUES (?, ?, ?, ?, 1)
		ON CONFLICT (club_id, bench, boot, run) DO UPDATE SET
			ended = 1`,
		club, c.Key.Bench, c.Key.Boot, c.Key.Run)
	return true, err
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
	chunks, err := list(ctx, s.reading, func(scan func(...any) error) (c trace.Stored, err error) {
		c.Key = trace.Key{Bench: run.Bench, Boot: run.Boot, Run: run.Run}
		err = scan(&c.Key.Number, &c.Packed, &c.Last)
		return c, err
	}, `
		SELECT
			number,
			packed,
			last
		FROM chunks
		WHERE club_id = ?
			AND bench = ?
			AND boot = ?
			AND run = ?
			AND ? = (
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
		return nil, fmt.Errorf("sqlite: chunks of run %s of bench %s of %s: %w", run.Run, run.Bench, club, err)
	}
	return chunks, nil
}

// OpenRuns implements store.Traces.
func (s *Store) OpenRuns(ctx context.Context, club string) ([]store.RunKey, error) {
	open, err := list(ctx, s.reading, scanRun, `
		SELECT
			bench,
			boot,
			run
		FROM runs
		WHERE club_id = ?
			AND ended = 1
			AND closed = 0
		ORDER BY
			bench,
			boot,
			run`,
		club)
	if err != nil {
		return nil, fmt.Errorf("sqlite: list the open runs of %s: %w", club, err)
	}
	return open, nil
}

// FreezeRun implements store.Traces.
func (s *Store) FreezeRun(ctx context.Context, club string, run store.RunKey, n int) error {
	err := s.writer.do(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, `
			INSERT INTO runs (
				club_id,
				bench,
				boot,
				run,
				chunks
			) VALUES (?, ?, ?, ?, ?)
			ON CONFLICT (club_id, bench, boot, run) DO UPDATE SET
				chunks = excluded.chunks
				WHERE chunks = 0`,
			club, run.Bench, run.Boot, run.Run, n)
		return err
	})
	if err != nil {
		return fmt.Errorf("sqlite: freeze run %s of bench %s of %s: %w", run.Run, run.Bench, club, err)
	}
	return nil
}

// CloseRun implements store.Traces.
func (s *Store) CloseRun(ctx context.Context, club string, run store.RunKey) error {
	err := s.writer.do(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, `
			INSERT INTO runs (
				club_id,
				bench,
				boot,
				run,
				closed
			) VALUES (?, ?, ?, ?, 1)
			ON CONFLICT (club_id, bench, boot, run) DO UPDATE SET
				closed = 1`,
			club, run.Bench, run.Boot, run.Run)
		return err
	})
	if err != nil {
		return fmt.Errorf("sqlite: close run %s of bench %s of %s: %w", run.Run, run.Bench, club, err)
	}
	return nil
}

// Runs implements store.Traces. It holds all keys in memory, about 100 bytes a
// run.
func (s *Store) Runs(ctx context.Context, club string, each func(store.RunKey) error) error {
	runs, err := list(ctx, s.reading, scanRun, `
		SELECT DISTINCT
			bench,
			boot,
			run
		FROM chunks
		WHERE club_id = ?
		ORDER BY
			bench,
			boot,
			run`,
		club)
	if err != nil {
		return fmt.Errorf("sqlite: list the runs of %s: %w", club, err)
	}
	for _, run := range runs {
		if err := each(run); err != nil {
			return err
		}
	}
	return nil
}

func scanRun(scan func(...any) error) (run store.RunKey, err error) {
	err = scan(&run.Bench, &run.Boot, &run.Run)
	return run, err
}
