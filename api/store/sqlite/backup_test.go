package sqlite_test

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/store"
)

func TestBackup(t *testing.T) {
	ctx := t.Context()
	folder := t.TempDir()
	s := opened(t, filepath.Join(folder, "meet.db"))
	put := func(p store.Person) {
		t.Helper()
		must(t, s.Write(ctx, store.ClubStream("harbour"), func(tx store.Tx) error { return tx.PutPerson(ctx, p) }))
	}
	heron := store.Person{ID: "p1", Name: "Heron"}
	put(heron)
	copied := filepath.Join(folder, "it's a copy?.db")
	must(t, s.Backup(ctx, copied))
	put(store.Person{ID: "p2", Name: "Later"})

	info, err := os.Stat(copied)
	must(t, err)
	if info.Mode().Perm() != 0o600 {
		t.Errorf("the copy has permissions %o, want 600", info.Mode().Perm())
	}
	restored := opened(t, copied)
	people, err := restored.AllPeople(ctx, "harbour")
	must(t, err)
	if diff := cmp.Diff([]store.Person{heron}, people); diff != "" {
		t.Errorf("people in the copy (-want +got):\n%s", diff)
	}
}

func TestBackupRefused(t *testing.T) {
	ctx := t.Context()
	folder := t.TempDir()
	s := opened(t, filepath.Join(folder, "meet.db"))

	there := filepath.Join(folder, "there")
	must(t, os.WriteFile(there, nil, 0o600))
	if err := s.Backup(ctx, there); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a copy over a file: %v, want a refusal", err)
	}
	if content, err := os.ReadFile(there); err != nil || len(content) != 0 {
		t.Errorf("the file that was there was touched: %d bytes, %v", len(content), err)
	}
	if err := s.Backup(ctx, filepath.Join(folder, "no folder", "copy")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a copy into a folder that is not there: %v, want a refusal", err)
	}
	ended, end := context.WithCancel(ctx)
	end()
	half := filepath.Join(folder, "half")
	if err := s.Backup(ended, half); !errors.Is(err, context.Canceled) {
		t.Errorf("a copy that was stopped: %v", err)
	}
	if _, err := os.Stat(half); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a copy that was stopped is left behind: %v", err)
	}
}
