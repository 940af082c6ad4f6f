package postgres_test

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"benchmeet/api/store"
	"benchmeet/api/store/postgres/pgtest"
)

// search lists the files of the server's tables that hold a word.
func search(t *testing.T, folder, word string) (found []string) {
	t.Helper()
	must(t, filepath.WalkDir(filepath.Join(folder, "base"), func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if bytes.Contains(content, []byte(word)) {
			found = append(found, path)
		}
		return nil
	}))
	return found
}

// An erased name is in none of the files of the tables, the statistics of the
// planner included. (The write-ahead log is another matter; see Erase.)
func TestErasedNameIsInNoTable(t *testing.T) {
	ctx := t.Context()
	folder := pgtest.Folder(t)
	if folder == "" {
		t.Log("the server is not ours: its files cannot be searched, only its tables")
	}
	url := pgtest.Database(t)
	s := opened(t, url)
	other := raw(t, url)
	put := func(fn func(store.Tx) error) {
		t.Helper()
		must(t, s.Write(ctx, store.ClubStream("harbour"), fn))
	}
	const word = "Wilhelmina-Seegras"
	for round := range 3 {
		put(func(tx store.Tx) error {
			for n := range 100 {
				p := store.Person{ID: fmt.Sprintf("p-%03d", n), Name: fmt.Sprintf("Person %d %d", n, round)}
				if n == 50 {
					p.Name, p.DisplayName, p.SayAs = fmt.Sprintf("%s %d", word, round), word, word
				}
				if err := tx.PutPerson(ctx, p); err != nil {
					return err
				}
			}
			return tx.PutText(
				ctx, store.Text{ID: fmt.Sprintf("t-%d", round), About: []string{"p-1", "p-050"}, Salt: []byte{1}, Text: word + " was late."},
			)
		})
	}
	_, err := other.Exec(ctx, `ANALYZE`)
	must(t, err)
	_, err = other.Exec(ctx, `CHECKPOINT`)
	must(t, err)
	if folder != "" && search(t, folder, word) == nil {
		t.Fatal("the word is in no file before the erasure: this test would prove nothing")
	}
	must(t, s.Erase(ctx, "harbour", "p-050", 1))
	must(t, s.Overwrite(ctx))
	_, err = other.Exec(ctx, `CHECKPOINT`)
	must(t, err)
	if folder != "" {
		if found := search(t, folder, word); found != nil {
			t.Errorf("the erased name is still in %v", found)
		}
	}
	var kept int
	must(t, other.QueryRow(ctx, `
		SELECT COUNT(*)
		FROM pg_stats
		WHERE tablename IN ('people', 'texts')
			AND attname IN ('name', 'display_name', 'say_as', 'birth_date', 'text', 'salt')`).Scan(&kept))
	if kept != 0 {
		t.Errorf("the planner keeps statistics of %d columns with names", kept)
	}
}

// A transaction that may still see the rows is waited for, and said.
func TestEraseWaitsForOldTransactions(t *testing.T) {
	ctx := t.Context()
	url := pgtest.Database(t)
	s := opened(t, url)
	must(t, s.Write(ctx, store.ClubStream("harbour"), func(tx store.Tx) error {
		return tx.PutPerson(ctx, store.Person{ID: "p1", Name: "Heron"})
	}))
	old, err := raw(t, url).Begin(ctx)
	must(t, err)
	_, err = old.Exec(ctx, `SET TRANSACTION ISOLATION LEVEL REPEATABLE READ`)
	must(t, err)
	_, err = old.Exec(ctx, `SELECT COUNT(*) FROM clubs`)
	must(t, err)

	must(t, s.Erase(ctx, "harbour", "p1", 1))
	impatient, stop := context.WithTimeout(ctx, 200*time.Millisecond)
	defer stop()
	if err := s.Overwrite(impatient); err == nil || !strings.Contains(err.Error(), "tried again") {
		t.Errorf("overwriting beside an old transaction: %v, want to hear that it is tried again", err)
	}
	must(t, old.Rollback(ctx))
	must(t, s.Overwrite(ctx))
}

// A person who is being written while erased does not come back.
func TestEraseBesideWriters(t *testing.T) {
	ctx := t.Context()
	url := pgtest.Database(t)
	s, other := opened(t, url), opened(t, url)
	for n := range 20 {
		id := fmt.Sprintf("p-%d", n)
		done := make(chan error)
		go func() {
			done <- other.Write(ctx, store.ClubStream("harbour"), func(tx store.Tx) error {
				// Either it is written and then erased, or refused.
				_ = tx.PutPerson(ctx, store.Person{ID: id, Name: "Heron"})
				return nil
			})
		}()
		must(t, s.Erase(ctx, "harbour", id, 1))
		must(t, <-done)
	}
	people, err := s.AllPeople(ctx, "harbour")
	must(t, err)
	if len(people) != 0 {
		t.Errorf("%d erased people are there again", len(people))
	}
}
