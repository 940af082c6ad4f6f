package postgres

import (
	"context"
	"crypto/rand"
	"fmt"

	"github.com/jackc/pgx/v5"

	"benchmeet/api/store"
)

// EnsureClub implements store.Store. A club that is there keeps its name.
func (s *Store) EnsureClub(ctx context.Context, club store.Club) error {
	_, err := s.pool.Exec(ctx, `
		INSERT INTO clubs (
			club_id,
			name
		) VALUES ($1, $2)
		ON CONFLICT DO NOTHING`,
		club.ID, club.Name)
	if err != nil {
		return fmt.Errorf("postgres: make club %s: %w", club.ID, plain(err))
	}
	return nil
}

// PutClub implements store.Store.
func (s *Store) PutClub(ctx context.Context, club store.Club) error {
	_, err := s.pool.Exec(ctx, `
		INSERT INTO clubs (
			club_id,
			name,
			invited_us,
			host
		) VALUES ($1, $2, $3, $4)
		ON CONFLICT (club_id) DO UPDATE
		SET name = excluded.name,
			invited_us = excluded.invited_us,
			host = excluded.host`,
		club.ID, club.Name, club.InvitedUS, club.Host)
	if err != nil {
		return fmt.Errorf("postgres: keep club %s: %w", club.ID, explain(err))
	}
	return nil
}

// Clubs implements store.Store.
func (s *Store) Clubs(ctx context.Context) ([]store.Club, error) {
	clubs, err := list(ctx, s.pool, func(row pgx.CollectableRow) (c store.Club, err error) {
		err = row.Scan(&c.ID, &c.Name, &c.InvitedUS, &c.Host)
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
		return nil, fmt.Errorf("postgres: list the clubs: %w", err)
	}
	return clubs, nil
}

// Secret implements store.Store.
func (s *Store) Secret(ctx context.Context, name string) ([]byte, error) {
	secret, err := s.secret(ctx, name)
	if err != nil {
		return nil, fmt.Errorf("postgres: secret %s: %w", name, plain(err))
	}
	return secret, nil
}

// secret keeps new random bytes unless some process was quicker, and returns
// what is kept.
func (s *Store) secret(ctx context.Context, name string) ([]byte, error) {
	drawn := make([]byte, 32)
	if _, err := rand.Read(drawn); err != nil {
		return nil, err
	}
	if _, err := s.pool.Exec(ctx, `
		INSERT INTO secrets (
			name,
			bytes
		) VALUES ($1, $2)
		ON CONFLICT DO NOTHING`,
		name, drawn); err != nil {
		return nil, err
	}
	var secret []byte
	err := s.pool.QueryRow(ctx, `
		SELECT bytes
		FROM secrets
		WHERE club_id = ''
			AND name = $1`,
		name).Scan(&secret)
	return secret, err
}
