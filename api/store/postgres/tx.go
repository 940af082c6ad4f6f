package postgres

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/jackc/pgerrcode"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// errOver is returned by a Tx that is used after its Write.
var errOver = errors.New("the transaction is over")

// insertSize is how many records are sent in one statement.
const insertSize = 1000

// tx is a transaction that holds its stream's lock.
type tx struct {
	tx       pgx.Tx // nil after Write
	stream   store.Stream
	head     *journal.Head // nil until it was looked up
	appended bool
}

// Read implements store.Tx.
func (t *tx) Read(ctx context.Context, after int64, each func(journal.Record) error) error {
	head, err := t.currentHead(ctx)
	if err != nil {
		return fmt.Errorf("postgres: read %s: %w", t.stream, plain(err))
	}
	return readPages(ctx, t.tx, t.stream, after, head.Seq, each)
}

func (t *tx) currentHead(ctx context.Context) (journal.Head, error) {
	if t.tx == nil {
		return journal.Head{}, errOver
	}
	if t.head == nil {
		head, err := headOf(ctx, t.tx, t.stream)
		if err != nil {
			return journal.Head{}, err
		}
		t.head = &head
	}
	return *t.head, nil
}

// Answers implements store.Tx.
func (t *tx) Answers(ctx context.Context, commands []string) (map[string]store.Answer, error) {
	answers, err := t.answers(ctx, commands)
	if err != nil {
		return nil, fmt.Errorf("postgres: look up answers of %s: %w", t.stream, err)
	}
	return answers, nil
}

func (t *tx) answers(ctx context.Context, commands []string) (map[string]store.Answer, error) {
	if t.tx == nil {
		return nil, errOver
	}
	found, err := list(ctx, t.tx, func(row pgx.CollectableRow) (a store.Answer, err error) {
		var content []byte
		err = row.Scan(&a.Command, &content, &a.Body)
		copy(a.Content[:], content)
		return a, err
	}, `
		SELECT
			command,
			content,
			body
		FROM answers
		WHERE club_id = $1
			AND stream = $2
			AND command = ANY($3)`,
		t.stream.Club, t.stream.Name, commands)
	answers := make(map[string]store.Answer, len(found))
	for _, a := range found {
		answers[a.Command] = a
	}
	return answers, err
}

// Append implements store.Tx. It also checks the hash chain, so that a record
// that does not follow never gets in.
func (t *tx) Append(ctx context.Context, records []journal.Record) error {
	return t.AppendAt(ctx, 0, records)
}

// AppendAt implements store.FleetTx.
func (t *tx) AppendAt(ctx context.Context, epoch int64, records []journal.Record) error {
	if err := t.append(ctx, epoch, records); err != nil {
		return fmt.Errorf("postgres: append to %s: %w", t.stream, plain(err))
	}
	return nil
}

func (t *tx) append(ctx context.Context, epoch int64, records []journal.Record) error {
	head, err := t.currentHead(ctx)
	if err != nil {
		return err
	}
	for _, r := range records {
		if r.Seq <= head.Seq {
			return fmt.Errorf("record %d: %w", r.Seq, store.ErrConflict)
		}
		if head, err = head.Follow(r); err != nil {
			return err
		}
	}
	for some := range slices.Chunk(records, insertSize) {
		if err := t.insert(ctx, epoch, some); err != nil {
			return err
		}
	}
	t.head = &head
	t.appended = t.appended || len(records) > 0
	return nil
}

// insert sends the lock and the records in one message. The second statement sees what was
// there after the lock. Who writes by no epoch, as an import does, which may take long, keeps
// no server from coming in.
func (t *tx) insert(ctx context.Context, epoch int64, records []journal.Record) error {
	seqs, texts, hashes := columns(records)
	var all pgx.Batch
	if epoch != 0 {
		all.Queue(`SELECT pg_advisory_xact_lock_shared($1)`, fleetLock)
	}
	all.Queue(`
		INSERT INTO events (
			club_id,
			stream,
			seq,
			bytes,
			hash
		)
		SELECT
			$1::text,
			$2::text,
			new.seq,
			new.bytes,
			new.hash
		FROM unnest($3::bigint[], $4::bytea[], $5::bytea[]) AS new (seq, bytes, hash)
		WHERE $6::bigint = 0
			OR EXISTS (SELECT 1 FROM fleet WHERE epoch = $6::bigint)`,
		t.stream.Club, t.stream.Name, seqs, texts, hashes, epoch)
	sent := t.tx.SendBatch(ctx, &all)
	var added pgconn.CommandTag
	var err error
	for range all.Len() {
		if added, err = sent.Exec(); err != nil { // the last one's count is that of the records
			break
		}
	}
	if err = errors.Join(err, sent.Close()); err != nil {
		return explain(err)
	}
	if added.RowsAffected() < int64(len(records)) {
		return store.ErrServersChanged
	}
	return nil
}

// Remember implements store.Tx. A command that has an answer already is
// store.ErrConflict.
func (t *tx) Remember(ctx context.Context, answers []store.Answer) error {
	if t.tx == nil {
		return fmt.Errorf("postgres: remember answers of %s: %w", t.stream, errOver)
	}
	for some := range slices.Chunk(answers, insertSize) {
		if err := t.remember(ctx, some); err != nil {
			return fmt.Errorf("postgres: remember answers of %s: %w", t.stream, err)
		}
	}
	return nil
}

func (t *tx) remember(ctx context.Context, answers []store.Answer) error {
	commands, contents, bodies := answerColumns(answers)
	added, err := t.tx.Exec(ctx, `
		INSERT INTO answers (
			club_id,
			stream,
			command,
			content,
			body
		)
		SELECT
			$1::text,
			$2::text,
			new.command,
			new.content,
			new.body
		FROM unnest($3::text[], $4::bytea[], $5::bytea[]) AS new (command, content, body)
		ON CONFLICT DO NOTHING`,
		t.stream.Club, t.stream.Name, commands, contents, bodies)
	if err != nil {
		return explain(err)
	}
	if added.RowsAffected() < int64(len(answers)) {
		return store.ErrConflict
	}
	return nil
}

// PutPerson implements store.Tx.
func (t *tx) PutPerson(ctx context.Context, p store.Person) error {
	if err := t.putPerson(ctx, p); err != nil {
		return fmt.Errorf("postgres: put person %s of %s: %w", p.ID, t.stream, plain(err))
	}
	return nil
}

func (t *tx) putPerson(ctx context.Context, p store.Person) error {
	if t.tx == nil {
		return errOver
	}
	// An erasure that is under way is waited for, and one that comes waits.
	if _, err := t.tx.Exec(ctx, `SELECT pg_advisory_xact_lock_shared($1)`, personLock(t.stream.Club, p.ID)); err != nil {
		return err
	}
	// The upsert writes a row in every other case, so none written means that the id is erased.
	put, err := t.tx.Exec(ctx, `
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
		SELECT
			$1::text,
			$2::text,
			$3::text,
			$4::text,
			$5::text,
			$6::text,
			$7::boolean,
			$8::boolean,
			$9::boolean
		WHERE NOT EXISTS (
			SELECT 1
			FROM erasures
			WHERE club_id = $1
				AND person = $2
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
	if err == nil && put.RowsAffected() == 0 {
		return store.ErrErased
	}
	return explain(err)
}

// PutText implements store.Tx.
func (t *tx) PutText(ctx context.Context, text store.Text) error {
	if err := t.putText(ctx, text); err != nil {
		return fmt.Errorf("postgres: put text %s of %s: %w", text.ID, t.stream, plain(err))
	}
	return nil
}

func (t *tx) putText(ctx context.Context, text store.Text) error {
	if t.tx == nil {
		return errOver
	}
	text = text.Sorted()
	about := text.About
	if about == nil {
		about = []string{}
	}
	// An erasure holds one of these alone. Without them it could commit between the look at the
	// erasures below and this commit, and the text would outlive it.
	locks := []int64{textLock(t.stream.Club, text.ID)}
	for _, person := range about {
		locks = append(locks, personLock(t.stream.Club, person))
	}
	if _, err := t.tx.Exec(ctx, `SELECT pg_advisory_xact_lock_shared(key) FROM unnest($1::bigint[]) AS key`, locks); err != nil {
		return err
	}
	// Both tables are written by one statement: whom the text is about is added only with the text,
	// and the rows that come back say whether it was.
	added, err := t.tx.Exec(ctx, `
		WITH added AS (
			INSERT INTO texts (
				club_id,
				text_id,
				salt,
				text
			)
			SELECT
				$1::text,
				$2::text,
				$3::bytea,
				$4::text
			WHERE NOT EXISTS (
				SELECT 1
				FROM erasures
				WHERE club_id = $1
					AND person = ANY ($5::text[])
			)
				AND NOT EXISTS (
					SELECT 1
					FROM text_erasures
					WHERE club_id = $1
						AND text_id = $2
				)
			ON CONFLICT DO NOTHING
			RETURNING
				club_id,
				text_id
		), about AS (
			INSERT INTO text_about (
				club_id,
				text_id,
				person
			)
			SELECT
				club_id,
				text_id,
				person
			FROM added
			CROSS JOIN unnest($5::text[]) AS person
		)
		SELECT 1
		FROM added`,
		t.stream.Club, text.ID, full(text.Salt), text.Text, about)
	if err != nil || added.RowsAffected() == 1 {
		return explain(err)
	}
	// Nothing was added, for one of two reasons: a text that is there under this id (a retry brings
	// the same one again), or an erasure, after which none is there.
	there, err := textOf(ctx, t.tx, t.stream.Club, text.ID)
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

// full is b, or an empty value where b is nil: a column that must be there is
// empty and not NULL.
func full(b []byte) []byte {
	if b == nil {
		return []byte{}
	}
	return b
}

// explain turns the mistakes that a caller can make in SQL terms into the
// store's.
func explain(err error) error {
	var refused *pgconn.PgError
	if !errors.As(err, &refused) {
		return plain(err)
	}
	switch refused.Code {
	case pgerrcode.ForeignKeyViolation:
		return fmt.Errorf("the club is not kept here, make it first: %w", store.ErrNotFound)
	case pgerrcode.UniqueViolation:
		return store.ErrConflict
	}
	return plain(err)
}
