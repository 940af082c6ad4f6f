package sqlite_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/domain/trace"
)

// The file alone, copied from under a running store, soon holds what was written.
func TestFileAloneIsNotEmpty(t *testing.T) {
	ctx := t.Context()
	folder := t.TempDir()
	path := filepath.Join(folder, "meet.db")
	s := opened(t, path)
	const chunks = 30 // far fewer pages than SQLite waits for
	for n := range chunks {
		_, err := s.PutChunk(
			ctx, "harbour", trace.Stored{Key: trace.Key{Bench: "b1", Boot: "00000000000000b1", Run: "r", Number: n}, Packed: []byte{1}},
		)
		must(t, err)
	}
	var found int
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end) && found < chunks; time.Sleep(200 * time.Millisecond) {
		found = inCopy(t, path)
	}
	if found != chunks {
		t.Errorf("a copy of the file has %d chunks of %d", found, chunks)
	}
}

// inCopy copies the file and counts the chunks in the copy.
func inCopy(t *testing.T, path string) int {
	t.Helper()
	text, err := os.ReadFile(path)
	must(t, err)
	copied := filepath.Join(t.TempDir(), fmt.Sprintf("copy-%d.db", time.Now().UnixNano()))
	must(t, os.WriteFile(copied, text, 0o600))
	c, err := sqlite.OpenReadOnly(context.Background(), copied)
	if err != nil {
		return 0 // torn: a checkpoint was under way
	}
	defer c.Close()
	kept, err := c.Chunks(context.Background(), "harbour", store.RunKey{Bench: "b1", Boot: "00000000000000b1", Run: "r"})
	if err != nil {
		return 0
	}
	return len(kept)
}
