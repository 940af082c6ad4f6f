package postgres

import (
	"context"
	"fmt"
	"slices"

	"benchmeet/api/store"
)

// PutSession implements store.Sessions.
func (s keys) PutSession(ctx context.Context, n store.Session) error {
	_, err := s.in.pool.Exec(ctx, `
			INSERT INTO sessions (
				club_id,
				session_id,
				token_id,
				hash,
				made_us,
				seen_us,
				ended_us
			) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
		n.Club, n.ID, n.Token, n.Hash[:], n.MadeUS, n.SeenUS, n.EndedUS)
	if err != nil {
		return fmt.Errorf("postgres: put session %s of %s: %w", n.ID, n.Club, explain(err))
	}
	return nil
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

// SessionByHash implements store.Sessions.
func (s keys) SessionByHash(ctx context.Context, hash [32]byte) (store.Session, store.Token, error) {
	n, err := s.sessions.find(ctx, hash)
	if err != nil {
		return store.Session{}, store.Token{}, fmt.Errorf("postgres: look up a session: %w", err)
	}
	n.token.Benches = slices.Clone(n.token.Benches) // the caller's own
	return n.session, n.token, nil
}

// Session implements store.Sessions.
func (s keys) Session(ctx context.Context, club, id string) (store.Session, error) {
	n, err := scanSession(s.in.pool.QueryRow(ctx, `
		SELECT`+sessionColumns+`
		FROM sessions
		WHERE club_id = $1
			AND session_id = $2`,
		club, id).Scan)
	if err != nil {
		return store.Session{}, fmt.Errorf("postgres: session %s of %s: %w", id, club, orNotFound(err))
	}
	return n, nil
}

// AllSessions implements store.Sessions.
func (s keys) AllSessions(ctx context.Context, club string) ([]store.Session, error) {
	sessions, err := list(ctx, s.in.pool, rowOf(scanSession), `
		SELECT`+sessionColumns+`
		FROM sessions
		WHERE club_id = $1
		ORDER BY session_id`,
		club)
	if err != nil {
		return nil, fmt.Errorf("postgres: list the sessions of %s: %w", club, err)
	}
	return sessions, nil
}

// SeeSession implements store.Sessions.
func (s keys) SeeSession(ctx context.Context, club, id string, atUS int64) error {
	return s.noteSession(ctx, `
		UPDATE sessions
		SET seen_us = $1
		WHERE seen_us < $1
			AND club_id = $2
			AND session_id = $3`,
		club, id, atUS)
}

// EndSession implements store.Sessions.
func (s keys) EndSession(ctx context.Context, club, id string, atUS int64) error {
	return s.noteSession(ctx, `
		UPDATE sessions
		SET ended_us = $1
		WHERE ended_us = 0
			AND club_id = $2
			AND session_id = $3`,
		club, id, atUS)
}

func (s keys) noteSession(ctx context.Context, statement, club, id string, atUS int64) error {
	_, err := s.in.pool.Exec(ctx, statement, atUS, club, id)
	if err != nil {
		return fmt.Errorf("postgres: note session %s of %s: %w", id, club, plain(err))
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
