package rows

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"fmt"
	"net/url"

	_ "modernc.org/sqlite" // the driver, as the store has it
)

// SQLite is a file with the settings of the store and two of its tables.
type SQLite struct {
	db           *sql.DB
	conn         *sql.Conn
	event, reply *sql.Stmt
	seq          int64
}

// size is how long an event and an answer are, in bytes, as those of a club's order.
const eventSize, answerSize = 330, 130

// OpenSQLite makes the file.
func OpenSQLite(ctx context.Context, path string) (*SQLite, error) {
	query := url.Values{"_txlock": {"immediate"}, "_pragma": {
		"journal_mode(WAL)", "synchronous(FULL)", "secure_delete(ON)", "foreign_keys(ON)", "temp_store(MEMORY)",
	}}
	db, err := sql.Open("sqlite", (&url.URL{Scheme: "file", OmitHost: true, Path: path, RawQuery: query.Encode()}).String())
	if err != nil {
		return nil, err
	}
	s := &SQLite{db: db}
	if s.conn, err = db.Conn(ctx); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	_, err = s.conn.ExecContext(ctx, `
		CREATE TABLE events (
			stream TEXT NOT NULL, seq INTEGER NOT NULL, bytes BLOB NOT NULL, hash BLOB NOT NULL,
			PRIMARY KEY (stream, seq)) WITHOUT ROWID;
		CREATE TABLE answers (
			stream TEXT NOT NULL, command TEXT NOT NULL, content BLOB NOT NULL, body BLOB NOT NULL,
			PRIMARY KEY (stream, command)) WITHOUT ROWID`)
	if err == nil {
		s.event, err = s.conn.PrepareContext(ctx, `INSERT INTO events VALUES (?, ?, ?, ?)`)
	}
	if err == nil {
		s.reply, err = s.conn.PrepareContext(ctx, `INSERT INTO answers VALUES (?, ?, ?, ?)`)
	}
	if err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// Close ends it.
func (s *SQLite) Close() error {
	for _, statement := range []*sql.Stmt{s.event, s.reply} {
		if statement != nil {
			_ = statement.Close() // it goes with the file
		}
	}
	return errors.Join(s.conn.Close(), s.db.Close())
}

// Write writes events in one transaction, with answers or without.
func (s *SQLite) Write(ctx context.Context, events int, answers bool) error {
	if _, err := s.conn.ExecContext(ctx, `BEGIN IMMEDIATE`); err != nil {
		return err
	}
	for range events {
		s.seq++
		if _, err := s.event.ExecContext(ctx, "club", s.seq, filled(eventSize), filled(32)); err != nil {
			return err
		}
		if !answers {
			continue
		}
		if _, err := s.reply.ExecContext(ctx, "club", command(s.seq), filled(32), filled(answerSize)); err != nil {
			return err
		}
	}
	_, err := s.conn.ExecContext(ctx, `COMMIT`)
	return err
}

// command is an id in the order of time, as clients make them.
func command(n int64) string { return fmt.Sprintf("0190a0c0-0000-7000-8000-%012d", n) }

// filled is bytes that no database packs.
func filled(size int) []byte {
	out := make([]byte, size)
	_, _ = rand.Read(out) // never fails
	return out
}
