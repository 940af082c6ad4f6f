package sqlite_test

import (
	"context"
	"database/sql"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/golang-migrate/migrate/v4"
	migratesqlite "github.com/golang-migrate/migrate/v4/database/sqlite"
	"github.com/golang-migrate/migrate/v4/source/iofs"

	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/api/store/storetest"
	"benchmeet/migrations"
)

func TestMain(m *testing.M) {
	if path := os.Getenv(syncedWriterPath); path != "" {
		syncedWriter(path)
		return
	}
	if path := os.Getenv(secondProcessPath); path != "" {
		secondProcess(path)
		return
	}
	os.Exit(m.Run())
}

// database is a file in a folder of its own.
var database = storetest.Database{
	New: func(t testing.TB) storetest.Open {
		path := filepath.Join(t.TempDir(), "data", "meet.db")
		return func() (store.Store, error) { return sqlite.Open(context.Background(), path) }
	},
}

func TestStore(t *testing.T) { storetest.Run(t, database) }

func BenchmarkStore(b *testing.B) { storetest.Benchmark(b, database) }

// opened opens a store and closes it with the test.
func opened(t testing.TB, path string) *sqlite.Store {
	t.Helper()
	s, err := sqlite.Open(t.Context(), path)
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

// raw opens the file beside the store, as another program would.
func raw(t *testing.T, path string) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	must(t, err)
	t.Cleanup(func() { _ = db.Close() })
	return db
}

func TestFilesBelongToTheirOwnerAlone(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new", "data")
	s := opened(t, filepath.Join(folder, "meet.db"))
	must(t, s.Write(t.Context(), store.ClubStream("harbour"), func(tx store.Tx) error {
		return tx.PutPerson(t.Context(), store.Person{ID: "p1", Name: "Somebody"})
	}))
	files := 0
	must(t, filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := entry.Info()
		if err != nil {
			return err
		}
		want := fs.FileMode(0o600)
		if entry.IsDir() {
			want = 0o700
		}
		if got := info.Mode().Perm(); got != want {
			t.Errorf("%s has permissions %o, want %o", filepath.Base(path), got, want)
		}
		files++
		return nil
	}))
	if files != 5 { // the folder, the file, its lock, its log and the index of the log
		t.Errorf("%d entries, want 5", files)
	}
}

func TestOpenAwkwardNames(t *testing.T) {
	for _, name := range []string{"a b.db", "what?.db", "100%41.db", "a#b.db", "_pragma=synchronous(OFF)&x.db", "ä.db"} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), name)
			opened(t, path)
			if info, err := os.Stat(path); err != nil || info.Size() == 0 {
				t.Errorf("the file was not written under its name: %v", err)
			}
		})
	}
}

func TestOpenRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(t *testing.T, path string)
		says  string
	}{
		{"no database", func(t *testing.T, path string) {
			must(t, os.WriteFile(path, []byte(strings.Repeat("a list of entries\n", 100)), 0o600))
		}, "no database that can be read"},
		{"a newer program's tables", func(t *testing.T, path string) {
			must(t, opened(t, path).Close())
			_, err := raw(t, path).Exec(`UPDATE schema_migrations SET version = 9000`)
			must(t, err)
		}, "use the newer program"},
		{"tables that stopped half-way", func(t *testing.T, path string) {
			must(t, opened(t, path).Close())
			_, err := raw(t, path).Exec(`UPDATE schema_migrations SET dirty = 1`)
			must(t, err)
		}, "stopped half-way"},
		{"a folder", func(t *testing.T, path string) { must(t, os.Mkdir(path, 0o700)) }, "is a directory"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "meet.db")
			c.spoil(t, path)
			s, err := sqlite.Open(t.Context(), path)
			if err == nil {
				_ = s.Close()
				t.Fatal("it was opened")
			}
			if !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), path) {
				t.Errorf("error %q, want the path and %q", err, c.says)
			}
		})
	}
}

func TestMigrationsGoDownAndUpAgain(t *testing.T) {
	path := filepath.Join(t.TempDir(), "meet.db")
	must(t, opened(t, path).Close())
	driver, err := migratesqlite.WithInstance(raw(t, path), &migratesqlite.Config{})
	must(t, err)
	source, err := iofs.New(migrations.SQLite, "sqlite")
	must(t, err)
	m, err := migrate.NewWithInstance("iofs", source, "sqlite", driver)
	must(t, err)
	must(t, m.Down())
	var left int
	must(t, raw(t, path).QueryRow(`
		SELECT COUNT(*)
		FROM sqlite_master
		WHERE tbl_name NOT IN ('schema_migrations')
			AND name NOT LIKE 'sqlite_%'`).Scan(&left))
	if left != 0 {
		t.Errorf("%d tables, indexes or triggers are left after the way down", left)
	}
	must(t, m.Up())
}

// The log holds against other programs too.
func TestEventsCannotBeChanged(t *testing.T) {
	path := filepath.Join(t.TempDir(), "meet.db")
	must(t, opened(t, path).Close())
	db := raw(t, path)
	_, err := db.Exec(`INSERT INTO events VALUES ('harbour', 'club', 1, x'7b7d', zeroblob(32))`)
	must(t, err)
	for _, statement := range []string{
		`UPDATE events SET bytes = x'7b'`,
		`DELETE FROM events`,
		`INSERT OR REPLACE INTO events VALUES ('harbour', 'club', 1, x'7b', zeroblob(32))`,
	} {
		if _, err := db.Exec(statement); err == nil {
			t.Errorf("%s succeeded", statement)
		}
	}
}

// pidOf is the process number in the sentence of a refused Open.
func pidOf(sentence string) int {
	_, after, _ := strings.Cut(sentence, "in use by process ")
	digits, _, _ := strings.Cut(after, ";")
	pid, _ := strconv.Atoi(digits)
	return pid
}
