package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"benchmeet/api/store"
)

// PutCache implements store.Caches.
func (s *Store) PutCache(ctx context.Context, stream store.Stream, name string, body []byte) error {
	err := s.writer.do(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, `
			INSERT INTO caches (
				club_id,
				stream,
				name,
				body
			) VALUES (?, ?, ?, ?)
			ON CONFLICT (club_id, stream, name) DO UPDATE SET
				body = excluded.body`,
			stream.Club, stream.Name, name, full(body))
		return err
	})
	if err != nil {
		return fmt.Errorf("sqlite: put cache %s of %s: %w", name, stream, err)
	}
	return nil
}

// Cache implements store.Caches.
func (s *Store) Cache(ctx context.Context, stream store.Stream, name string) ([]byte, error) {
	var body []byte
	err := s.reading.QueryRowContext(ctx, `
		SELECT body
		FROM caches
		WHERE club_id = ?
			AND stream = ?
			AND name = ?`,
		stream.Club, stream.Name, name).Scan(&body)
	if errors.Is(err, sql.ErrNoRows) {
		err = store.ErrNotFound
	}
	if err != nil {
		return nil, fmt.Errorf("sqlite: cache %s of %s: %w", name, stream, err)
	}
	return body, nil
}

// DropCaches implements store.Caches.
func (s *Store) DropCaches(ctx context.Context, club string) error {
	err := s.writer.do(ctx, func(conn *connection) error {
		_, err := exec(ctx, conn, `
			DELETE FROM caches
			WHERE club_id = ?`,
			club)
		return err
	})
	if err != nil {
		return fmt.Errorf("sqlite: drop the caches of %s: %w", club, err)
	}
	return nil
}
