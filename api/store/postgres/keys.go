package postgres

import (
	"context"

	"github.com/jackc/pgx/v5"

	"benchmeet/api/store"
)

// keys are the tokens that are out and the sessions that were made with them. Each request
// asks for one of them.
type keys struct {
	in       *Store
	tokens   *together[store.Token]
	sessions *together[sessionOf]
}

// sessionOf is a session with the token that it was made with.
type sessionOf struct {
	session store.Session
	token   store.Token
}

func newKeys(in *Store) keys {
	k := keys{in: in}
	k.tokens = &together[store.Token]{ask: k.tokensOf}
	k.sessions = &together[sessionOf]{ask: k.sessionsOf}
	return k
}

const tokensByHash = `
		SELECT` + tokenColumns + `
		FROM tokens
		WHERE hash = ANY($1::bytea[])`

func (s keys) tokensOf(ctx context.Context, hashes [][]byte) (map[[32]byte]store.Token, error) {
	tokens, err := list(ctx, s.in.pool, rowOf(scanToken), tokensByHash, hashes)
	of := make(map[[32]byte]store.Token, len(tokens))
	for _, t := range tokens {
		of[t.Hash] = t
	}
	return of, err
}

const sessionsByHash = `
		SELECT` + sessionColumns + `,` + tokenColumns + `
		FROM sessions
		JOIN tokens USING (club_id, token_id)
		WHERE sessions.hash = ANY($1::bytea[])`

func (s keys) sessionsOf(ctx context.Context, hashes [][]byte) (map[[32]byte]sessionOf, error) {
	sessions, err := list(ctx, s.in.pool, rowOf(scanSessionOf), sessionsByHash, hashes)
	of := make(map[[32]byte]sessionOf, len(sessions))
	for _, n := range sessions {
		of[n.session.Hash] = n
	}
	return of, err
}

// scanSessionOf reads both from one row.
func scanSessionOf(scan func(...any) error) (n sessionOf, err error) {
	n.session, err = scanSession(func(session ...any) (err error) {
		n.token, err = scanToken(func(token ...any) error { return scan(append(session, token...)...) })
		return err
	})
	return n, err
}

// rowOf reads one of the rows that were found.
func rowOf[T any](scan func(func(...any) error) (T, error)) pgx.RowToFunc[T] {
	return func(row pgx.CollectableRow) (T, error) { return scan(row.Scan) }
}
