package postgres

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
)

// Erase implements store.People.
func (s *Store) Erase(ctx context.Context, club, person string, atUS int64) error {
	err := s.erase(ctx, personLock(club, person), club, person, atUS, `
		INSERT INTO erasures (
			club_id,
			person,
			at_us
		) VALUES ($1, $2, $3)
		ON CONFLICT DO NOTHING`, `
		DELETE FROM texts
		WHERE club_id = $1
			AND text_id IN (
				SELECT text_id
				FROM text_about
				WHERE club_id = $1
					AND person = $2
			)`, `
		DELETE FROM people
		WHERE club_id = $1
			AND person = $2`)
	if err != nil {
		return fmt.Errorf("postgres: erase person %s of %s: %w", person, club, explain(err))
	}
	return nil
}

// EraseText implements store.People.
func (s *Store) EraseText(ctx context.Context, club, text string, atUS int64) error {
	err := s.erase(ctx, textLock(club, text), club, text, atUS, `
		INSERT INTO text_erasures (
			club_id,
			text_id,
			at_us
		) VALUES ($1, $2, $3)
		ON CONFLICT DO NOTHING`, `
		DELETE FROM texts
		WHERE club_id = $1
			AND text_id = $2`)
	if err != nil {
		return fmt.Errorf("postgres: erase text %s of %s: %w", text, club, explain(err))
	}
	return nil
}

// erase notes an id as erased and removes its rows. Their space is due to be
// overwritten, again too where the id was noted before; an id that was never here
// costs nothing: import notes many of them.
func (s *Store) erase(ctx context.Context, lock int64, club, id string, atUS int64, note string, removals ...string) error {
	t, err := s.pool.BeginTx(ctx, pgx.TxOptions{IsoLevel: pgx.ReadCommitted, AccessMode: pgx.ReadWrite})
	if err != nil {
		return err
	}
	defer rollback(t)
	if _, err := t.Exec(ctx, `SELECT pg_advisory_xact_lock($1)`, lock); err != nil {
		return err
	}
	noted, err := t.Exec(ctx, note, club, id, atUS)
	if err != nil {
		return err
	}
	due := noted.RowsAffected() == 0
	for _, removal := range removals {
		removed, err := t.Exec(ctx, removal, club, id)
		if err != nil {
			return err
		}
		due = due || removed.RowsAffected() > 0
	}
	if !due {
		return commit(ctx, t)
	}
	// Whom a text that is gone was about, nobody needs to know.
	if _, err := t.Exec(ctx, `
		DELETE FROM text_about
		WHERE club_id = $1
			AND NOT EXISTS (
				SELECT 1
				FROM texts
				WHERE texts.club_id = text_about.club_id
					AND texts.text_id = text_about.text_id
			)`,
		club); err != nil {
		return err
	}
	if _, err := t.Exec(ctx, `INSERT INTO overwrites (club_id) VALUES ($1)`, club); err != nil {
		return err
	}
	return commit(ctx, t)
}

// Overwrite implements store.People. After it the tables' files hold nothing of
// what was erased: both tables are written anew, once no transaction is left that
// could still see it. The server's write-ahead log keeps it until it is recycled.
// Callers of one process take turns, and who finds it done goes home.
func (s *Store) Overwrite(ctx context.Context) error {
	select {
	case s.overwriting <- struct{}{}:
	case <-ctx.Done():
		return fmt.Errorf("postgres: overwrite what was erased: %w", ctx.Err())
	}
	defer func() { <-s.overwriting }()
	due, transaction, err := s.due(ctx)
	if err != nil {
		return fmt.Errorf("postgres: overwrite what was erased: %w", explain(err))
	}
	if len(due) == 0 {
		return nil
	}
	err = s.clean(ctx, transaction)
	if err == nil {
		_, err = s.pool.Exec(ctx, `DELETE FROM overwrites WHERE overwrite_id = ANY ($1)`, due)
	}
	if err != nil {
		return fmt.Errorf("postgres: what was erased is removed, but its space could not be overwritten; it is tried again: %w", plain(err))
	}
	return nil
}

// due lists the erasures to be overwritten, and the id of a transaction after all of
// them.
func (s *Store) due(ctx context.Context) (due []int64, transaction string, err error) {
	if due, err = list(ctx, s.pool, func(row pgx.CollectableRow) (id int64, err error) {
		err = row.Scan(&id)
		return id, err
	}, `SELECT overwrite_id FROM overwrites`); err != nil || len(due) == 0 {
		return nil, "", err
	}
	err = s.pool.QueryRow(ctx, `SELECT pg_current_xact_id()::xid::text`).Scan(&transaction)
	return due, transaction, err
}

// clean writes the tables with names anew. Rows that an older transaction may
// still see would be carried over, so those are waited for.
func (s *Store) clean(ctx context.Context, transaction string) error {
	ctx, stop := context.WithTimeout(ctx, patience)
	defer stop()
	for {
		// Whatever is as old as the transaction that due asked for, or older, counts, whether it holds a snapshot
		// or has written. Age counts back from now, so that ids that wrapped around compare well.
		var older int
		err := s.pool.QueryRow(ctx, `
			SELECT COUNT(*)
			FROM pg_stat_activity
			WHERE datname = current_database()
				AND pid <> pg_backend_pid()
				AND (
					age(backend_xmin) >= age($1::text::xid)
					OR age(backend_xid) >= age($1::text::xid)
				)`,
			transaction).Scan(&older)
		if err != nil {
			return err
		}
		if older == 0 {
			break
		}
		select {
		case <-ctx.Done():
			return errors.Join(fmt.Errorf("%d older transactions are still open", older), ctx.Err())
		case <-time.After(20 * time.Millisecond):
		}
	}
	// A full VACUUM copies what is alive to new files; a plain one would only mark the space as free.
	for _, statement := range []string{`VACUUM (FULL) people`, `VACUUM (FULL) texts`} {
		if _, err := s.pool.Pool.Exec(ctx, statement); err != nil {
			return fmt.Errorf("%s: %w", statement, err)
		}
	}
	return nil
}
