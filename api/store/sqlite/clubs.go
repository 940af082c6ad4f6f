package sqlite

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"

	"benchmeet/api/store"
)

// EnsureClub implements store.Store. A club that is there keeps its name.
func (s *Store) EnsureClub(ctx context.Context, club store.Club) error {
	err := s.writer.do(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, `
			INSERT INTO clubs (
				club_id,
				name
			) VALUES (?, ?)
			ON CONFLICT DO NOTHING`,
			club.ID, club.Name)
		return err
	})
	if err != nil {
		return fmt.Errorf("sqlite: make club %s: %w", club.ID, err)
	}
	return nil
}

// PutClub implements store.Store.
func (s *Store) PutClub(ctx context.Context, club store.Club) error {
	err := s.writer.do(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, `
			INSERT INTO clubs (
				club_id,
				name,
				invited_us,
				host
			) VALUES (?, ?, ?, ?)
			ON CONFLICT (club_id) DO UPDATE
			SET name = excluded.name,
				invited_us = excluded.invited_us,
				host = excluded.host`,
			club.ID, club.Name, club.InvitedUS, club.Host)
		return err
	})
	if taken(err) {
		err = store.ErrConflict
	}
	if err != nil {
		return fmt.Errorf("sqlite: keep club %s: %w", club.ID, err)
	}
	return nil
}

// Clubs implements store.Store.
func (s *Store) Clubs(ctx context.Context) ([]store.Club, error) {
	clubs, err := list(ctx, s.reading, func(scan func(...any) error) (c store.Club, err error) {
		err = scan(&c.ID, &c.Name, &c.InvitedUS, &c.Host)
		return c, err
	}, `
		SELECT
			club_id,
			name,
			invited_us,
			host
		FROM clubs
		ORDER BY club_id`)
	if err != nil {
		return nil, fmt.Errorf("sqlite: list the clubs: %w", err)
	}
	return clubs, nil
}

// Secret implements store.Store.
func (s *Store) Secret(ctx context.Context, name string) ([]byte, error) {
	secret, err := secretOf(ctx, s.reading, name)
	if errors.Is(err, store.ErrNotFound) {
		err = s.writer.do(ctx, func(conn *connection) error {
			secret, err = drawSecret(ctx, conn, name)
			return err
		})
	}
	if err != nil {
		return nil, fmt.Errorf("sqlite: secret %s: %w", name, err)
	}
	return secret, nil
}

// drawSecret keeps new random bytes unless another caller was quicker, and
// returns what is kept.
func drawSecret(ctx context.Context, conn *connection, name string) ([]byte, error) {
	drawn := make([]byte, 32)
	if _, err := rand.Read(drawn); err != nil {
		return nil, err
	}
	if _, err := exec(ctx, conn, `
		INSERT INTO secrets (
			name,
			bytes
		) VALUES (?, ?)
		ON CONFLICT DO NOTHING`,
		name, drawn); err != nil {
		return nil, err
	}
	return secretOf(context.WithoutCancel(ctx), conn, name)
}

func secretOf(ctx context.Context, from rows, name string) ([]byte, error) {
	var secret []byte
	err := from.QueryRowContext(ctx, `
		SELECT bytes
		FROM secrets
		WHERE club_id = ''
			AND name = ?`,
		name).Scan(&secret)
	return secret, orNotFound(err)
}
