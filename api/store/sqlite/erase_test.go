package sqlite_test

import (
	"bytes"
	"compress/gzip"
	"database/sql"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"benchmeet/api/store"
)

// search lists the files of a folder that hold a word, also inside gzip.
func search(t *testing.T, folder, word string) (found []string) {
	t.Helper()
	must(t, filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if zipped, err := gzip.NewReader(bytes.NewReader(content)); err == nil {
			plain, err := io.ReadAll(zipped)
			if err != nil {
				return err
			}
			content = append(content, plain...)
		}
		if bytes.Contains(content, []byte(word)) {
			found = append(found, filepath.Base(path))
		}
		return nil
	}))
	return found
}

// An erased name is in no file of the folder, whatever the rows went through
// before: replaced, moved between pages, spilled over several pages.
func TestErasedNameIsNowhereInTheFolder(t *testing.T) {
	ctx := t.Context()
	folder := t.TempDir()
	path := filepath.Join(folder, "meet.db")
	s := opened(t, path)
	put := func(fn func(store.Tx) error) {
		t.Helper()
		must(t, s.Write(ctx, store.ClubStream("harbour"), fn))
	}
	const word = "Wilhelmina-Seegras"
	for round := range 3 {
		put(func(tx store.Tx) error {
			for n := range 300 {
				p := store.Person{ID: fmt.Sprintf("p-%03d", n), Name: fmt.Sprintf("Person %d %d", n, round)}
				if n == 150 {
					p.Name = fmt.Sprintf("%s %d %s", word, round, strings.Repeat("x", 400*round))
					p.DisplayName, p.SayAs = word, word
				}
				if err := tx.PutPerson(ctx, p); err != nil {
					return err
				}
			}
			return nil
		})
		put(func(tx store.Tx) error {
			return tx.PutText(ctx, store.Text{
				ID:    fmt.Sprintf("t-%d", round),
				About: []string{"p-1", "p-150"},
				Salt:  []byte(word + " salt"),
				Text:  strings.Repeat(word+" was late. ", 1000),
			})
		})
	}
	if found := search(t, folder, word); len(found) == 0 {
		t.Fatal("the word is in no file before the erasure: this test would prove nothing")
	}
	must(t, s.Erase(ctx, "harbour", "p-150", 1))
	must(t, s.Overwrite(ctx))
	if found := search(t, folder, word); found != nil {
		t.Errorf("the erased name is still in %v", found)
	}
	put(func(tx store.Tx) error { return tx.PutPerson(ctx, store.Person{ID: "p-999", Name: "After"}) })
	must(t, s.Close())
	if found := search(t, folder, word); found != nil {
		t.Errorf("after closing, the erased name is in %v", found)
	}
	people, err := opened(t, path).AllPeople(ctx, "harbour")
	must(t, err)
	if len(people) != 300 {
		t.Errorf("%d people are left, want 300", len(people))
	}
}

// An erasure waits for readers of older versions instead of leaving the name
// in the log.
func TestEraseWhileOthersWork(t *testing.T) {
	ctx := t.Context()
	folder := t.TempDir()
	s := opened(t, filepath.Join(folder, "meet.db"))
	stop, stopped := make(chan struct{}), make(chan error, 2)
	busy := func(work func() error) {
		for {
			select {
			case <-stop:
				stopped <- nil
				return
			default:
			}
			if err := work(); err != nil {
				stopped <- err
				return
			}
		}
	}
	go busy(func() error { _, err := s.AllPeople(ctx, "harbour"); return err })
	go busy(func() error {
		return s.Write(ctx, store.ClubStream("harbour"), func(tx store.Tx) error {
			return tx.PutPerson(ctx, store.Person{ID: "p-busy", Name: "Busy"})
		})
	})
	for n := range 10 {
		id, name := fmt.Sprintf("p-%d", n), fmt.Sprintf("Seegras-number-%d", n)
		must(t, s.Write(ctx, store.ClubStream("harbour"), func(tx store.Tx) error {
			return tx.PutPerson(ctx, store.Person{ID: id, Name: name})
		}))
		must(t, s.Erase(ctx, "harbour", id, 1))
		must(t, s.Overwrite(ctx))
		if found := search(t, folder, name); found != nil {
			t.Errorf("%s is still in %v", name, found)
		}
	}
	close(stop)
	for range 2 {
		must(t, <-stopped)
	}
}

// While another process reads, space cannot be overwritten; the venue goes on all the
// same, and it is done when the reader has gone.
func TestOverwriteHoldsNobodyUp(t *testing.T) {
	ctx := t.Context()
	folder := t.TempDir()
	path := filepath.Join(folder, "meet.db")
	s := opened(t, path)
	put := func(id, name string) {
		t.Helper()
		must(t, s.Write(ctx, store.ClubStream("harbour"), func(tx store.Tx) error {
			return tx.PutPerson(ctx, store.Person{ID: id, Name: name})
		}))
	}
	put("p-1", "Wilhelmina-Seegras")
	reader, err := sql.Open("sqlite", "file:"+path+"?mode=ro")
	must(t, err)
	defer reader.Close()
	reading, err := reader.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	must(t, err)
	var n int
	must(t, reading.QueryRowContext(ctx, `SELECT COUNT(*) FROM people`).Scan(&n))

	must(t, s.Erase(ctx, "harbour", "p-1", 1))
	said := make(chan error, 1)
	go func() { said <- s.Overwrite(ctx) }()
	for i := range 40 {
		before := time.Now()
		put(fmt.Sprintf("p-%d", i+2), "Somebody")
		// Ten seconds is how long one statement would wait for the reader.
		if took := time.Since(before); took > 5*time.Second {
			t.Fatalf("a write waited %v for an erasure that waited for a reader", took)
		}
	}
	select {
	case err := <-said:
		t.Fatalf("the space was overwritten beside a reader: %v", err)
	default:
	}
	must(t, reading.Rollback())
	must(t, <-said)
	if found := search(t, folder, "Wilhelmina-Seegras"); found != nil {
		t.Errorf("the erased name is still in %v", found)
	}
}

// An erasure that was cut short between its rows and their space is finished by who
// opens the file next.
func TestOverwriteAfterACrash(t *testing.T) {
	ctx := t.Context()
	folder := t.TempDir()
	path := filepath.Join(folder, "meet.db")
	s := opened(t, path)
	must(t, s.Write(ctx, store.ClubStream("harbour"), func(tx store.Tx) error {
		return tx.PutPerson(ctx, store.Person{ID: "p-1", Name: "Wilhelmina-Seegras"})
	}))
	must(t, s.Erase(ctx, "harbour", "p-1", 1))
	due := func() (n int) {
		t.Helper()
		db, err := sql.Open("sqlite", "file:"+path)
		must(t, err)
		defer db.Close()
		must(t, db.QueryRowContext(ctx, `SELECT COUNT(*) FROM overwrites`).Scan(&n))
		return n
	}
	must(t, s.Close())
	if due() == 0 {
		t.Error("nothing says that the space is still to be overwritten")
	}
	s = opened(t, path)
	must(t, s.Overwrite(ctx))
	must(t, s.Close())
	if n := due(); n != 0 {
		t.Errorf("%d overwrites are still due", n)
	}
}
