package postgres

import (
	"context"
	"fmt"

	"benchmeet/api/store"
)

// PutCache implements store.Caches.
func (s *Store) PutCache(ctx context.Context, stream store.Stream, name string, body []byte) error {
	_, err := s.pool.Exec(ctx, `
		INSERT INTO caches (
			club_id,
			stream,
			name,
			body
		) VALUES ($1, $2, $3, $4)
		ON CONFLICT (club_id, stream, name) DO UPDATE SET
			body = excluded.body`,
		stream.Club, stream.Name, name, append([]byte{}, body...)) // never NULL
	if err != nil {
		return fmt.Errorf("postgres: put cache %s of %s: %w", name, stream, explain(err))
	}
	return nil
}

// Cache implements store.Caches.
func (s *Store) Cache(ctx context.Context, stream store.Stream, name string) ([]byte, error) {
	var body []byte
	err := s.pool.QueryRow(ctx, `
		SELECT body
		FROM caches
		WHERE club_id = $1
			AND stream = $2
			AND name = $3`,
		stream.Club, stream.Name, name).Scan(&body)
	if err != nil {
		return nil, fmt.Errorf("postgres: cache %s of %s: %w", name, stream, orNotFound(err))
	}
	return body, nil
}

// DropCaches implements store.Caches.
func (s *Store) DropCaches(ctx context.Context, club string) error {
	_, err := s.pool.Exec(ctx, `
		DELETE FROM caches
		WHERE club_id = $1`,
		club)
	if err != nil {
		return fmt.Errorf("postgres: drop the caches of %s: %w", club, plain(err))
	}
	return nil
}
