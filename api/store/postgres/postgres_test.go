package postgres_test

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/golang-migrate/migrate/v4"
	migratepgx "github.com/golang-migrate/migrate/v4/database/pgx/v5"
	"github.com/golang-migrate/migrate/v4/source/iofs"
	"github.com/jackc/pgx/v5"

	"benchmeet/api/store"
	"benchmeet/api/store/postgres"
	"benchmeet/api/store/postgres/pgtest"
	"benchmeet/api/store/storetest"
	"benchmeet/domain/journal"
	"benchmeet/migrations"
)

func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }

// database is a database of a server that the tests share.
var database = storetest.Database{
	New: func(t testing.TB) storetest.Open {
		url := pgtest.Database(t)
		return func() (store.Store, error) { return postgres.Open(context.Background(), url) }
	},
	Shared: true,
}

func TestStore(t *testing.T) { storetest.Run(t, database) }

func BenchmarkStore(b *testing.B) { storetest.Benchmark(b, database) }

// opened opens a store and closes it with the test.
func opened(t testing.TB, url string) *postgres.Store {
	t.Helper()
	s, err := postgres.Open(t.Context(), url)
	must(t, err)
	t.Cleanup(func() { _ = s.Close() })
	must(t, s.EnsureClub(t.Context(), store.Club{ID: "harbour", Name: "Harbour Hall"}))
	return s
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// raw connects beside the store, as another program would.
func raw(t *testing.T, url string) *pgx.Conn {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	must(t, err)
	t.Cleanup(func() { _ = conn.Close(context.Background()) })
	return conn
}

func TestProcessesThatStartTogether(t *testing.T) {
	url := pgtest.Database(t)
	var all sync.WaitGroup
	for range 6 {
		all.Go(func() {
			s, err := postgres.Open(t.Context(), url)
			if err != nil {
				t.Error(err)
				return
			}
			if _, err := s.Clubs(t.Context()); err != nil {
				t.Error(err)
			}
			_ = s.Close()
		})
	}
	all.Wait()
}

func TestOpenRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil string
		says  string
	}{
		{"a newer program's tables", `UPDATE schema_migrations SET version = 9000`, "use the newer program"},
		{"tables that stopped half-way", `UPDATE schema_migrations SET dirty = true`, "stopped half-way"},
	} {
		t.Run(c.name, func(t *testing.T) {
			url := pgtest.Database(t)
			must(t, opened(t, url).Close())
			_, err := raw(t, url).Exec(t.Context(), c.spoil)
			must(t, err)
			s, err := postgres.Open(t.Context(), url)
			if err == nil {
				_ = s.Close()
				t.Fatal("it was opened")
			}
			if !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %q, want %q", err, c.says)
			}
		})
	}
	t.Run("no server", func(t *testing.T) {
		_, err := postgres.Open(t.Context(), "postgres://club:a-password@/x?host="+t.TempDir())
		if err == nil || strings.Contains(err.Error(), "a-password") {
			t.Errorf("error %v, want one without the password", err)
		}
	})
}

func TestMigrationsGoDownAndUpAgain(t *testing.T) {
	url := pgtest.Database(t)
	must(t, opened(t, url).Close())
	db, err := sql.Open("pgx/v5", url)
	must(t, err)
	driver, err := migratepgx.WithInstance(db, &migratepgx.Config{})
	must(t, err)
	t.Cleanup(func() { _ = driver.Close() })
	source, err := iofs.New(migrations.Postgres, "postgres")
	must(t, err)
	m, err := migrate.NewWithInstance("iofs", source, "postgres", driver)
	must(t, err)
	must(t, m.Down())
	var left int
	must(t, raw(t, url).QueryRow(t.Context(), `
		SELECT
			(SELECT COUNT(*) FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relname NOT LIKE 'schema_migrations%')
			+ (SELECT COUNT(*) FROM pg_proc WHERE pronamespace = 'public'::regnamespace)`).Scan(&left))
	if left != 0 {
		t.Errorf("%d tables, indexes or functions are left after the way down", left)
	}
	must(t, m.Up())
}

// The log holds against other programs too.
func TestEventsCannotBeChanged(t *testing.T) {
	url := pgtest.Database(t)
	opened(t, url)
	conn := raw(t, url)
	_, err := conn.Exec(t.Context(), `INSERT INTO events VALUES ('harbour', 'club', 1, '{}', decode(repeat('00', 32), 'hex'))`)
	must(t, err)
	for _, statement := range []string{
		`UPDATE events SET bytes = ''`,
		`DELETE FROM events`,
		`TRUNCATE events`,
	} {
		if _, err := conn.Exec(t.Context(), statement); err == nil {
			t.Errorf("%s succeeded", statement)
		}
	}
}

func TestStreamsDoNotWaitForEachOther(t *testing.T) {
	ctx := t.Context()
	s := opened(t, pgtest.Database(t))
	must(t, s.Write(ctx, store.MeetStream("harbour", "spring"), func(store.Tx) error {
		return s.Write(ctx, store.MeetStream("harbour", "summer"), func(store.Tx) error { return nil })
	}))
}

// Writers that fill the pool leave connections to read beside them.
func TestSmallPool(t *testing.T) {
	ctx := t.Context()
	s := opened(t, pgtest.Database(t)+"&pool_max_conns=4")
	var all sync.WaitGroup
	for w := range 32 {
		all.Go(func() {
			stream := store.MeetStream("harbour", string(rune('a'+w)))
			if err := s.Write(ctx, stream, func(store.Tx) error {
				return s.Read(ctx, stream, 0, func(journal.Record) error { return nil })
			}); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
}

// A connection that breaks in the middle leaves nothing, and the store goes on.
func TestBrokenConnection(t *testing.T) {
	ctx := t.Context()
	url := pgtest.Database(t)
	s := opened(t, url)
	other := raw(t, url)
	stream := store.ClubStream("harbour")
	err := s.Write(ctx, stream, func(tx store.Tx) error {
		if err := tx.PutPerson(ctx, store.Person{ID: "p1"}); err != nil {
			return err
		}
		_, err := other.Exec(ctx, `
			SELECT pg_terminate_backend(pid)
			FROM pg_stat_activity
			WHERE datname = current_database()
				AND pid <> pg_backend_pid()`)
		return err
	})
	if err == nil {
		t.Error("Write succeeds on a connection that is gone")
	}
	if _, err := s.Person(ctx, "harbour", "p1"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("person: %v, want not found", err)
	}
	must(t, s.Write(ctx, stream, func(tx store.Tx) error { return tx.PutPerson(ctx, store.Person{ID: "p1"}) }))
}

func TestChangesListensAgain(t *testing.T) {
	ctx := t.Context()
	url := pgtest.Database(t)
	s := opened(t, url)
	notices, err := s.Changes(ctx)
	must(t, err)
	_, err = raw(t, url).Exec(ctx, `
		SELECT pg_terminate_backend(pid)
		FROM pg_stat_activity
		WHERE datname = current_database()
			AND pid <> pg_backend_pid()
			AND query LIKE 'LISTEN%'`)
	must(t, err)
	// Notices of the time between are lost, so it is written until one comes.
	head := journal.Head{}
	stream := store.ClubStream("harbour")
	late := time.After(time.Minute)
	for {
		record, err := journal.Seal(head, journal.Envelope{Stream: stream.String(), Seq: head.Seq + 1, V: 1, Data: []byte("{}")})
		must(t, err)
		must(t, s.Write(ctx, stream, func(tx store.Tx) error { return tx.Append(ctx, []journal.Record{record}) }))
		head = record.Head()
		select {
		case got := <-notices:
			if got != stream {
				t.Errorf("a notice of %s, want %s", got, stream)
			}
			return
		case <-time.After(50 * time.Millisecond):
		case <-late:
			t.Fatal("no notice came after the connection was broken")
		}
	}
}

// A listener that does not take its notices costs the writers nothing, and finds
// one for each stream.
func TestChangesSlowListener(t *testing.T) {
	ctx := t.Context()
	s := opened(t, pgtest.Database(t))
	notices, err := s.Changes(ctx)
	must(t, err)
	want := make(map[store.Stream]bool)
	for _, meet := range []string{"a", "b", "c"} {
		stream := store.MeetStream("harbour", meet)
		want[stream] = true
		head := journal.Head{}
		for range 20 {
			record, err := journal.Seal(head, journal.Envelope{Stream: stream.String(), Seq: head.Seq + 1, V: 1, Data: []byte("{}")})
			must(t, err)
			must(t, s.Write(ctx, stream, func(tx store.Tx) error { return tx.Append(ctx, []journal.Record{record}) }))
			head = record.Head()
		}
	}
	late := time.After(time.Minute)
	for len(want) > 0 {
		select {
		case stream := <-notices:
			delete(want, stream)
		case <-late:
			t.Fatalf("no notice of %v came", want)
		}
	}
}
