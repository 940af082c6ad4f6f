package postgres

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"benchmeet/api/store"
)

// PutToken implements store.Tokens. The hash of another token is
// store.ErrConflict.
func (s keys) PutToken(ctx context.Context, t store.Token) error {
	// Appended to an empty list, because a nil one would be written as null.
	benches, err := json.Marshal(append([]string{}, t.Benches...))
	if err != nil {
		return fmt.Errorf("postgres: put token %s of %s: %w", t.ID, t.Club, plain(err))
	}
	// Only the same id is replaced. A hash that another token has still breaks its unique index,
	// which explain turns into a conflict.
	_, err = s.in.pool.Exec(ctx, `
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
		) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)
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
	if err != nil {
		return fmt.Errorf("postgres: put token %s of %s: %w", t.ID, t.Club, explain(err))
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

// TokenByHash implements store.Tokens.
func (s keys) TokenByHash(ctx context.Context, hash [32]byte) (store.Token, error) {
	t, err := s.tokens.find(ctx, hash)
	if err != nil {
		return store.Token{}, fmt.Errorf("postgres: look up a token: %w", err)
	}
	t.Benches = slices.Clone(t.Benches) // the caller's own
	return t, nil
}

// Token implements store.Tokens.
func (s keys) Token(ctx context.Context, club, id string) (store.Token, error) {
	t, err := scanToken(s.in.pool.QueryRow(ctx, `
		SELECT`+tokenColumns+`
		FROM tokens
		WHERE club_id = $1
			AND token_id = $2`,
		club, id).Scan)
	if err != nil {
		return store.Token{}, fmt.Errorf("postgres: token %s of %s: %w", id, club, orNotFound(err))
	}
	return t, nil
}

// AllTokens implements store.Tokens.
func (s keys) AllTokens(ctx context.Context, club string) ([]store.Token, error) {
	tokens, err := list(ctx, s.in.pool, rowOf(scanToken), `
		SELECT`+tokenColumns+`
		FROM tokens
		WHERE club_id = $1
		ORDER BY token_id`,
		club)
	if err != nil {
		return nil, fmt.Errorf("postgres: list the tokens of %s: %w", club, err)
	}
	return tokens, nil
}

// UseToken implements store.Tokens.
func (s keys) UseToken(ctx context.Context, club, id string, atUS int64) error {
	_, err := s.in.pool.Exec(ctx, `
		UPDATE tokens
		SET used_us = $3
		WHERE club_id = $1
			AND token_id = $2
			AND used_us = 0`,
		club, id, atUS)
	if err != nil {
		return fmt.Errorf("postgres: note the use of token %s of %s: %w", id, club, plain(err))
	}
	return nil
}

func scanToken(scan func(...any) error) (store.Token, error) {
	var (
		t       store.Token
		hash    []byte
		benches string
	)
	err := scan(
		&t.Club, &t.ID, &hash, &t.Role, &t.Actor, &benches, &t.Label, &t.CreatedUS, &t.ExpiresUS, &t.RevokedUS, &t.Meet, &t.UsedUS, &t.RenewUS,
	)
	if err != nil {
		return store.Token{}, err
	}
	copy(t.Hash[:], hash)
	if err := json.Unmarshal([]byte(benches), &t.Benches); err != nil {
		return store.Token{}, fmt.Errorf("benches of token %s: %w", t.ID, err)
	}
	if len(t.Benches) == 0 {
		t.Benches = nil
	}
	return t, nil
}
