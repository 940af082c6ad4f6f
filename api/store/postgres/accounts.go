package postgres

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"benchmeet/api/store"
)

// PutAccount implements store.Accounts.
func (s keys) PutAccount(ctx context.Context, a store.Account) error {
	_, err := s.in.pool.Exec(ctx, `
		INSERT INTO accounts (
			club_id,
			token_id,
			name,
			hash,
			set_us
		) VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (club_id, token_id) DO UPDATE SET
			name = excluded.name,
			hash = excluded.hash,
			set_us = excluded.set_us`,
		a.Club, a.Token, a.Name, a.Hash, a.SetUS)
	if err != nil {
		return fmt.Errorf("postgres: put the account of token %s of %s: %w", a.Token, a.Club, explain(err))
	}
	return nil
}

// accountColumns are what scanAccount reads.
const accountColumns = `
			accounts.club_id,
			accounts.token_id,
			accounts.name,
			accounts.hash,
			accounts.set_us`

// AccountByName implements store.Accounts.
func (s keys) AccountByName(ctx context.Context, club, name string) (a store.Account, of store.Token, err error) {
	row := s.in.pool.QueryRow(ctx, `
		SELECT`+accountColumns+`,`+tokenColumns+`
		FROM accounts
		JOIN tokens USING (club_id, token_id)
		WHERE accounts.club_id = $1
			AND accounts.name = $2`,
		club, name)
	a, err = scanAccount(func(account ...any) (err error) {
		of, err = scanToken(func(token ...any) error { return row.Scan(append(account, token...)...) })
		return err
	})
	if err != nil {
		return store.Account{}, store.Token{}, fmt.Errorf("postgres: look up an account of %s: %w", club, orNotFound(err))
	}
	return a, of, nil
}

// AllAccounts implements store.Accounts.
func (s keys) AllAccounts(ctx context.Context, club string) ([]store.Account, error) {
	accounts, err := list(ctx, s.in.pool, func(row pgx.CollectableRow) (store.Account, error) { return scanAccount(row.Scan) }, `
		SELECT`+accountColumns+`
		FROM accounts
		WHERE club_id = $1
		ORDER BY token_id`,
		club)
	if err != nil {
		return nil, fmt.Errorf("postgres: list the accounts of %s: %w", club, plain(err))
	}
	return accounts, nil
}

// RenewToken implements store.Accounts.
func (s keys) RenewToken(ctx context.Context, club, session string, atUS int64) error {
	// 86,400,000,000 µs are a day.
	return s.noteSession(ctx, `
		UPDATE tokens
		SET expires_us = $1 + renew_us
		FROM accounts, sessions
		WHERE tokens.club_id = $2
			AND tokens.renew_us > 0
			AND tokens.revoked_us = 0
			AND tokens.expires_us > $1
			AND tokens.expires_us <= $1 + tokens.renew_us - 86400000000
			AND accounts.club_id = tokens.club_id
			AND accounts.token_id = tokens.token_id
			AND sessions.club_id = tokens.club_id
			AND sessions.token_id = tokens.token_id
			AND sessions.session_id = $3
			AND sessions.ended_us = 0`,
		club, session, atUS)
}

// DropAccount implements store.Accounts.
func (s keys) DropAccount(ctx context.Context, club, token string) error {
	_, err := s.in.pool.Exec(ctx, `
		DELETE FROM accounts
		WHERE club_id = $1
			AND token_id = $2`,
		club, token)
	if err != nil {
		return fmt.Errorf("postgres: drop the account of token %s of %s: %w", token, club, plain(err))
	}
	return nil
}

func scanAccount(scan func(...any) error) (a store.Account, err error) {
	err = scan(&a.Club, &a.Token, &a.Name, &a.Hash, &a.SetUS)
	return a, err
}
