package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/store"
	"benchmeet/api/store/postgres/pgtest"
)

// asScript runs one of the scripts of deploy/server with this program.
func asScript(t *testing.T, env []string, script string, args ...string) (string, error) {
	t.Helper()
	cmd := exec.CommandContext(context.Background(), filepath.Join("../../deploy/server", script), args...)
	cmd.Env = append(os.Environ(), append([]string{asProgram + "=1", "BENCHMEET=" + os.Args[0]}, env...)...)
	out, err := cmd.CombinedOutput()
	return string(out), err
}

// TestTheRestoreDrill: a copy is made beside a running server, somebody is erased, and the
// copy is restored with the export that came later: whoever was erased is in none of the
// files that were restored. A copy that is damaged is not called good.
func TestTheRestoreDrill(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		s, data := playedServer(t, database)
		who := somebody(t, s)
		folder := filepath.Join(t.TempDir(), "copies")
		env := []string{"BENCHMEET_DATA=" + data, "BENCHMEET_DATABASE=" + database, "BENCHMEET_BACKUPS=" + folder}
		first := copied(t, env, folder)
		if found := search(t, folder, who.Name); found == nil {
			t.Fatal("the name is in no copy before the erasure: this test would prove nothing")
		}
		kept := filepath.Join(t.TempDir(), "kept"+filepath.Ext(first))
		move(t, first, kept)
		closed(t, s)
		ordered(t, exitDone, nil, "erase", who.ID, "--data", data, "--database", database)
		time.Sleep(time.Second) // copies are named by it
		copied(t, env, folder)
		later, err := filepath.Glob(filepath.Join(folder, "later-*.benchmeet"))
		if err != nil || len(later) != 1 {
			t.Fatalf("of exports one is kept, and there are %v %v", later, err)
		}
		restored := filepath.Join(t.TempDir(), "restored")
		if out, err := asScript(t, []string{"KEEP=" + restored}, "restore-drill.sh", kept, later[0]); err != nil ||
			!strings.Contains(out, "The copy can be restored") {
			t.Fatalf("%v\n%s", err, out)
		}
		if found := search(t, restored, who.Name); found != nil {
			t.Errorf("the erased name is in %v", found)
		}
		if err := os.WriteFile(kept, []byte("not a copy"), 0o600); err != nil {
			t.Fatal(err)
		}
		if out, err := asScript(t, nil, "restore-drill.sh", kept); err == nil || strings.Contains(out, "can be restored") {
			t.Errorf("a damaged copy: %v\n%s", err, out)
		}
	})
}

// TestCopiesOfSeveralClubs: the script copies all clubs of a server, each with the export that
// came later.
func TestCopiesOfSeveralClubs(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		s, data := playedServer(t, database)
		must(t, s.store.EnsureClub(t.Context(), store.Club{ID: "pier", Name: "Pier Hall"}))
		w := &wired{t: t, server: s, tokens: map[auth.Role]string{}}
		w.giveKeys("pier")
		w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":94.25}`)
		closed(t, s)
		for _, short := range []string{"pier", "mole"} { // the second has not begun, and hinders nobody
			ordered(t, exitDone, nil, "club", "invite", "Pier Hall", "--short", short, "--data", data, "--database", database)
		}
		folder := filepath.Join(t.TempDir(), "copies")
		env := []string{"BENCHMEET_DATA=" + data, "BENCHMEET_DATABASE=" + database, "BENCHMEET_BACKUPS=" + folder}
		out, err := asScript(t, env, "backup.sh")
		later, _ := filepath.Glob(filepath.Join(folder, "later-*-pier.benchmeet"))
		all, _ := filepath.Glob(filepath.Join(folder, "later-*.benchmeet"))
		copies, _ := filepath.Glob(filepath.Join(folder, "copy-*-pier.benchmeet"))
		if err != nil || len(later) != 1 || len(all) != 2 || len(copies) != map[bool]int{true: 1}[isPostgres(database)] {
			t.Fatalf("%v: later %v of %v, copies of the club alone %v\n%s", err, later, all, copies, out)
		}
	})
}

// TestAMeetMovesToPostgreSQLAndBack with its log to the byte, its runs and its people.
func TestAMeetMovesToPostgreSQLAndBack(t *testing.T) {
	s, data := playedServer(t, "")
	closed(t, s)
	folder := t.TempDir()
	there, back := filepath.Join(folder, "there.benchmeet"), filepath.Join(folder, "back.benchmeet")
	database, again := pgtest.Database(t), filepath.Join(folder, "again")
	ordered(t, exitDone, nil, "export", there, "--data", data)
	ordered(t, exitDone, nil, "import", there, "--database", database)
	ordered(t, exitDone, nil, "export", back, "--database", database)
	ordered(t, exitDone, nil, "import", back, "--data", again)
	var before string
	for i, at := range [][]string{{"--data", data}, {"--database", database}, {"--data", again}} {
		code, out, said := runHere(t, append([]string{"verify"}, at...)...)
		if code != exitDone || !strings.Contains(out, `"state"`) {
			t.Fatalf("%v: %d %s %s", at, code, out, said)
		}
		if i == 0 {
			before = out
		} else if out != before {
			t.Errorf("move %d: %s, and before %s", i, out, before)
		}
	}
}

// copied makes a copy by the script, and finds it.
func copied(t *testing.T, env []string, folder string) string {
	t.Helper()
	if out, err := asScript(t, env, "backup.sh"); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	copies, err := filepath.Glob(filepath.Join(folder, "copy-*"))
	copies = slices.DeleteFunc(copies, func(path string) bool { return strings.HasSuffix(path, ".json") })
	if err != nil || len(copies) != 1 {
		t.Fatalf("%v %v", copies, err)
	}
	return copies[0]
}

// move brings a file and the note beside it elsewhere.
func move(t *testing.T, from, to string) {
	t.Helper()
	for _, end := range []string{"", ".json"} {
		if err := os.Rename(from+end, to+end); err != nil {
			t.Fatal(err)
		}
	}
}
