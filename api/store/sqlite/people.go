package sqlite

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"

	"benchmeet/api/store"
)

// Person implements store.People.
func (s *Store) Person(ctx context.Context, club, id string) (store.Person, error) {
	var p store.Person
	err := s.reading.QueryRowContext(ctx, `
		SELECT
			person,
			name,
			display_name,
			say_as,
			birth_date,
			on_screen,
			in_results,
			photo
		FROM people
		WHERE club_id = ?
			AND person = ?`,
		club, id).Scan(&p.ID, &p.Name, &p.DisplayName, &p.SayAs, &p.BirthDate, &p.OnScreen, &p.InResults, &p.Photo)
	if err != nil {
		return store.Person{}, fmt.Errorf("sqlite: person %s of %s: %w", id, club, orNotFound(err))
	}
	return p, nil
}

// AllPeople implements store.People.
func (s *Store) AllPeople(ctx context.Context, club string) ([]store.Person, error) {
	people, err := list(ctx, s.reading, func(scan func(...any) error) (p store.Person, err error) {
		err = scan(&p.ID, &p.Name, &p.DisplayName, &p.SayAs, &p.BirthDate, &p.OnScreen, &p.InResults, &p.Photo)
		return p, err
	}, `
		SELECT
			person,
			name,
			display_name,
			say_as,
			birth_date,
			on_screen,
			in_results,
			photo
		FROM people
		WHERE club_id = ?
		ORDER BY person`,
		club)
	if err != nil {
		return nil, fmt.Errorf("sqlite: list the people of %s: %w", club, err)
	}
	return people, nil
}

// Text implements store.People.
func (s *Store) Text(ctx context.Context, club, id string) (store.Text, error) {
	text, err := textOf(ctx, s.reading, club, id)
	if err != nil {
		return store.Text{}, fmt.Errorf("sqlite: text %s of %s: %w", id, club, err)
	}
	return text, nil
}

func textOf(ctx context.Context, from rows, club, id string) (store.Text, error) {
	var text store.Text
	err := from.QueryRowContext(ctx, `
		SELECT
			text_id,
			about,
			salt,
			text
		FROM texts
		WHERE club_id = ?
			AND text_id = ?`,
		club, id).Scan(&text.ID, &text.About, &text.Salt, &text.Text)
	return text, orNotFound(err)
}

func sameText(a, b store.Text) bool {
	return a.ID == b.ID && a.About == b.About && a.Text == b.Text && bytes.Equal(a.Salt, b.Salt)
}

// AllTexts implements store.People.
func (s *Store) AllTexts(ctx context.Context, club string) ([]store.Text, error) {
	texts, err := list(ctx, s.reading, func(scan func(...any) error) (t store.Text, err error) {
		err = scan(&t.ID, &t.About, &t.Salt, &t.Text)
		return t, err
	}, `
		SELECT
			text_id,
			about,
			salt,
			text
		FROM texts
		WHERE club_id = ?
		ORDER BY text_id`,
		club)
	if err != nil {
		return nil, fmt.Errorf("sqlite: list the texts of %s: %w", club, err)
	}
	return texts, nil
}

// Erasures implements store.People.
func (s *Store) Erasures(ctx context.Context, club string) ([]store.Erasure, error) {
	erasures, err := list(ctx, s.reading, func(scan func(...any) error) (e store.Erasure, err error) {
		err = scan(&e.Person, &e.AtUS)
		return e, err
	}, `
		SELECT
			person,
			at_us
		FROM erasures
		WHERE club_id = ?
		ORDER BY person`,
		club)
	if err != nil {
		return nil, fmt.Errorf("sqlite: list the erasures of %s: %w", club, err)
	}
	return erasures, nil
}

// list collects the rows of a query.
func list[T any](ctx context.Context, from rows, read func(scan func(...any) error) (T, error), query string, args ...any) ([]T, error) {
	found, err := from.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer func() { _ = found.Close() }()
	var out []T
	for found.Next() {
		row, err := read(found.Scan)
		if err != nil {
			return nil, err
		}
		out = append(out, row)
	}
	return out, found.Err()
}

// orNotFound names a missing row as the store does.
func orNotFound(err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return store.ErrNotFound
	}
	return err
}
