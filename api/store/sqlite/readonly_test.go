package sqlite_test

import (
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/domain/trace"
)

func readOnly(t *testing.T, path string) *sqlite.Store {
	t.Helper()
	s, err := sqlite.OpenReadOnly(t.Context(), path)
	must(t, err)
	t.Cleanup(func() { _ = s.Close() })
	return s
}

// A second opening reads beside the first, sees what is written meanwhile, and
// can make a copy; so can one of a file that nobody has open, and of a copy.
func TestReadOnlyBesideAWriter(t *testing.T) {
	ctx := t.Context()
	folder := t.TempDir()
	path := filepath.Join(folder, "meet.db")
	s := opened(t, path)
	reader := readOnly(t, path)
	heron := store.Person{ID: "p1", Name: "Heron"}
	must(t, s.Write(ctx, store.ClubStream("harbour"), func(tx store.Tx) error { return tx.PutPerson(ctx, heron) }))
	check := func(what string, from *sqlite.Store) {
		t.Helper()
		people, err := from.AllPeople(ctx, "harbour")
		must(t, err)
		if diff := cmp.Diff([]store.Person{heron}, people); diff != "" {
			t.Errorf("%s (-want +got):\n%s", diff, what)
		}
	}
	check("beside a writer", reader)
	beside := filepath.Join(folder, "beside.db")
	must(t, reader.Backup(ctx, beside))
	must(t, s.Close())
	check("after the writer", reader)
	must(t, reader.Close())

	alone := readOnly(t, path)
	check("with no writer", alone)
	again := filepath.Join(folder, "alone.db")
	must(t, alone.Backup(ctx, again))
	must(t, alone.Close())
	for _, copied := range []string{beside, again} {
		before, err := os.ReadFile(copied)
		must(t, err)
		check("a copy", readOnly(t, copied))
		after, err := os.ReadFile(copied)
		must(t, err)
		if string(before) != string(after) {
			t.Errorf("reading %s changed it", copied)
		}
	}
	check("opened as usual after all that", opened(t, path))
}

func TestReadOnlyWritesNothing(t *testing.T) {
	ctx := t.Context()
	path := filepath.Join(t.TempDir(), "meet.db")
	must(t, opened(t, path).Close())
	s := readOnly(t, path)
	for name, err := range map[string]error{
		"a club":   s.EnsureClub(ctx, store.Club{ID: "quay"}),
		"a write":  s.Write(ctx, store.ClubStream("harbour"), func(store.Tx) error { return nil }),
		"a chunk":  func() error { _, err := s.PutChunk(ctx, "harbour", chunk()); return err }(),
		"an end":   s.CloseRun(ctx, "harbour", store.RunKey{Run: "r"}),
		"a token":  s.PutToken(ctx, store.Token{Club: "harbour", ID: "t"}),
		"erasure":  s.Erase(ctx, "harbour", "p1", 1),
		"a text":   s.EraseText(ctx, "harbour", "t1", 1),
		"space":    s.Overwrite(ctx),
		"a freeze": s.FreezeRun(ctx, "harbour", store.RunKey{Run: "r"}, 1),
		"a secret": func() error { _, err := s.Secret(ctx, "new"); return err }(),
	} {
		if !errors.Is(err, sqlite.ErrReadOnly) {
			t.Errorf("%s: error %v, want one that is %q", name, err, sqlite.ErrReadOnly)
		}
	}
	must(t, s.Close())
}

func TestReadOnlyRefused(t *testing.T) {
	ctx := t.Context()
	folder := t.TempDir()
	missing := filepath.Join(folder, "no folder", "meet.db")
	if _, err := sqlite.OpenReadOnly(ctx, missing); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
	if _, err := os.Stat(filepath.Dir(missing)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("looking for a file made something: %v", err)
	}
	text := filepath.Join(folder, "text.db")
	must(t, os.WriteFile(text, []byte(strings.Repeat("no database\n", 100)), 0o600))
	if _, err := sqlite.OpenReadOnly(ctx, text); err == nil || !strings.Contains(err.Error(), "no database that can be read") {
		t.Errorf("a text: %v", err)
	}
	empty := filepath.Join(folder, "empty.db")
	must(t, os.WriteFile(empty, nil, 0o600))
	if _, err := sqlite.OpenReadOnly(ctx, empty); err == nil || !strings.Contains(err.Error(), "no tables of ours") {
		t.Errorf("an empty file: %v", err)
	}
	if version, _, err := sqlite.Version(ctx, empty); err != nil || version != 0 {
		t.Errorf("an empty file: version %d, %v", version, err)
	}

	path := filepath.Join(folder, "meet.db")
	must(t, opened(t, path).Close())
	version, newest, err := sqlite.Version(ctx, path)
	if err != nil || version != newest {
		t.Errorf("a fresh database: version %d of %d, %v", version, newest, err)
	}
	for statement, says := range map[string]string{
		`UPDATE schema_migrations SET version = 999`:              "use the newer program",
		`UPDATE schema_migrations SET version = 1, dirty = true`:  "stopped half-way",
		`UPDATE schema_migrations SET version = 0, dirty = false`: "no tables of ours",
	} {
		db := plain(t, path)
		_, err := db.Exec(statement)
		must(t, err)
		must(t, db.Close())
		if _, err := sqlite.OpenReadOnly(ctx, path); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("after %s: error %v, want one with %q", statement, err, says)
		}
	}
}

func chunk() trace.Stored {
	return trace.Chunk{Key: trace.Key{Bench: "b1", Boot: "00000000000000b1", Run: "r1"}, Stamps: []int64{1000}}.Pack()
}

// plain opens the file without the store.
func plain(t *testing.T, path string) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	must(t, err)
	return db
}

// A database that a killed process left, with its write-ahead log still to be
// moved in, can be read and copied, with and without the log's index.
func TestReadOnlyAfterAKill(t *testing.T) {
	ctx := t.Context()
	path := filepath.Join(t.TempDir(), "meet.db")
	s := opened(t, path)
	heron := store.Person{ID: "p1", Name: "Heron"}
	must(t, s.Write(ctx, store.ClubStream("harbour"), func(tx store.Tx) error { return tx.PutPerson(ctx, heron) }))
	for _, ends := range [][]string{{"", "-wal", "-shm"}, {"", "-wal"}} {
		left := filepath.Join(t.TempDir(), "meet.db")
		for _, end := range ends {
			content, err := os.ReadFile(path + end)
			must(t, err)
			must(t, os.WriteFile(left+end, content, 0o600))
		}
		reader := readOnly(t, left)
		people, err := reader.AllPeople(ctx, "harbour")
		must(t, err)
		if diff := cmp.Diff([]store.Person{heron}, people); diff != "" {
			t.Errorf("people in what is left with %q (-want +got):\n%s", ends, diff)
		}
		must(t, reader.Backup(ctx, left+".copy"))
		must(t, reader.Close())
	}
}
