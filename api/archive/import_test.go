package archive_test

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/archive"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/trace"
)

// edited writes an archive anew with some of its files changed; nil leaves a file
// out.
func edited(t *testing.T, file []byte, change func(name string, text []byte) []byte) []byte {
	t.Helper()
	from, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	must(t, err)
	var out bytes.Buffer
	to := zip.NewWriter(&out)
	for _, f := range from.File {
		r, err := f.Open()
		must(t, err)
		text, err := io.ReadAll(r)
		must(t, err)
		if text = change(f.Name, text); text == nil {
			continue
		}
		w, err := to.Create(f.Name)
		must(t, err)
		_, err = w.Write(text)
		must(t, err)
	}
	must(t, to.Close())
	return out.Bytes()
}

// replace changes one text in one file.
func replace(file, from, to string) func(string, []byte) []byte {
	return func(name string, text []byte) []byte {
		if name != file {
			return text
		}
		return []byte(strings.Replace(string(text), from, to, 1))
	}
}

// without leaves one file out.
func without(file string) func(string, []byte) []byte {
	return func(name string, text []byte) []byte {
		if name == file {
			return nil
		}
		return text
	}
}

const springFile = "streams/meet/spring.ndjson"

// A file that is not as it was made is refused with a sentence, and the database
// stays empty.
func TestImportRefusesAChangedArchive(t *testing.T) {
	source, _ := newSQLite(t)
	newDay(t, source).play()
	_, file := exported(t, source, everything())
	lastLine := func(name string, text []byte) []byte {
		if name != springFile {
			return text
		}
		lines := bytes.SplitAfter(text, []byte("\n"))
		return bytes.Join(lines[:len(lines)-2], nil)
	}
	before := contentOf(t, source).Records["meet/spring"]
	shorter := func(name string, text []byte) []byte {
		if name != "manifest.json" {
			return text
		}
		var m archive.Manifest
		must(t, json.Unmarshal(text, &m))
		m.Counts.Events--
		m.Streams[1].Events--
		m.Streams[1].Head = before[len(before)-2].Hash.String()
		text, err := json.Marshal(m)
		must(t, err)
		return text
	}
	for _, c := range []struct {
		name   string
		change func(string, []byte) []byte
		kind   error
		says   string
	}{
		{"a changed event", replace(springFile, "Harbour Hall", "Harbour Barn"), archive.ErrRefused, "the hash chain is broken at record 1"},
		{"the last event left out", lastLine, archive.ErrRefused, "is listed with"},
		{"a record twice", replace(springFile, `{"seq":2,`, `{"seq":1,`), archive.ErrRefused, "record 1 follows record 1"},
		{"a line that is no record", replace(springFile, `{"seq":2,`, `{"sequence":2,`), archive.ErrUnreadable, "sequence"},
		{"more events than the manifest says", shorter, archive.ErrUnreadable, "goes on after record"},
		{
			"counts that do not add up", replace("manifest.json", `"events": `, `"events": 1`), archive.ErrUnreadable, "events and its streams have",
		},
		{"a later format", replace("manifest.json", `"version": 2`, `"version": 3`), archive.ErrRefused, "use the newer program"},
		{"another format", replace("manifest.json", `benchmeet-archive`, `other`), archive.ErrUnreadable, "no archive of this program"},
		{
			"a field of a later program", replace("manifest.json", `"people": true`, `"people": true, "photos": true`), archive.ErrUnreadable,
			"photos",
		},
		{"a stream of another club", replace("manifest.json", `"harbour/club"`, `"quay/club"`), archive.ErrUnreadable, "quay/club"},
		{"no manifest", without("manifest.json"), archive.ErrUnreadable, "lacks manifest.json"},
		{"no log", without(springFile), archive.ErrUnreadable, "lacks the stream"},
		{"no erasures", without("erasures.ndjson"), archive.ErrUnreadable, "lacks erasures.ndjson"},
		{"a trace left out", without("traces/b2/" + boot + "/stray.ndjson"), archive.ErrUnreadable, "runs, its manifest says"},
		{"a chunk that is none", replace("traces/b2/"+boot+"/stray.ndjson", `"packed":"`, `"packed":"*`), archive.ErrUnreadable, "stray"},
		{"a person left out", replace("people.ndjson", "\n", ""), archive.ErrUnreadable, "people.ndjson"},
	} {
		t.Run(c.name, func(t *testing.T) {
			target, _ := newSQLite(t)
			changed := edited(t, file, c.change)
			if bytes.Equal(changed, file) {
				t.Fatal("the change changed nothing")
			}
			r, err := archive.NewReader(bytes.NewReader(changed), int64(len(changed)))
			if err == nil {
				_, err = archive.Import(t.Context(), r, target)
			}
			if !errors.Is(err, c.kind) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want one that is %q with %q", err, c.kind, c.says)
			}
			clubs, err := target.Clubs(t.Context())
			if err != nil || len(clubs) != 0 {
				t.Errorf("the database holds %v after a refusal (%v)", clubs, err)
			}
		})
	}
}

// What does not fit what the database has is refused, and the database is as it
// was.
func TestImportRefusesAnotherHistory(t *testing.T) {
	source, _ := newSQLite(t)
	newDay(t, source).play()
	from, _ := exported(t, source, everything())
	for _, c := range []struct {
		name string
		make func(*playedDay)
		says string
	}{
		{
			"another log", func(d *playedDay) { d.club(club.RegisterCar{Car: club.Car{ID: "c-9", Number: 9}}) },
			"stream harbour/club is in the database with another history",
		},
		{"another log that is longer", func(d *playedDay) {
			for n := 1; n < 60; n++ {
				d.club(club.RegisterCar{Car: club.Car{ID: "c-9", Number: n}})
			}
		}, "stream harbour/club is in the database with another history"},
		{"another meet of that name", func(d *playedDay) {
			d.meet(meet.PlanMeet{Plan: day.Plan{Name: "Another", Date: "2027-03-06"}, Rules: day.UsualRules()})
		}, "stream harbour/meet/spring is in the database with another history"},
		{"another trace", func(d *playedDay) {
			c := trace.Chunk{Key: trace.Key{Bench: "b2", Boot: boot, Run: "stray"}, Stamps: []int64{1}}
			_, err := d.db.PutChunk(d.t.Context(), harbour, c.Pack())
			must(d.t, err)
		}, "chunk 0 of run stray of bench b2 is in the database with another content"},
		{"another text", func(d *playedDay) {
			must(d.t, d.db.Write(d.t.Context(), store.ClubStream(harbour), func(tx store.Tx) error {
				return tx.PutText(d.t.Context(), store.Text{ID: "t-1", Text: "Another."})
			}))
		}, "text t-1 is in the database with another content"},
	} {
		t.Run(c.name, func(t *testing.T) {
			target, _ := newSQLite(t)
			c.make(newDay(t, target))
			before := contentOf(t, target)
			_, err := archive.Import(t.Context(), from, target)
			if !errors.Is(err, archive.ErrRefused) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want a refusal with %q", err, c.says)
			}
			wantSame(t, "the database after the refusal", before, contentOf(t, target))
		})
	}
}

// broke is a store that fails after some writes.
type broke struct {
	store.Store
	left int
}

var errDrive = errors.New("the drive is full")

func (b *broke) Write(ctx context.Context, s store.Stream, fn func(store.Tx) error) error {
	if b.left--; b.left < 0 {
		return errDrive
	}
	return b.Store.Write(ctx, s, fn)
}

// An import that stopped half-way left whole streams or nothing of them, and is
// finished by importing again.
func TestImportAgainFinishesWhatStopped(t *testing.T) {
	source, _ := newSQLite(t)
	newDay(t, source).play()
	from, _ := exported(t, source, everything())
	target, _ := newSQLite(t)
	for left := range 3 {
		if _, err := archive.Import(t.Context(), from, &broke{target, left}); !errors.Is(err, errDrive) {
			t.Fatalf("after %d writes: error %v", left, err)
		}
		if problems := verified(t, target).Problems; len(problems) != 0 {
			t.Errorf("after %d writes the database holds what is wrong: %v", left, problems)
		}
	}
	_, err := archive.Import(t.Context(), from, target)
	must(t, err)
	wantSame(t, "the target", contentOf(t, source), contentOf(t, target))
}

// Of a person who is there, the database keeps its own row, but a consent holds
// only where both have it.
func TestImportKeepsPeopleAndWithdrawsConsent(t *testing.T) {
	source, _ := newSQLite(t)
	newDay(t, source).play()
	from, _ := exported(t, source, everything())
	target, _ := newSQLite(t)
	d := newDay(t, target)
	there := []store.Person{
		{ID: "p-1", DisplayName: "Sea Otter", OnScreen: true, InResults: true, Photo: true},
		{ID: "p-3", DisplayName: "Curlew", BirthDate: "2017-11-30", OnScreen: true},
		{ID: "p-9", DisplayName: "Gull"},
	}
	must(t, d.db.Write(t.Context(), store.ClubStream(harbour), func(tx store.Tx) error {
		for _, p := range there {
			if err := tx.PutPerson(t.Context(), p); err != nil {
				return err
			}
		}
		return nil
	}))
	done, err := archive.Import(t.Context(), from, target)
	must(t, err)
	if done[0].PeopleAdded != 2 || done[0].PeopleKept != 2 {
		t.Errorf("%d people added and %d kept, want 2 and 2", done[0].PeopleAdded, done[0].PeopleKept)
	}
	there[0].Photo, there[1].OnScreen = false, false
	want := []store.Person{there[0], children()[1], there[1], children()[3], there[2]}
	got, err := target.AllPeople(t.Context(), harbour)
	must(t, err)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("people (-want +got):\n%s", diff)
	}
}

// Whoever anybody calls erased does not come back: erased in the database after
// the archive was made, in its list alone, or in a log alone.
func TestErasedPeopleNeverComeBack(t *testing.T) {
	ctx := t.Context()
	source, _ := newSQLite(t)
	d := newDay(t, source)
	d.play()
	old, oldFile := exported(t, source, everything())
	listed := reader(t, edited(t, edited(
		t, oldFile, replace("manifest.json", `"erasures": 0`, `"erasures": 1`),
	), func(name string, text []byte) []byte {
		if name == "erasures.ndjson" {
			return []byte(`{"person":"p-2","at_us":5}` + "\n")
		}
		return text
	}))
	d.club(club.ErasePerson{Person: "p-2"}) // the server stopped before it removed the row
	logged, _ := exported(t, source, everything())

	fresh := func(prepare func(store.Store)) store.Store {
		target, _ := newSQLite(t)
		must(t, target.EnsureClub(ctx, store.Club{ID: harbour}))
		prepare(target)
		return target
	}
	nothing := func(store.Store) {}
	for _, c := range []struct {
		name    string
		from    archive.Source
		prepare func(store.Store)
		leftOut int64
		erased  int64
	}{
		{"erased in the database before", old, func(s store.Store) { must(t, s.Erase(ctx, harbour, "p-2", 1)) }, 1, 0},
		{"erased in the archive's list", listed, nothing, 1, 0},
		{"erased in the archive's log", source, nothing, 1, 0},
		{"an archive of a log with an erasure", logged, nothing, 0, 0},
		{"there, and erased in the archive", logged, func(s store.Store) {
			_, err := archive.Import(ctx, old, s)
			must(t, err)
		}, 0, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			target := fresh(c.prepare)
			for round := range 2 {
				done, err := archive.Import(ctx, c.from, target)
				must(t, err)
				if round == 0 && (done[0].LeftOut != c.leftOut || done[0].Erased != c.erased) {
					t.Errorf("%d left out and %d erased, want %d and %d", done[0].LeftOut, done[0].Erased, c.leftOut, c.erased)
				}
				got := contentOf(t, target)
				var ids []string
				for _, p := range got.People {
					ids = append(ids, p.ID)
				}
				if diff := cmp.Diff([]string{"p-1", "p-3", "p-4"}, ids); diff != "" {
					t.Errorf("people (-want +got):\n%s", diff)
				}
				if len(got.Texts) != 0 {
					t.Errorf("the text about the erased person is there: %v", got.Texts)
				}
				if len(got.Erasures) != 1 || got.Erasures[0].Person != "p-2" {
					t.Errorf("erasures %v", got.Erasures)
				}
			}
			if problems := verified(t, target).Problems; len(problems) != 0 {
				t.Errorf("problems %v", problems)
			}
		})
	}
}

// One meet alone takes its people, texts and traces with it and leaves the club's
// practice behind; without people, no name is in the file.
func TestExportOfOneMeet(t *testing.T) {
	source, _ := newSQLite(t)
	d := newDay(t, source)
	d.play()
	d.club(club.KeepPerson{Person: "p-8"}, store.Person{ID: "p-8", DisplayName: "Not of this meet"})
	c := everything()
	c.Meet = spring
	one, _ := exported(t, source, c)
	got, all := contentOf(t, one), contentOf(t, source)
	if diff := cmp.Diff([]store.StreamHead{all.Heads[1]}, got.Heads); diff != "" {
		t.Errorf("streams (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(children(), got.People); diff != "" {
		t.Errorf("people (-want +got):\n%s", diff)
	}
	if len(got.Texts) != 1 {
		t.Errorf("texts %v", got.Texts)
	}
	for run := range all.Traces {
		_, there := got.Traces[run]
		practice := strings.HasPrefix(run.Run, "practice") || run.Run == "free-run" || run.Run == "unfinished"
		if there == practice {
			t.Errorf("run %v is in the meet's archive: %v", run, there)
		}
	}
	report := verified(t, one)
	if !report.OK() || report.RunsNotMeasured != 1 { // that of the bench that only the club knows
		t.Errorf("verify says %+v", report)
	}
	target, _ := newSQLite(t)
	_, err := archive.Import(t.Context(), one, target)
	must(t, err)
	wantSame(t, "the imported meet", got, contentOf(t, target))

	c.Meet, c.People = "autumn", false
	if _, err := archive.Export(
		t.Context(), source, c, io.Discard,
	); !errors.Is(err, archive.ErrRefused) || !strings.Contains(err.Error(), "no meet autumn") {
		t.Errorf("a meet that is not there: %v", err)
	}
	c.Meet = ""
	nameless, _ := exported(t, one, c) // an archive can be written again without people
	wantLess := got
	wantLess.People, wantLess.Texts = nil, nil
	wantSame(t, "the archive without people", wantLess, contentOf(t, nameless))
}

// No token and no secret is in a file.
func TestExportHoldsNoKeys(t *testing.T) {
	source, _ := newSQLite(t)
	newDay(t, source).play()
	token := store.Token{
		ID: "token-of-the-desk", Club: harbour, Hash: [32]byte{1, 2, 3}, Role: "organiser", Actor: "organiser-9", Label: "label-of-the-desk",
	}
	must(t, source.PutToken(t.Context(), token))
	secret, err := source.Secret(t.Context(), "order-content")
	must(t, err)
	_, file := exported(t, source, everything())
	edited(t, file, func(name string, text []byte) []byte {
		for what, word := range map[string][]byte{"a token": []byte("of-the-desk"), "an actor": []byte("organiser-9"), "the secret": secret} {
			if bytes.Contains(text, word) {
				t.Errorf("%s holds %s", name, what)
			}
		}
		return text
	})
}

// An export of a broken log is refused.
func TestExportRefusesABrokenLog(t *testing.T) {
	s := tamper(t, `UPDATE events SET hash = zeroblob(32) WHERE stream = 'club' AND seq = 3`)
	_, err := archive.Export(t.Context(), s, everything(), io.Discard)
	if !errors.Is(err, archive.ErrRefused) || !strings.Contains(err.Error(), "broken at record 3") {
		t.Errorf("error %v, want a refusal", err)
	}
}
