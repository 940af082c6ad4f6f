package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"
)

// Erase implements store.People.
func (s *Store) Erase(ctx context.Context, club, person string, atUS int64) error {
	err := s.erase(ctx, club, person, atUS, `
		INSERT INTO erasures (
			club_id,
			person,
			at_us
		) VALUES (?1, ?2, ?3)
		ON CONFLICT DO NOTHING`, `
		DELETE FROM texts
		WHERE club_id = ?1
			AND text_id IN (
				SELECT text_id
				FROM text_about
				WHERE club_id = ?1
					AND person = ?2
			)`, `
		DELETE FROM people
		WHERE club_id = ?1
			AND person = ?2`)
	if err != nil {
		return fmt.Errorf("sqlite: erase person %s of %s: %w", person, club, err)
	}
	return nil
}

// EraseText implements store.People.
func (s *Store) EraseText(ctx context.Context, club, text string, atUS int64) error {
	err := s.erase(ctx, club, text, atUS, `
		INSERT INTO text_erasures (
			club_id,
			text_id,
			at_us
		) VALUES (?1, ?2, ?3)
		ON CONFLICT DO NOTHING`, `
		DELETE FROM texts
		WHERE club_id = ?1
			AND text_id = ?2`)
	if err != nil {
		return fmt.Errorf("sqlite: erase text %s of %s: %w", text, club, err)
	}
	return nil
}

// erase notes an id as erased and removes its rows. Their space is due to be
// overwritten, again too where the id was noted before; an id that was never here
// costs nothing: import notes many of them.
func (s *Store) erase(ctx context.Context, club, id string, atUS int64, note string, removals ...string) error {
	return s.writer.do(ctx, func(conn *connection) error {
		noted, err := exec(ctx, conn, note, club, id, atUS)
		if err != nil {
			return err
		}
		due := noted == 0
		for _, removal := range removals {
			removed, err := exec(ctx, conn, removal, club, id)
			if err != nil {
				return err
			}
			due = due || removed > 0
		}
		if !due {
			return nil
		}
		// Whom a text that is gone was about, nobody needs to know.
		if _, err := exec(ctx, conn, `
			DELETE FROM text_about
			WHERE club_id = ?1
				AND NOT EXISTS (
					SELECT 1
					FROM texts
					WHERE texts.club_id = text_about.club_id
						AND texts.text_id = text_about.text_id
				)`,
			club); err != nil {
			return err
		}
		_, err = exec(ctx, conn, `INSERT INTO overwrites (club_id) VALUES (?)`, club)
		return err
	})
}

// Overwrite implements store.People. After it no file of the folder holds a byte
// of the rows: secure_delete overwrites them in the pages, the write-ahead log
// with older versions of the pages is emptied, and VACUUM writes the file anew.
// What the drive keeps in blocks that it freed is out of reach; encrypt the
// drive against that.
//
// The log cannot be emptied while somebody reads an older version, another process
// too. That is waited for without the writer's turn: the venue goes on.
func (s *Store) Overwrite(ctx context.Context) error {
	if s.writer.readOnly {
		return fmt.Errorf("sqlite: overwrite what was erased: %w", ErrReadOnly)
	}
	var last int64 // the newest erasure that this call overwrites
	newest := `SELECT COALESCE(MAX(overwrite_id), 0) FROM overwrites`
	if err := s.reading.QueryRowContext(ctx, newest).Scan(&last); err != nil || last == 0 {
		return err // nothing to do, and nobody's turn was taken
	}
	for _, step := range []func(context.Context, *sql.Conn) error{
		func(_ context.Context, conn *sql.Conn) error {
			return conn.QueryRowContext(context.Background(), newest).Scan(&last)
		},
		tryTruncateLog,
		func(_ context.Context, conn *sql.Conn) error {
			_, err := conn.ExecContext(context.Background(), `VACUUM`)
			return err
		},
		tryTruncateLog,
		func(ctx context.Context, conn *sql.Conn) error {
			_, err := exec(ctx, conn, `DELETE FROM overwrites WHERE overwrite_id <= ?`, last)
			return err
		},
	} {
		if err := s.patiently(ctx, step); err != nil {
			return fmt.Errorf("sqlite: what was erased is removed, but its space could not be overwritten; it is tried again: %w", err)
		}
		if last == 0 {
			return nil
		}
	}
	return nil
}

// errReaders says that somebody reads an older version of the file.
var errReaders = errors.New("the write-ahead log could not be emptied while somebody reads")

// Between two tries to empty the log everybody else gets a turn.
const (
	tryFor   = 50 * time.Millisecond
	tryAfter = 50 * time.Millisecond
)

// patiently runs a step in a turn of its own, again and again while readers keep it
// from its end.
func (s *Store) patiently(ctx context.Context, step func(context.Context, *sql.Conn) error) error {
	for {
		err := s.writer.alone(ctx, func(conn *sql.Conn) error { return step(ctx, conn) })
		if !errors.Is(err, errReaders) {
			return err
		}
		select {
		case <-ctx.Done():
			return errors.Join(err, ctx.Err())
		case <-s.closing.Done():
			return errors.Join(err, errClosed)
		case <-time.After(tryAfter):
		}
	}
}

// tryTruncateLog moves the write-ahead log into the file and empties it, or is
// errReaders after a moment.
func tryTruncateLog(ctx context.Context, conn *sql.Conn) (err error) {
	set := func(d time.Duration) error {
		_, err := conn.ExecContext(context.WithoutCancel(ctx), fmt.Sprintf(`PRAGMA busy_timeout = %d`, d.Milliseconds()))
		return err
	}
	if err := set(tryFor); err != nil {
		return err
	}
	defer func() { err = errors.Join(err, set(busyFor)) }()
	var busy, frames, moved int
	err = conn.QueryRowContext(context.WithoutCancel(ctx), `PRAGMA wal_checkpoint(TRUNCATE)`).Scan(&busy, &frames, &moved)
	switch {
	case err != nil:
		return fmt.Errorf("empty the write-ahead log: %w", err)
	case busy != 0:
		return errReaders
	}
	return nil
}

// truncateLog is tryTruncateLog until it succeeds, for a connection that nobody
// else waits for. Readers of older versions are short.
func truncateLog(ctx context.Context, conn *sql.Conn) error {
	for {
		err := tryTruncateLog(ctx, conn)
		if !errors.Is(err, errReaders) {
			return err
		}
		select {
		case <-ctx.Done():
			return errors.Join(err, ctx.Err())
		case <-time.After(tryAfter):
		}
	}
}
