package main

import (
	"database/sql"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestVerifySaysWhatItSees: an empty database, an empty file and one of another program
// are no sound copies, and a good one is counted out.
func TestVerifySaysWhatItSees(t *testing.T) {
	w := newWired(t, "")
	data := w.server.options.Data
	code, _, stderr := runHere(t, "verify", "--data", data)
	if code != exitRefused || !strings.Contains(stderr, "nothing in it to check") || !strings.Contains(stderr, "-wal") {
		t.Errorf("a database without an event: exit %d, %s", code, stderr)
	}
	w.smallMeet()
	h := w.startFirstHeat()
	w.sendStamps(*h.Lanes[0].Bench, *h.Lanes[0].Armed, "00000000000000aa", fading(1, 6000))
	code, _, stderr = runHere(t, "verify", "--data", data)
	if code != exitDone || !strings.Contains(stderr, "2 streams with ") || !strings.Contains(stderr, "1 recorded runs") {
		t.Errorf("a small day: exit %d, %s", code, stderr)
	}

	folder := t.TempDir()
	empty := filepath.Join(folder, "empty.db")
	if err := os.WriteFile(empty, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	foreign := filepath.Join(folder, "foreign.db")
	db, err := sql.Open("sqlite", foreign)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(`CREATE TABLE recipes (name TEXT)`); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	for path, says := range map[string]string{empty: "empty", foreign: "no tables of ours"} {
		code, _, stderr := runHere(t, "verify", path)
		if code == exitDone || !strings.Contains(stderr, says) {
			t.Errorf("%s: exit %d, %s", filepath.Base(path), code, stderr)
		}
	}
}
