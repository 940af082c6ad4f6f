package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"
)

// Erase implements store.People. After it no file of the folder holds a byte of
// the rows: secure_delete overwrites them in the pages, the write-ahead log
// with older versions of the pages is emptied, and VACUUM writes the file anew.
// What the drive keeps in blocks that it freed is out of reach; encrypt the
// drive against that.
func (s *Store) Erase(ctx context.Context, club, person string, atUS int64) error {
	var removed int64
	again := false
	err := s.writer.do(ctx, func(conn *sql.Conn) error {
		texts, err := exec(ctx, conn, `
			DELETE FROM texts
			WHERE club_id = ?
				AND about = ?`,
			club, person)
		if err != nil {
			return err
		}
		rows, err := exec(ctx, conn, `
			DELETE FROM people
			WHERE club_id = ?
				AND person = ?`,
			club, person)
		if err != nil {
			return err
		}
		noted, err := exec(ctx, conn, `
			INSERT INTO erasures (
				club_id,
				person,
				at_us
			) VALUES (?, ?, ?)
			ON CONFLICT DO NOTHING`,
			club, person, atUS)
		removed, again = texts+rows, noted == 0
		return err
	})
	if err != nil {
		return fmt.Errorf("sqlite: erase person %s of %s: %w", person, club, err)
	}
	if removed == 0 && !again {
		return nil // an id that was never here; import notes many of them
	}
	// An erasure that is asked for again cleans again: the first may have been
	// cut short after its rows were removed.
	if err := s.writer.alone(ctx, func(conn *sql.Conn) error { return clean(ctx, conn) }); err != nil {
		return fmt.Errorf("sqlite: the rows of person %s of %s are removed, but their space could not be overwritten; erase again: %w", person, club, err)
	}
	return nil
}

// clean leaves nothing of removed rows in the files.
func clean(ctx context.Context, conn *sql.Conn) error {
	if err := truncateLog(ctx, conn); err != nil {
		return err
	}
	if _, err := conn.ExecContext(context.WithoutCancel(ctx), `VACUUM`); err != nil {
		return fmt.Errorf("vacuum: %w", err)
	}
	return truncateLog(ctx, conn)
}

// truncateLog moves the write-ahead log into the file and empties it. It waits
// for readers of older versions; they are short.
func truncateLog(ctx context.Context, conn *sql.Conn) error {
	for {
		var busy, frames, moved int
		err := conn.QueryRowContext(context.WithoutCancel(ctx), `PRAGMA wal_checkpoint(TRUNCATE)`).Scan(&busy, &frames, &moved)
		if err != nil {
			return fmt.Errorf("empty the write-ahead log: %w", err)
		}
		if busy == 0 {
			return nil
		}
		select {
		case <-ctx.Done():
			return errors.Join(errors.New("the write-ahead log could not be emptied while somebody reads"), ctx.Err())
		case <-time.After(20 * time.Millisecond):
		}
	}
}
