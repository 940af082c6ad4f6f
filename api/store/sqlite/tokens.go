package sqlite

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"benchmeet/api/store"
)

// PutToken implements store.Tokens. The hash of another token is
// store.ErrConflict.
func (s *keys) PutToken(ctx context.Context, t store.Token) error {
	// Appended to an empty list, because a nil one would be written as null.
	benches, err := json.Marshal(append([]string{}, t.Benches...))
	if err != nil {
		return fmt.Errorf("sqlite: put token %s of %s: %w", t.ID, t.Club, err)
	}
	err = s.write(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, `
			INSERT INTO tokens (
				club_id,
				token_id,
				hash,
				role,
				actor,
				benches,
				label,
				created_us,
				expires_us,
				revoked_us,
				meet,
				used_us,
				renew_us
			) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
			ON CONFLICT (club_id, token_id) DO UPDATE SET
				hash = excluded.hash,
				role = excluded.role,
				actor = excluded.actor,
				benches = excluded.benches,
				label = excluded.label,
				created_us = excluded.created_us,
				expires_us = excluded.expires_us,
				revoked_us = excluded.revoked_us,
				meet = excluded.meet,
				used_us = excluded.used_us,
				renew_us = excluded.renew_us`,
			t.Club, t.ID, t.Hash[:], t.Role, t.Actor, string(benches), t.Label, t.CreatedUS, t.ExpiresUS, t.RevokedUS, t.Meet, t.UsedUS, t.RenewUS)
		return err
	})
	// Only the same id is replaced, so what can still be broken is the unique index of the hashes.
	var refused *sqlite.Error
	if errors.As(err, &refused) && refused.Code() == sqlite3.SQLITE_CONSTRAINT_UNIQUE {
		err = store.ErrConflict
	}
	if err != nil {
		return fmt.Errorf("sqlite: put token %s of %s: %w", t.ID, t.Club, err)
	}
	return nil
}

// tokenColumns are what scanToken reads.
const tokenColumns = `
			tokens.club_id,
			tokens.token_id,
			tokens.hash,
			tokens.role,
			tokens.actor,
			tokens.benches,
			tokens.label,
			tokens.created_us,
			tokens.expires_us,
			tokens.revoked_us,
			tokens.meet,
			tokens.used_us,
			tokens.renew_us`

const tokenByHash = `
		SELECT` + tokenColumns + `
		FROM tokens
		WHERE hash = ?`

// TokenByHash implements store.Tokens.
func (s *keys) TokenByHash(ctx context.Context, hash [32]byte) (store.Token, error) {
	t, err := s.tokens.at(hash, func() (store.Token, error) {
		return scanToken(s.in.asked.row(ctx, tokenByHash, hash[:]).Scan)
	})
	if err != nil {
		return store.Token{}, fmt.Errorf("sqlite: look up a token: %w", orNotFound(err))
	}
	t.Benches = slices.Clone(t.Benches) // the caller's own
	return t, nil
}

// Token implements store.Tokens.
func (s *keys) Token(ctx context.Context, club, id string) (store.Token, error) {
	t, err := scanToken(s.in.reading.QueryRowContext(ctx, `
		SELECT`+tokenColumns+`
		FROM tokens
		WHERE club_id = ?
			AND token_id = ?`,
		club, id).Scan)
	if err != nil {
		return store.Token{}, fmt.Errorf("sqlite: token %s of %s: %w", id, club, orNotFound(err))
	}
	return t, nil
}

// AllTokens implements store.Tokens.
func (s *keys) AllTokens(ctx context.Context, club string) ([]store.Token, error) {
	tokens, err := list(ctx, s.in.reading, scanToken, `
		SELECT`+tokenColumns+`
		FROM tokens
		WHERE club_id = ?
		ORDER BY token_id`,
		club)
	if err != nil {
		return nil, fmt.Errorf("sqlite: list the tokens of %s: %w", club, err)
	}
	return tokens, nil
}

// UseToken implements store.Tokens.
func (s *keys) UseToken(ctx context.Context, club, id string, atUS int64) error {
	err := s.write(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, `
			UPDATE tokens
			SET used_us = ?
			WHERE club_id = ?
				AND token_id = ?
				AND used_us = 0`,
			atUS, club, id)
		return err
	})
	if err != nil {
		return fmt.Errorf("sqlite: note the use of token %s of %s: %w", id, club, err)
	}
	return nil
}

func scanToken(scan func(...any) error) (store.Token, error) {
	var (
		t             store.Token
		hash, benches []byte
	)
	err := scan(
		&t.Club, &t.ID, &hash, &t.Role, &t.Actor, &benches, &t.Label, &t.CreatedUS, &t.ExpiresUS, &t.RevokedUS, &t.Meet, &t.UsedUS, &t.RenewUS,
	)
	if err != nil {
		return store.Token{}, err
	}
	copy(t.Hash[:], hash)
	if err := json.Unmarshal(benches, &t.Benches); err != nil {
		return store.Token{}, fmt.Errorf("benches of token %s: %w", t.ID, err)
	}
	if len(t.Benches) == 0 {
		t.Benches = nil
	}
	return t, nil
}
