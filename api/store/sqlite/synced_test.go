package sqlite_test

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/domain/trace"
)

// syncedWriterPath names the variable that makes this test program write to a
// store, telling before and after each write on standard output.
const syncedWriterPath = "BENCHMEET_TEST_SYNCED_WRITER"

// syncedWrites is how many writes the helper does.
const syncedWrites = 12

func syncedWriter(path string) {
	ctx := context.Background()
	check := func(err error) {
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
	s, err := sqlite.Open(ctx, path)
	check(err)
	check(s.EnsureClub(ctx, store.Club{ID: "harbour"}))
	for n := range syncedWrites {
		_, _ = os.Stdout.WriteString(fmt.Sprintf("begin %d\n", n))
		if n%2 == 0 {
			check(s.Write(ctx, store.ClubStream("harbour"), func(tx store.Tx) error {
				return tx.Remember(ctx, []store.Answer{{Command: fmt.Sprint(n), Body: []byte("{}")}})
			}))
		} else {
			_, err := s.PutChunk(ctx, "harbour", trace.Stored{Key: trace.Key{Bench: "b1", Number: n}, Packed: []byte{1}})
			check(err)
		}
		_, _ = os.Stdout.WriteString(fmt.Sprintf("end %d\n", n))
	}
	check(s.Close())
}

// A trace of the system calls shows that no write returns before the log was
// written and a sync of it was completed.
func TestWriteReturnsAfterTheSync(t *testing.T) {
	strace, err := exec.LookPath("strace")
	if err != nil {
		if os.Getenv("BENCHMEET_TEST_ALL") == "1" {
			t.Fatal("strace is not installed; install it (apt-get install strace)")
		}
		t.Skip("strace is not installed; BENCHMEET_TEST_ALL=1 makes this a failure")
	}
	folder := t.TempDir()
	calls := filepath.Join(folder, "calls")
	run := exec.CommandContext(t.Context(), strace, "-f", "-y", "-o", calls,
		"-e", "trace=write,pwrite64,pwritev,writev,fsync,fdatasync,sync_file_range", os.Args[0])
	run.Env = append(os.Environ(), syncedWriterPath+"="+filepath.Join(folder, "meet.db"))
	if out, err := run.CombinedOutput(); err != nil {
		t.Fatalf("the traced program failed: %v\n%s", err, out)
	}
	text, err := os.ReadFile(calls)
	must(t, err)
	ends := checkSyncs(t, string(text))
	if ends != syncedWrites {
		t.Errorf("the trace shows %d writes, want %d:\n%s", ends, syncedWrites, text)
	}
}

var (
	told       = regexp.MustCompile(`write\(1<.*"(begin|end) \d+`)
	logWrite   = regexp.MustCompile(`pwrite64\(\d+<[^>]*-wal>`)
	logSync    = regexp.MustCompile(`(?:fsync|fdatasync)\(\d+<[^>]*-wal>`)
	unfinished = regexp.MustCompile(`<unfinished \.\.\.>$`)
	resumed    = regexp.MustCompile(`^(\d+) +<\.\.\. (?:fsync|fdatasync) resumed>.*= 0$`)
)

// checkSyncs walks through a trace and returns how many writes ended in it.
func checkSyncs(t *testing.T, calls string) (ends int) {
	t.Helper()
	written, synced := false, false
	pending := make(map[string]bool) // threads in a sync of the log
	for line := range strings.Lines(calls) {
		line = strings.TrimRight(line, "\n")
		thread, _, _ := strings.Cut(line, " ")
		switch m := told.FindStringSubmatch(line); {
		case m != nil && m[1] == "begin":
			written, synced = false, false
		case m != nil:
			ends++
			if !written || !synced {
				t.Errorf("a write returned with the log written: %v, synced after that: %v", written, synced)
			}
		case logWrite.MatchString(line):
			written, synced = true, false
		case logSync.MatchString(line) && unfinished.MatchString(line):
			pending[thread] = written
		case logSync.MatchString(line) && strings.HasSuffix(line, "= 0"):
			synced = written
		case resumed.MatchString(line):
			synced = synced || pending[thread]
			delete(pending, thread)
		}
	}
	return ends
}
