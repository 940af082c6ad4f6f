package node

import (
	"log/slog"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// FuzzOpenRun: whatever stands in the spool as the run that was under way, a node that
// starts says that it cannot read it, or goes on.
func FuzzOpenRun(f *testing.F) {
	for _, seed := range []string{
		`{}`, `null`, `[]`, ``, `{"chunk":0}`, `{"chunk":-1,"open":{"run":"r1","boot":"00000000000000aa","number":3}}`, "\x00",
		`{"chunk":9007199254740993,"open":{}}`,
	} {
		f.Add([]byte(seed))
	}
	folder := f.TempDir()
	f.Fuzz(func(t *testing.T, text []byte) {
		if err := os.WriteFile(filepath.Join(folder, openFile), text, 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := OpenSpool(folder)
		if err != nil {
			return
		}
		r := newRuns(1, slog.New(slog.DiscardHandler), func([]byte, *openRun) error { return nil })
		r.resume(s.Open(), time.Now())
		if err := r.cut(time.Now().Add(time.Hour)); err != nil {
			t.Error(err)
		}
	})
}
