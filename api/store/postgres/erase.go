package postgres

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
)

// Erase implements store.People. After it the tables' files hold nothing of the
// rows: both tables are written anew, once no transaction is left that could
// still see them. The server's write-ahead log keeps them until it is recycled.
func (s *Store) Erase(ctx context.Context, club, person string, atUS int64) error {
	e, err := s.eraseRows(ctx, club, person, atUS)
	if err != nil {
		return fmt.Errorf("postgres: erase person %s of %s: %w", person, club, explain(err))
	}
	if e.rows == 0 && !e.again {
		return nil // an id that was never here; import notes many of them
	}
	// An erasure that is asked for again cleans again: the first may have been
	// cut short after its rows were removed.
	if err := s.clean(ctx, e.transaction); err != nil {
		return fmt.Errorf("postgres: the rows of person %s of %s are removed, but their space could not be overwritten; erase again: %w", person, club, err)
	}
	return nil
}

// erased is what an erasure found.
type erased struct {
	rows        int64
	again       bool   // the id was noted before
	transaction string // the id of the transaction
}

func (s *Store) eraseRows(ctx context.Context, club, person string, atUS int64) (e erased, err error) {
	t, err := s.pool.BeginTx(ctx, pgx.TxOptions{IsoLevel: pgx.ReadCommitted, AccessMode: pgx.ReadWrite})
	if err != nil {
		return e, err
	}
	defer rollback(t)
	if _, err := t.Exec(ctx, `SELECT pg_advisory_xact_lock($1)`, personLock(club, person)); err != nil {
		return e, err
	}
	for _, statement := range []string{
		`
		DELETE FROM texts
		WHERE club_id = $1
			AND about = $2`, `
		DELETE FROM people
		WHERE club_id = $1
			AND person = $2`,
	} {
		removed, err := t.Exec(ctx, statement, club, person)
		if err != nil {
			return e, err
		}
		e.rows += removed.RowsAffected()
	}
	noted, err := t.Exec(ctx, `
		INSERT INTO erasures (
			club_id,
			person,
			at_us
		) VALUES ($1, $2, $3)
		ON CONFLICT DO NOTHING`,
		club, person, atUS)
	if err != nil {
		return e, err
	}
	e.again = noted.RowsAffected() == 0
	if err := t.QueryRow(ctx, `SELECT pg_current_xact_id()::xid::text`).Scan(&e.transaction); err != nil {
		return e, err
	}
	return e, commit(ctx, t)
}

// clean writes the tables with names anew. Rows that an older transaction may
// still see would be carried over, so those are waited for.
func (s *Store) clean(ctx context.Context, transaction string) error {
	ctx, stop := context.WithTimeout(ctx, patience)
	defer stop()
	for {
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
	for _, statement := range []string{`VACUUM (FULL) people`, `VACUUM (FULL) texts`} {
		if _, err := s.pool.Exec(ctx, statement); err != nil {
			return fmt.Errorf("%s: %w", statement, err)
		}
	}
	return nil
}
