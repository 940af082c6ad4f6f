package sqlite

import (
	"context"
	"fmt"

	"benchmeet/api/store"
)

// PutAccount implements store.Accounts.
func (s *keys) PutAccount(ctx context.Context, a store.Account) error {
	err := s.in.writer.do(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, `
			INSERT INTO accounts (
				club_id,
				token_id,
				name,
				hash,
				set_us
			) VALUES (?, ?, ?, ?, ?)
			ON CONFLICT (club_id, token_id) DO UPDATE SET
				name = excluded.name,
				hash = excluded.hash,
				set_us = excluded.set_us`,
			a.Club, a.Token, a.Name, a.Hash, a.SetUS)
		return err
	})
	if taken(err) {
		err = store.ErrConflict
	}
	if err != nil {
		return fmt.Errorf("sqlite: put the account of token %s of %s: %w", a.Token, a.Club, err)
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
func (s *keys) AccountByName(ctx context.Context, club, name string) (a store.Account, of store.Token, err error) {
	row := s.in.reading.QueryRowContext(ctx, `
		SELECT`+accountColumns+`,`+tokenColumns+`
		FROM accounts
		JOIN tokens USING (club_id, token_id)
		WHERE accounts.club_id = ?
			AND accounts.name = ?`,
		club, name)
	a, err = scanAccount(func(account ...any) (err error) {
		of, err = scanToken(func(token ...any) error { return row.Scan(append(account, token...)...) })
		return err
	})
	if err != nil {
		return store.Account{}, store.Token{}, fmt.Errorf("sqlite: look up an account of %s: %w", club, orNotFound(err))
	}
	return a, of, nil
}

// AllAccounts implements store.Accounts.
func (s *keys) AllAccounts(ctx context.Context, club string) ([]store.Account, error) {
	accounts, err := list(ctx, s.in.reading, scanAccount, `
		SELECT`+accountColumns+`
		FROM accounts
		WHERE club_id = ?
		ORDER BY token_id`,
		club)
	if err != nil {
		return nil, fmt.Errorf("sqlite: list the accounts of %s: %w", club, err)
	}
	return accounts, nil
}

// RenewToken implements store.Accounts.
func (s *keys) RenewToken(ctx context.Context, club, session string, atUS int64) error {
	// 86,400,000,000 µs are a day.
	return s.noteSession(ctx, `
		UPDATE tokens
		SET expires_us = ?1 + renew_us
		FROM accounts, sessions
		WHERE tokens.club_id = ?2
			AND tokens.renew_us > 0
			AND tokens.revoked_us = 0
			AND tokens.expires_us > ?1
			AND tokens.expires_us <= ?1 + tokens.renew_us - 86400000000
			AND accounts.club_id = tokens.club_id
			AND accounts.token_id = tokens.token_id
			AND sessions.club_id = tokens.club_id
			AND sessions.token_id = tokens.token_id
			AND sessions.session_id = ?3
			AND sessions.ended_us = 0`,
		club, session, atUS)
}

// DropAccount implements store.Accounts.
func (s *keys) DropAccount(ctx context.Context, club, token string) error {
	err := s.in.writer.do(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, `
			DELETE FROM accounts
			WHERE club_id = ?
				AND token_id = ?`,
			club, token)
		return err
	})
	if err != nil {
		return fmt.Errorf("sqlite: drop the account of token %s of %s: %w", token, club, err)
	}
	return nil
}

func scanAccount(scan func(...any) error) (a store.Account, err error) {
	err = scan(&a.Club, &a.Token, &a.Name, &a.Hash, &a.SetUS)
	return a, err
}
