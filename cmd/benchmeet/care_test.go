package main

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/archive"
	"benchmeet/api/auth"
	"benchmeet/api/ledger"
	"benchmeet/api/rehearsal"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// playedServer is a server in which a small meet was played, with its data
// folder.
func playedServer(t *testing.T, database string) (*server, string) {
	t.Helper()
	data := filepath.Join(t.TempDir(), "data")
	s, err := startServer(t.Context(), serverOptions{
		Listen: "127.0.0.1:0", Data: data, Database: database, Scale: 1000,
		Club: store.Club{ID: homeClub, Name: "Harbour Hall"},
	})
	if err != nil {
		t.Fatal(err)
	}
	secret, _, err := s.tokens.Make(t.Context(), auth.Wish{Club: homeClub, Role: auth.Organiser, Label: "test"})
	if err == nil {
		err = rehearsal.New(rehearsal.Options{Base: s.url(), Token: secret, Plan: rehearsal.MakePlan(7, 6, 2)}).Play(t.Context())
	}
	if err != nil {
		_ = s.Close()
		t.Fatal(err)
	}
	return s, data
}

// somebody gives a child of the played meet a name that nobody else has.
func somebody(t *testing.T, s *server) store.Person {
	t.Helper()
	people, err := s.store.AllPeople(t.Context(), homeClub)
	if err != nil || len(people) == 0 {
		t.Fatalf("the meet has %d people, %v", len(people), err)
	}
	p := people[0]
	p.Name, p.DisplayName = "Wilhelmina Seegras", "Seegras-Queller"
	_, err = s.clubs.Do(t.Context(), store.ClubStream(homeClub), ledger.Order[club.Command]{
		ID: "rename", Actor: "test", Command: club.KeepPerson{Person: day.EntrantID(p.ID)}, People: []store.Person{p},
	})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func closed(t *testing.T, s *server) {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// ordered runs a command line that must end with a code, and decodes what it
// prints.
func ordered(t *testing.T, want int, into any, args ...string) (stderr string) {
	t.Helper()
	code, stdout, stderr := runHere(t, args...)
	if code != want {
		t.Fatalf("%v: exit %d, want %d; said %q", args, code, want, stderr)
	}
	if into != nil {
		if err := json.Unmarshal([]byte(stdout), into); err != nil {
			t.Fatalf("%v printed %q: %v", args, stdout, err)
		}
	}
	return stderr
}

// contains fails unless a text holds every word.
func contains(t *testing.T, text string, words ...string) {
	t.Helper()
	for _, w := range words {
		if !strings.Contains(text, w) {
			t.Errorf("%q does not hold %q", text, w)
		}
	}
}

// Checking, exporting and copying work beside a server that has the file open;
// what would change the file is refused and names the server.
func TestCareBesideARunningServer(t *testing.T) {
	s, data := playedServer(t, "")
	defer s.Close()
	folder := t.TempDir()
	exported, copied := filepath.Join(folder, "all.benchmeet"), filepath.Join(folder, "copy.db")

	var live, file, restored archive.Report
	ordered(t, exitDone, &live, "verify", "--data", data)
	if live.RunsChecked < 10 || live.RunsMeasured != live.RunsChecked || len(live.Streams) != 2 {
		t.Errorf("the check looked at %+v", live)
	}
	var manifest archive.Manifest
	said := ordered(t, exitDone, &manifest, "export", exported, "--data", data, "--keep-days", "7")
	expires := time.Now().UTC().AddDate(0, 0, 7).Format(time.DateOnly)
	contains(t, said, expires, fmt.Sprintf("%d people", manifest.Counts.People))
	ordered(t, exitDone, &file, "verify", exported)
	if diff := cmp.Diff(live, file); diff != "" {
		t.Errorf("verify of the export (-database +export):\n%s", diff)
	}
	var note backupNote
	contains(t, ordered(t, exitDone, &note, "backup", copied, "--data", data), "copy.db.json", "Delete it by")
	ordered(t, exitDone, &restored, "verify", copied)
	if diff := cmp.Diff(live, restored); diff != "" {
		t.Errorf("verify of the backup (-database +backup):\n%s", diff)
	}
	var status migrateOutput
	ordered(t, exitDone, &status, "migrate", "--status", "--data", data)
	if !status.UpToDate || status.Version == 0 || status.Before != nil {
		t.Errorf("migrate --status says %+v", status)
	}

	server := fmt.Sprintf("process %d", os.Getpid())
	contains(t, ordered(t, exitRefused, nil, "erase", "p-1", "--data", data), server, "DELETE /api/v1/people/p-1")
	contains(t, ordered(t, exitRefused, nil, "import", exported, "--data", data), server, "Stop the server")
	contains(t, ordered(t, exitRefused, nil, "migrate", "--data", data), server)
}

// On both stores, a meet goes out and into a SQLite file of its own and is the
// same there; then a server runs on it.
func TestExportAndImportByCommand(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		s, data := playedServer(t, database)
		closed(t, s)
		folder := t.TempDir()
		file, other := filepath.Join(folder, "all.benchmeet"), filepath.Join(folder, "data")
		from := []string{"--data", data, "--database", database}
		var before, after archive.Report
		ordered(t, exitDone, &before, append(from, "verify")...)
		ordered(t, exitDone, nil, append(from, "export", file)...)
		var done []archive.Imported
		ordered(t, exitDone, &done, "import", file, "--data", other)
		if len(done) != 1 || done[0].PeopleAdded == 0 || done[0].ChunksAdded == 0 {
			t.Errorf("imported %+v", done)
		}
		ordered(t, exitDone, &after, "verify", "--data", other)
		if diff := cmp.Diff(before, after); diff != "" {
			t.Errorf("verify (-first +imported):\n%s", diff)
		}
		ordered(t, exitRefused, nil, append(from, "export", file)...) // it is there
		again, err := startServer(t.Context(), serverOptions{
			Listen: "127.0.0.1:0", Data: other, Scale: 1, Club: store.Club{ID: homeClub, Name: "Another name"},
		})
		if err != nil {
			t.Fatal(err)
		}
		closed(t, again)
		ordered(t, exitDone, &after, "verify", "--data", other)
		if diff := cmp.Diff(before, after); diff != "" {
			t.Errorf("verify after a server ran (-first +then):\n%s", diff)
		}
	})
}

func TestVerifyNamesWhatIsWrong(t *testing.T) {
	s, data := playedServer(t, "")
	closed(t, s)
	var report archive.Report
	ordered(t, exitDone, &report, "verify", "--data", data)
	head := report.Streams[1].Head
	ordered(t, exitDone, &report, "verify", "--data", data, "--hash", head)
	if report.Found == nil || report.Found.Stream != report.Streams[1].Stream || report.Found.Seq != report.Streams[1].Events {
		t.Errorf("the head was found at %+v", report.Found)
	}
	contains(
		t, ordered(t, exitRefused, &report, "verify", "--data", data, "--hash", strings.Repeat("0a", 32)), "1 problems", "none of the logs",
	)
	contains(t, ordered(t, exitUsage, nil, "verify", "--data", data, "--hash", "0a"), "--hash", "64")
	contains(t, ordered(t, exitUsage, nil, "verify", "--data", filepath.Join(data, "elsewhere")), "there is no database in", "--data")
	contains(t, ordered(t, exitUsage, nil, "verify", filepath.Join(data, "nothing")), "cannot read the file")
	text := filepath.Join(data, "text")
	write(t, text, "no archive")
	contains(t, ordered(t, exitUsage, nil, "verify", text), "this is no archive")
	if _, err := os.Stat(filepath.Join(data, "elsewhere")); err == nil {
		t.Error("looking for a database made a folder")
	}
}

// A file that was to be deleted is imported with a word about it, and so is one
// of a club that this server does not show.
func TestImportSaysWhatIsUnusual(t *testing.T) {
	s, data := playedServer(t, "")
	closed(t, s)
	file := filepath.Join(t.TempDir(), "old.benchmeet")
	from, err := place{Data: data}.openToRead(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer from.Close()
	made := time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(-10, 0, 0)
	err = createFile(file, func(w io.Writer) error {
		_, err := archive.Export(t.Context(), from, archive.Choice{
			Club: store.Club{ID: homeClub}, Made: made, Expires: made.AddDate(0, 0, 30),
		}, w)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	contains(t, ordered(t, exitDone, nil, "import", file, "--data", filepath.Join(t.TempDir(), "data")), "was to be deleted on 2017-01-31")
	golden := filepath.Join("..", "..", "api", "archive", "testdata", "spring-1.benchmeet")
	contains(t, ordered(t, exitDone, nil, "import", golden, "--data", data), "harbour", homeClub)
	contains(t, ordered(t, exitRefused, nil, "erase", "p-2", "--data", data), "--club", "harbour, home")
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestBackupRefused(t *testing.T) {
	s, data := playedServer(t, "")
	closed(t, s)
	there := filepath.Join(t.TempDir(), "there.db")
	write(t, there, "something")
	contains(t, ordered(t, exitRefused, nil, "backup", there, "--data", data), "is there already")
	if _, err := os.Stat(there + ".json"); err == nil {
		t.Error("a backup that was refused left its note")
	}
	if text, err := os.ReadFile(there); err != nil || string(text) != "something" {
		t.Errorf("the file that was there is %q now (%v)", text, err)
	}
	contains(t, ordered(t, exitRefused, nil, "backup", "x.db", "--database", "postgres://nowhere/none"), "pg_dump")
	contains(t, ordered(t, exitUsage, nil, "backup", "x.db", "--data", t.TempDir()), "there is no database in")
	contains(t, ordered(t, exitUsage, nil, "backup", "x.db", "--keep-days", "0"), "--keep-days")
	contains(t, ordered(t, exitUsage, nil, "backup"), "help backup")
}

func TestEraseByCommand(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		s, data := playedServer(t, database)
		gone := somebody(t, s)
		closed(t, s)
		if database == "" {
			ordered(t, exitDone, nil, "backup", filepath.Join(data, "before.db"), "--data", data)
		}
		at := []string{"--data", data, "--database", database}
		contains(t, ordered(t, exitRefused, nil, append(at, "erase", "nobody")...), "nobody", "--note")
		contains(t, ordered(t, exitRefused, nil, append(at, "erase", "p 1")...), "p 1")
		contains(t, ordered(t, exitRefused, nil, append(at, "erase", gone.ID, "--club", "quay")...), "no club quay", homeClub)
		var out eraseOutput
		said := ordered(t, exitDone, &out, append(at, "erase", gone.ID)...)
		contains(t, said, "Backups and exports")
		switch {
		case database != "":
			contains(t, said, "write-ahead log")
		case len(out.StillIn) != 1 || filepath.Base(out.StillIn[0].File) != "before.db":
			t.Errorf("the copies that hold the name are %v", out.StillIn)
		}
		var again eraseOutput
		ordered(t, exitDone, &again, append(at, "erase", gone.ID)...)
		if again.Seq != out.Seq {
			t.Errorf("erasing again wrote an event: %d after %d", again.Seq, out.Seq)
		}
		ordered(t, exitDone, nil, append(at, "erase", "later-1", "--note")...)
		var report archive.Report
		ordered(t, exitDone, &report, append(at, "verify")...)
		db, err := openStore(t.Context(), database, data)
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		if _, err := db.Person(t.Context(), homeClub, gone.ID); err == nil {
			t.Error("the person is there")
		}
		erasures, err := db.Erasures(t.Context(), homeClub)
		if err != nil || len(erasures) != 2 {
			t.Errorf("erasures %v, %v", erasures, err)
		}
	})
}

// A backup from before an erasure, imported where the erasure is known, does not
// bring the name back.
func TestRestoredBackupErasesAgain(t *testing.T) {
	s, data := playedServer(t, "")
	gone := somebody(t, s)
	closed(t, s)
	copied := filepath.Join(t.TempDir(), "before.db")
	ordered(t, exitDone, nil, "backup", copied, "--data", data)
	ordered(t, exitDone, nil, "erase", gone.ID, "--data", data)
	fresh := filepath.Join(t.TempDir(), "fresh")
	latest := filepath.Join(t.TempDir(), "latest.benchmeet")
	ordered(t, exitDone, nil, "export", latest, "--data", data)
	ordered(t, exitDone, nil, "import", copied, "--data", fresh)
	var done []archive.Imported
	ordered(t, exitDone, &done, "import", latest, "--data", fresh)
	if done[0].Erased != 1 {
		t.Errorf("imported %+v, want one person erased", done)
	}
	ordered(t, exitDone, &done, "import", copied, "--data", fresh)
	if done[0].LeftOut != 1 || done[0].PeopleAdded != 0 {
		t.Errorf("the backup again: %+v, want one person left out", done)
	}
	if found := search(t, fresh, gone.Name); found != nil {
		t.Errorf("the erased name is in %v", found)
	}
}

// After an erasure the name is in no file of the data folder, looked at
// decompressed: not in the database, not in a backup made then, not in an export
// without people that was made before.
func TestErasedNameIsNowhereInTheDataFolder(t *testing.T) {
	s, data := playedServer(t, "")
	gone := somebody(t, s)
	words := []string{gone.Name, gone.DisplayName}
	with, without := filepath.Join(data, "with.benchmeet"), filepath.Join(data, "without.benchmeet")
	ordered(t, exitDone, nil, "export", with, "--data", data)
	ordered(t, exitDone, nil, "export", without, "--data", data, "--without-people")
	closed(t, s)
	for _, w := range words {
		found := strings.Join(search(t, data, w), " ")
		contains(t, found, databaseFile, "with.benchmeet: people.ndjson") // otherwise this would prove nothing
	}
	if err := os.Remove(with); err != nil {
		t.Fatal(err)
	}
	ordered(t, exitDone, nil, "erase", gone.ID, "--data", data)
	ordered(t, exitDone, nil, "backup", filepath.Join(data, "after.db"), "--data", data)
	ordered(t, exitDone, nil, "export", filepath.Join(data, "after.benchmeet"), "--data", data)
	for _, w := range words {
		if found := search(t, data, w); found != nil {
			t.Errorf("%q is in %v", w, found)
		}
	}
}

// search lists the files of a folder that hold a word, also inside zip and gzip.
func search(t *testing.T, folder, word string) (found []string) {
	t.Helper()
	err := filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for name, plain := range unpacked(t, content) {
			if bytes.Contains(plain, []byte(word)) {
				found = append(found, strings.TrimSuffix(filepath.Base(path)+": "+name, ": "))
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// unpacked is a content as it is, under the name "", and what it holds packed.
func unpacked(t *testing.T, content []byte) map[string][]byte {
	t.Helper()
	out := map[string][]byte{"": content}
	read := func(name string, from io.Reader) {
		plain, err := io.ReadAll(from)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = plain
	}
	if zipped, err := gzip.NewReader(bytes.NewReader(content)); err == nil {
		read("gzip", zipped)
	}
	if z, err := zip.NewReader(bytes.NewReader(content), int64(len(content))); err == nil {
		for _, f := range z.File {
			from, err := f.Open()
			if err != nil {
				t.Fatal(err)
			}
			read(f.Name, from)
		}
	}
	return out
}

func TestMigrate(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		s, data := playedServer(t, database)
		closed(t, s)
		var out migrateOutput
		ordered(t, exitDone, &out, "migrate", "--data", data, "--database", database)
		if out.Before == nil || *out.Before != out.Newest || !out.UpToDate {
			t.Errorf("migrate says %+v", out)
		}
	})
	contains(t, ordered(t, exitUsage, nil, "migrate", "--data", t.TempDir()), "there is no database in")
	t.Run("an empty PostgreSQL database", func(t *testing.T) {
		databases(t, func(t *testing.T, database string) {
			if database == "" {
				return
			}
			var out migrateOutput
			ordered(t, exitDone, &out, "migrate", "--status", "--database", database)
			if out.Version != 0 || out.UpToDate {
				t.Errorf("the status of an empty database is %+v", out)
			}
			contains(t, ordered(t, exitUsage, nil, "verify", "--database", database), "no tables of ours")
			ordered(t, exitDone, &out, "migrate", "--database", database)
			if *out.Before != 0 || !out.UpToDate {
				t.Errorf("migrate says %+v", out)
			}
		})
	})
}
