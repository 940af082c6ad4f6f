package postgres

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"

	"benchmeet/api/store"
)

// Person implements store.People.
func (s *Store) Person(ctx context.Context, club, id string) (store.Person, error) {
	var p store.Person
	err := s.pool.QueryRow(ctx, `
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
		WHERE club_id = $1
			AND person = $2`,
		club, id).Scan(&p.ID, &p.Name, &p.DisplayName, &p.SayAs, &p.BirthDate, &p.OnScreen, &p.InResults, &p.Photo)
	if err != nil {
		return store.Person{}, fmt.Errorf("postgres: person %s of %s: %w", id, club, orNotFound(err))
	}
	return p, nil
}

// AllPeople implements store.People.
func (s *Store) AllPeople(ctx context.Context, club string) ([]store.Person, error) {
	people, err := list(ctx, s.pool, func(row pgx.CollectableRow) (p store.Person, err error) {
		err = row.Scan(&p.ID, &p.Name, &p.DisplayName, &p.SayAs, &p.BirthDate, &p.OnScreen, &p.InResults, &p.Photo)
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
		WHERE club_id = $1
		ORDER BY person`,
		club)
	if err != nil {
		return nil, fmt.Errorf("postgres: list the people of %s: %w", club, err)
	}
	return people, nil
}

// Text implements store.People.
func (s *Store) Text(ctx context.Context, club, id string) (store.Text, error) {
	text, err := textOf(ctx, s.pool, club, id)
	if err != nil {
		return store.Text{}, fmt.Errorf("postgres: text %s of %s: %w", id, club, plain(err))
	}
	return text, nil
}

// textColumns are what scanText reads.
const textColumns = `
			text_id,
			ARRAY(
				SELECT person
				FROM text_about
				WHERE text_about.club_id = texts.club_id
					AND text_about.text_id = texts.text_id
				ORDER BY person
			),
			salt,
			text`

func scanText(row pgx.CollectableRow) (t store.Text, err error) {
	err = row.Scan(&t.ID, &t.About, &t.Salt, &t.Text)
	if len(t.About) == 0 {
		t.About = nil
	}
	return t, err
}

func textOf(ctx context.Context, from queryer, club, id string) (store.Text, error) {
	var text store.Text
	err := from.QueryRow(ctx, `
		SELECT`+textColumns+`
		FROM texts
		WHERE club_id = $1
			AND text_id = $2`,
		club, id).Scan(&text.ID, &text.About, &text.Salt, &text.Text)
	if len(text.About) == 0 {
		text.About = nil
	}
	return text, orNotFound(err)
}

// Texts implements store.People.
func (s *Store) Texts(ctx context.Context, club string, ids []string) ([]store.Text, error) {
	texts, err := list(ctx, s.pool, scanText, `
		SELECT`+textColumns+`
		FROM texts
		WHERE club_id = $1
			AND text_id = ANY($2)
		ORDER BY text_id`,
		club, append([]string{}, ids...))
	if err != nil {
		return nil, fmt.Errorf("postgres: texts of %s: %w", club, err)
	}
	return texts, nil
}

// AllTexts implements store.People.
func (s *Store) AllTexts(ctx context.Context, club string) ([]store.Text, error) {
	texts, err := list(ctx, s.pool, scanText, `
		SELECT`+textColumns+`
		FROM texts
		WHERE club_id = $1
		ORDER BY text_id`,
		club)
	if err != nil {
		return nil, fmt.Errorf("postgres: list the texts of %s: %w", club, err)
	}
	return texts, nil
}

// Erasures implements store.People.
func (s *Store) Erasures(ctx context.Context, club string) ([]store.Erasure, error) {
	erasures, err := list(ctx, s.pool, func(row pgx.CollectableRow) (e store.Erasure, err error) {
		err = row.Scan(&e.Person, &e.Text, &e.AtUS)
		return e, err
	}, `
		SELECT
			person AS person,
			'' COLLATE "C" AS text_id,
			at_us
		FROM erasures
		WHERE club_id = $1
		UNION ALL
		SELECT
			'' COLLATE "C",
			text_id,
			at_us
		FROM text_erasures
		WHERE club_id = $1
		ORDER BY
			text_id,
			person`,
		club)
	if err != nil {
		return nil, fmt.Errorf("postgres: list the erasures of %s: %w", club, err)
	}
	return erasures, nil
}

// orNotFound names a missing row as the store does.
func orNotFound(err error) error {
	if errors.Is(err, pgx.ErrNoRows) {
		return store.ErrNotFound
	}
	return plain(err)
}
