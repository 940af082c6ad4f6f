package sqlite

import (
	"context"
	"database/sql"
	"encoding/json"
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

// textColumns are what scanText reads.
const textColumns = `
			text_id,
			(
				SELECT json_group_array(person)
				FROM (
					SELECT person
					FROM text_about
					WHERE text_about.club_id = texts.club_id
						AND text_about.text_id = texts.text_id
					ORDER BY person
				)
			),
			salt,
			text`

func scanText(scan func(...any) error) (t store.Text, err error) {
	var about string
	if err := scan(&t.ID, &about, &t.Salt, &t.Text); err != nil {
		return t, err
	}
	if about == "[]" {
		return t, nil
	}
	return t, json.Unmarshal([]byte(about), &t.About)
}

func textOf(ctx context.Context, from rows, club, id string) (store.Text, error) {
	text, err := scanText(from.QueryRowContext(ctx, `
		SELECT`+textColumns+`
		FROM texts
		WHERE club_id = ?
			AND text_id = ?`,
		club, id).Scan)
	return text, orNotFound(err)
}

// Texts implements store.People.
func (s *Store) Texts(ctx context.Context, club string, ids []string) ([]store.Text, error) {
	asked, err := json.Marshal(append([]string{}, ids...))
	if err != nil {
		return nil, fmt.Errorf("sqlite: texts of %s: %w", club, err)
	}
	texts, err := list(ctx, s.reading, scanText, `
		SELECT`+textColumns+`
		FROM texts
		WHERE club_id = ?
			AND text_id IN (
				SELECT value
				FROM json_each(?)
			)
		ORDER BY text_id`,
		club, string(asked))
	if err != nil {
		return nil, fmt.Errorf("sqlite: texts of %s: %w", club, err)
	}
	return texts, nil
}

// AllTexts implements store.People.
func (s *Store) AllTexts(ctx context.Context, club string) ([]store.Text, error) {
	texts, err := list(ctx, s.reading, scanText, `
		SELECT`+textColumns+`
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
		err = scan(&e.Person, &e.Text, &e.AtUS)
		return e, err
	}, `
		SELECT
			person AS person,
			'' AS text_id,
			at_us
		FROM erasures
		WHERE club_id = ?1
		UNION ALL
		SELECT
			'',
			text_id,
			at_us
		FROM text_erasures
		WHERE club_id = ?1
		ORDER BY
			text_id,
			person`,
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
