package sqlite

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// errOver is returned by a Tx that is used after its Write.
var errOver = errors.New("the transaction is over")

// tx is one turn of the writer on behalf of a stream.
type tx struct {
	conn   *connection // nil after the turn
	stream store.Stream
}

// usable says whether a statement may be run. The statements themselves run
// without the context; see writer.
func (t *tx) usable(ctx context.Context) error {
	if t.conn == nil {
		return errOver
	}
	return ctx.Err()
}

// Read implements store.Tx.
func (t *tx) Read(ctx context.Context, after int64, each func(journal.Record) error) error {
	head, err := t.currentHead(ctx)
	if err != nil {
		return fmt.Errorf("sqlite: read %s: %w", t.stream, err)
	}
	return readPages(context.WithoutCancel(ctx), t.conn, t.stream, after, head.Seq, func(r journal.Record) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		return each(r)
	})
}

func (t *tx) currentHead(ctx context.Context) (journal.Head, error) {
	if err := t.usable(ctx); err != nil {
		return journal.Head{}, err
	}
	return t.conn.head(context.WithoutCancel(ctx), t.stream)
}

// answerOf and answersOf find the answer to one command, which costs half, or to several:
// their ids go in as one JSON value, because SQLite bounds the number of parameters.
const (
	answerOf = `
		SELECT
			command,
			content,
			body
		FROM answers
		WHERE club_id = ?
			AND stream = ?
			AND command = ?`
	answersOf = `
		SELECT
			command,
			content,
			body
		FROM answers
		WHERE club_id = ?
			AND stream = ?
			AND command IN (SELECT value FROM json_each(?))`
)

// Answers implements store.Tx.
func (t *tx) Answers(ctx context.Context, commands []string) (map[string]store.Answer, error) {
	answers, err := t.answers(ctx, commands)
	if err != nil {
		return nil, fmt.Errorf("sqlite: look up answers of %s: %w", t.stream, err)
	}
	return answers, nil
}

func (t *tx) answers(ctx context.Context, commands []string) (map[string]store.Answer, error) {
	if err := t.usable(ctx); err != nil {
		return nil, err
	}
	return answersIn(context.WithoutCancel(ctx), t.conn, t.stream, commands)
}

// answersIn looks answers up in a connection's prepared statements.
func answersIn(ctx context.Context, from interface {
	QueryContext(ctx context.Context, text string, args ...any) (*sql.Rows, error)
}, stream store.Stream, commands []string,
) (map[string]store.Answer, error) {
	text, of := answersOf, ""
	if len(commands) == 1 {
		text, of = answerOf, commands[0]
	} else {
		list, err := json.Marshal(commands)
		if err != nil {
			return nil, err
		}
		of = string(list)
	}
	found, err := from.QueryContext(ctx, text, stream.Club, stream.Name, of)
	if err != nil {
		return nil, err
	}
	defer func() { _ = found.Close() }()
	answers := make(map[string]store.Answer)
	for found.Next() {
		var (
			a       store.Answer
			content []byte
		)
		if err := found.Scan(&a.Command, &content, &a.Body); err != nil {
			return nil, err
		}
		copy(a.Content[:], content)
		answers[a.Command] = a
	}
	return answers, found.Err()
}

// Append implements store.Tx. It also checks the hash chain, so that a record
// that does not follow never gets in.
func (t *tx) Append(ctx context.Context, records []journal.Record) error {
	if err := t.append(ctx, records); err != nil {
		return fmt.Errorf("sqlite: append to %s: %w", t.stream, err)
	}
	return nil
}

func (t *tx) append(ctx context.Context, records []journal.Record) error {
	head, err := t.currentHead(ctx)
	if err != nil {
		return err
	}
	// All are checked before the first is written. A number that is taken is a conflict; anything
	// else that does not follow is a mistake.
	for _, r := range records {
		if r.Seq <= head.Seq {
			return fmt.Errorf("record %d: %w", r.Seq, store.ErrConflict)
		}
		if head, err = head.Follow(r); err != nil {
			return err
		}
	}
	values := grown(len(records), insertEvents.columns)
	for _, r := range records {
		values = append(values, t.stream.Club, t.stream.Name, r.Seq, full(r.Bytes), r.Hash[:])
	}
	if _, err := insertEvents.run(ctx, t.conn, values); err != nil {
		return err
	}
	t.conn.ends(t.stream, head)
	return nil
}

// Remember implements store.Tx. A command that has an answer already is
// store.ErrConflict.
func (t *tx) Remember(ctx context.Context, answers []store.Answer) error {
	if err := t.usable(ctx); err != nil {
		return fmt.Errorf("sqlite: remember answers of %s: %w", t.stream, err)
	}
	values := grown(len(answers), insertAnswers.columns)
	for _, a := range answers {
		values = append(values, t.stream.Club, t.stream.Name, a.Command, a.Content[:], full(a.Body))
	}
	added, err := insertAnswers.run(ctx, t.conn, values)
	if err == nil && added < int64(len(answers)) {
		err = store.ErrConflict
	}
	if err != nil {
		return fmt.Errorf("sqlite: remember answers of %s: %w", t.stream, err)
	}
	return nil
}

// PutPerson implements store.Tx.
func (t *tx) PutPerson(ctx context.Context, p store.Person) error {
	if err := t.putPerson(ctx, p); err != nil {
		return fmt.Errorf("sqlite: put person %s of %s: %w", p.ID, t.stream, err)
	}
	return nil
}

func (t *tx) putPerson(ctx context.Context, p store.Person) error {
	if err := t.usable(ctx); err != nil {
		return err
	}
	// No lock is needed, for nobody else writes during this turn. The upsert writes a row in every
	// other case, so none written means that the id is erased.
	put, err := t.exec(ctx, `
		INSERT INTO people (
			club_id,
			person,
			name,
			display_name,
			say_as,
			birth_date,
			on_screen,
			in_results,
			photo
		)
		SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9
		WHERE NOT EXISTS (
			SELECT 1
			FROM erasures
			WHERE club_id = ?1
				AND person = ?2
		)
		ON CONFLICT (club_id, person) DO UPDATE SET
			name = excluded.name,
			display_name = excluded.display_name,
			say_as = excluded.say_as,
			birth_date = excluded.birth_date,
			on_screen = excluded.on_screen,
			in_results = excluded.in_results,
			photo = excluded.photo`,
		t.stream.Club, p.ID, p.Name, p.DisplayName, p.SayAs, p.BirthDate, p.OnScreen, p.InResults, p.Photo)
	if err == nil && put == 0 {
		return store.ErrErased
	}
	return err
}

// PutText implements store.Tx.
func (t *tx) PutText(ctx context.Context, text store.Text) error {
	if err := t.putText(ctx, text); err != nil {
		return fmt.Errorf("sqlite: put text %s of %s: %w", text.ID, t.stream, err)
	}
	return nil
}

func (t *tx) putText(ctx context.Context, text store.Text) error {
	if err := t.usable(ctx); err != nil {
		return err
	}
	text = text.Sorted()
	about, err := json.Marshal(append([]string{}, text.About...)) // never null
	if err != nil {
		return err
	}
	added, err := t.exec(ctx, `
		INSERT INTO texts (
			club_id,
			text_id,
			salt,
			text
		)
		SELECT ?1, ?2, ?3, ?4
		WHERE NOT EXISTS (
			SELECT 1
			FROM erasures
			WHERE club_id = ?1
				AND person IN (SELECT value FROM json_each(?5))
		)
			AND NOT EXISTS (
				SELECT 1
				FROM text_erasures
				WHERE club_id = ?1
					AND text_id = ?2
			)
		ON CONFLICT DO NOTHING`,
		t.stream.Club, text.ID, full(text.Salt), text.Text, string(about))
	if err != nil {
		return err
	}
	if added == 1 {
		_, err := t.exec(ctx, `
			INSERT INTO text_about (
				club_id,
				text_id,
				person
			)
			SELECT
				?,
				?,
				value
			FROM json_each(?)`,
			t.stream.Club, text.ID, string(about))
		return err
	}
	// Nothing was added, for one of two reasons: a text that is there under this id (a retry brings
	// the same one again), or an erasure, after which none is there.
	there, err := textOf(context.WithoutCancel(ctx), t.conn, t.stream.Club, text.ID)
	switch {
	case errors.Is(err, store.ErrNotFound):
		return store.ErrErased
	case err != nil:
		return err
	case !there.Same(text):
		return store.ErrConflict
	}
	return nil
}

// exec runs a statement and says how many rows it changed.
func (t *tx) exec(ctx context.Context, statement string, args ...any) (int64, error) {
	return exec(ctx, t.conn, statement, args...)
}

// execer is the writer's connection, or what stands behind it.
type execer interface {
	ExecContext(ctx context.Context, statement string, args ...any) (sql.Result, error)
}

func exec(ctx context.Context, conn execer, statement string, args ...any) (int64, error) {
	result, err := conn.ExecContext(context.WithoutCancel(ctx), statement, args...)
	if err != nil {
		return 0, explain(err)
	}
	return result.RowsAffected()
}

// full is b, or an empty value where b is nil: a column that must be there is
// empty and not NULL.
func full(b []byte) []byte {
	if b == nil {
		return []byte{}
	}
	return b
}

// explain turns the one mistake that a caller can make in SQL terms into the
// store's: all rows belong to a club.
func explain(err error) error {
	var refused *sqlite.Error
	if errors.As(err, &refused) && refused.Code() == sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY {
		return fmt.Errorf("the club is not kept here, make it first: %w", store.ErrNotFound)
	}
	return err
}
