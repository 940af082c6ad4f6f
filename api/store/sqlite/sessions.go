package sqlite

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"benchmeet/api/store"
)

// PutSession implements store.Sessions.
func (s *keys) PutSession(ctx context.Context, n store.Session) error {
	err := s.write(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, `
			INSERT INTO sessions (
				club_id,
				session_id,
				token_id,
				hash,
				made_us,
				seen_us,
				ended_us
			) VALUES (?, ?, ?, ?, ?, ?, ?)`,
			n.Club, n.ID, n.Token, n.Hash[:], n.MadeUS, n.SeenUS, n.EndedUS)
		return err
	})
	if taken(err) {
		err = store.ErrConflict
	}
	if err != nil {
		return fmt.Errorf("sqlite: put session %s of %s: %w", n.ID, n.Club, err)
	}
	return nil
}

// taken says whether another row has what a new one was to have alone.
func taken(err error) bool {
	var refused *sqlite.Error
	return errors.As(err, &refused) &&
		slices.Contains([]int{sqlite3.SQLITE_CONSTRAINT_UNIQUE, sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY}, refused.Code())
}

// sessionColumns are what scanSession reads.
const sessionColumns = `
			sessions.club_id,
			sessions.session_id,
			sessions.token_id,
			sessions.hash,
			sessions.made_us,
			sessions.seen_us,
			sessions.ended_us`

const sessionByHash = `
		SELECT` + sessionColumns + `,` + tokenColumns + `
		FROM sessions
		JOIN tokens USING (club_id, token_id)
		WHERE sessions.hash = ?`

// SessionByHash implements store.Sessions.
func (s *keys) SessionByHash(ctx context.Context, hash [32]byte) (store.Session, store.Token, error) {
	one, err := s.sessions.at(hash, func() (sessionOf, error) { return s.sessionByHash(ctx, hash) })
	if err != nil {
		return store.Session{}, store.Token{}, fmt.Errorf("sqlite: look up a session: %w", orNotFound(err))
	}
	one.token.Benches = slices.Clone(one.token.Benches) // the caller's own
	return one.session, one.token, nil
}

func (s *keys) sessionByHash(ctx context.Context, hash [32]byte) (one sessionOf, err error) {
	row := s.in.asked.row(ctx, sessionByHash, hash[:])
	one.session, err = scanSession(func(session ...any) (err error) {
		one.token, err = scanToken(func(token ...any) error { return row.Scan(append(session, token...)...) })
		return err
	})
	return one, err
}

// Session implements store.Sessions.
func (s *keys) Session(ctx context.Context, club, id string) (store.Session, error) {
	n, err := scanSession(s.in.reading.QueryRowContext(ctx, `
		SELECT`+sessionColumns+`
		FROM sessions
		WHERE club_id = ?
			AND session_id = ?`,
		club, id).Scan)
	if err != nil {
		return store.Session{}, fmt.Errorf("sqlite: session %s of %s: %w", id, club, orNotFound(err))
	}
	return n, nil
}

// AllSessions implements store.Sessions.
func (s *keys) AllSessions(ctx context.Context, club string) ([]store.Session, error) {
	sessions, err := list(ctx, s.in.reading, scanSession, `
		SELECT`+sessionColumns+`
		FROM sessions
		WHERE club_id = ?
		ORDER BY session_id`,
		club)
	if err != nil {
		return nil, fmt.Errorf("sqlite: list the sessions of %s: %w", club, err)
	}
	return sessions, nil
}

// SeeSession implements store.Sessions.
func (s *keys) SeeSession(ctx context.Context, club, id string, atUS int64) error {
	return s.noteSession(ctx, `
		UPDATE sessions
		SET seen_us = ?1
		WHERE seen_us < ?1
			AND club_id = ?2
			AND session_id = ?3`,
		club, id, atUS)
}

// EndSession implements store.Sessions.
func (s *keys) EndSession(ctx context.Context, club, id string, atUS int64) error {
	return s.noteSession(ctx, `
		UPDATE sessions
		SET ended_us = ?1
		WHERE ended_us = 0
			AND club_id = ?2
			AND session_id = ?3`,
		club, id, atUS)
}

func (s *keys) noteSession(ctx context.Context, statement, club, id string, atUS int64) error {
	err := s.write(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, statement, atUS, club, id)
		return err
	})
	if err != nil {
		return fmt.Errorf("sqlite: note session %s of %s: %w", id, club, err)
	}
	return nil
}

func scanSession(scan func(...any) error) (store.Session, error) {
	var (
		n    store.Session
		hash []byte
	)
	err := scan(&n.Club, &n.ID, &n.Token, &hash, &n.MadeUS, &n.SeenUS, &n.EndedUS)
	if err != nil {
		return store.Session{}, err
	}
	copy(n.Hash[:], hash)
	return n, nil
}
