package meet_test

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/journal"
)

var update = flag.Bool("update", false, "write golden logs that are not there yet; those that are there stay")

// goldenDays are the told days whose logs were kept as they were once written.
var goldenDays = []string{
	"whole_day", "wrong_car", "waiting_runs", "withdrawals", "protests", "pause", "late", "benches", "draw_again",
	"reruns", "reinstated", "asked", "replanned", "ended_early", "let_stand", "round_robin", "swiss", "double_elimination", "groups",
	"measured_again",
	"batteries", "inspection", "packs_dealt", "inspection_siblings", "pack_put_back",
	"factors", "close_decider", "bench_asks",
	"outcomes_rounds", "outcomes_pairs", "outcomes_legs", "outcomes_table",
	"bench_dies_short", "bench_dies_redraw", "hand_corrected",
}

// TestGoldenLogs opens logs that an earlier program wrote: each line is the
// canonical bytes of an envelope. Old logs open for ever, so never edit or
// replace one: where an event changes, raise its version, lift the old form in
// before.go, and add a log of the new form. Only NAME.state, the hash of the folded
// state, may be written anew (remove it, then -update), when the state itself
// has got another form.
func TestGoldenLogs(t *testing.T) {
	newest := map[string]int{} // the version of each event
	for _, name := range goldenDays {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join("testdata", "golden", name)
			if *update {
				writeGolden(t, name, path)
			}
			text, err := os.ReadFile(path + ".jsonl")
			if err != nil {
				t.Fatal(err)
			}
			log := goldenLog(t, text)
			for _, r := range log {
				e, err := r.Open()
				if err != nil {
					t.Fatal(err)
				}
				newest[e.Type] = max(newest[e.Type], e.V)
			}
			if *update {
				create(t, path+".state", []byte(sums(t, log)))
			}
			want, err := os.ReadFile(path + ".state")
			if err != nil {
				t.Fatal(err)
			}
			if got := sums(t, log); got != string(want) {
				t.Errorf("got\n%swant\n%s", got, want)
			}
		})
	}
	for _, kind := range day.Types() {
		if newest[kind] != day.VersionOf(kind) {
			t.Errorf("no golden log has the event %s in version %d", kind, day.VersionOf(kind))
		}
	}
}

// goldenLog chains the lines of a golden log.
func goldenLog(t *testing.T, text []byte) []journal.Record {
	t.Helper()
	var log []journal.Record
	var head journal.Head
	for line := range bytes.Lines(text) {
		line = bytes.TrimSuffix(line, []byte("\n"))
		hash := journal.Hash(sha256.Sum256(slices.Concat(head.Hash[:], line)))
		log = append(log, journal.Record{Seq: head.Seq + 1, Bytes: line, Hash: hash})
		head = log[len(log)-1].Head()
	}
	return log
}

// sums are the hashes of a log's head and of the state that it folds to.
func sums(t *testing.T, log []journal.Record) string {
	t.Helper()
	return fmt.Sprintf("head %s\nstate %x\n", log[len(log)-1].Hash, sha256.Sum256(stateJSON(t, refold(t, log))))
}

func writeGolden(t *testing.T, name, path string) {
	t.Helper()
	var text strings.Builder
	for _, r := range play(t, filepath.Join("testdata", "day", name+".txt")).log {
		text.Write(r.Bytes)
		text.WriteByte('\n')
	}
	create(t, path+".jsonl", []byte(text.String()))
}

// create writes a file that is not there and leaves one that is.
func create(t *testing.T, path string, text []byte) {
	t.Helper()
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.Write(text); err != nil {
		t.Fatal(err)
	}
}
