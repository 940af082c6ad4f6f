package archive_test

import (
	"bytes"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"benchmeet/api/archive"
	"benchmeet/api/store"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
	"benchmeet/domain/trace"
)

var made = time.Date(2027, 3, 6, 18, 0, 0, 0, time.UTC)

func everything() archive.Choice {
	return archive.Choice{
		Club: store.Club{ID: harbour, Name: "Harbour Hall"}, People: true,
		Made: made, Expires: made.AddDate(0, 0, 30),
	}
}

// exported writes an archive and opens it.
func exported(t testing.TB, from archive.Source, c archive.Choice) (*archive.Reader, []byte) {
	t.Helper()
	var file bytes.Buffer
	manifest, err := archive.Export(t.Context(), from, c, &file)
	must(t, err)
	r := reader(t, file.Bytes())
	if diff := cmp.Diff(manifest, r.Manifest()); diff != "" {
		t.Errorf("manifest (-written +read):\n%s", diff)
	}
	return r, file.Bytes()
}

func reader(t testing.TB, file []byte) *archive.Reader {
	t.Helper()
	r, err := archive.NewReader(bytes.NewReader(file), int64(len(file)))
	must(t, err)
	return r
}

// content is everything that a source holds of the club.
type content struct {
	Heads    []store.StreamHead
	Records  map[string][]journal.Record
	Traces   map[store.RunKey][]trace.Stored
	People   []store.Person
	Texts    []store.Text
	Erasures []store.Erasure
}

func contentOf(t testing.TB, from archive.Source) content {
	t.Helper()
	ctx := t.Context()
	c := content{Records: map[string][]journal.Record{}, Traces: map[store.RunKey][]trace.Stored{}}
	var err error
	c.Heads, err = from.Streams(ctx, harbour)
	must(t, err)
	for _, h := range c.Heads {
		must(t, from.Read(ctx, h.Stream, 0, func(r journal.Record) error {
			c.Records[h.Stream.Name] = append(c.Records[h.Stream.Name], r)
			return nil
		}))
	}
	must(t, from.Runs(ctx, harbour, func(run store.RunKey) error {
		c.Traces[run], err = from.Chunks(ctx, harbour, run)
		return err
	}))
	c.People, err = from.AllPeople(ctx, harbour)
	must(t, err)
	c.Texts, err = from.AllTexts(ctx, harbour)
	must(t, err)
	c.Erasures, err = from.Erasures(ctx, harbour)
	must(t, err)
	return c
}

func wantSame(t testing.TB, what string, want, got content) {
	t.Helper()
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("%s (-want +got):\n%s", what, diff)
	}
}

func verified(t testing.TB, from archive.Source) archive.Report {
	t.Helper()
	report, err := archive.Verify(t.Context(), from, journal.Hash{})
	must(t, err)
	return report
}

// A real meet goes from SQLite to PostgreSQL and back through archives. Logs,
// traces and people are equal on the way, the rebuilt state is equal to the byte
// on each, and so are the archives.
func TestRoundTrip(t *testing.T) {
	first, _ := newSQLite(t)
	newDay(t, first).play()
	want, wantState := contentOf(t, first), states(t, first)
	if len(want.Heads) != 2 || len(want.Traces) < 11 || len(want.People) != 4 || len(want.Texts) != 1 {
		t.Fatalf("the meet has %d streams, %d traces, %d people, %d texts: too few to prove anything",
			len(want.Heads), len(want.Traces), len(want.People), len(want.Texts))
	}
	from, firstFile := exported(t, first, everything())
	wantSame(t, "the archive", want, contentOf(t, from))

	second := newPostgres(t)
	done, err := archive.Import(t.Context(), from, second)
	must(t, err)
	if diff := cmp.Diff(int64(4), done[0].PeopleAdded); diff != "" {
		t.Errorf("people added (-want +got):\n%s", diff)
	}
	wantSame(t, "PostgreSQL", want, contentOf(t, second))
	if diff := cmp.Diff(wantState, states(t, second)); diff != "" {
		t.Errorf("the state on PostgreSQL (-SQLite +PostgreSQL):\n%s", diff)
	}

	back, secondFile := exported(t, second, everything())
	third, _ := newSQLite(t)
	_, err = archive.Import(t.Context(), back, third)
	must(t, err)
	wantSame(t, "SQLite again", want, contentOf(t, third))
	if diff := cmp.Diff(wantState, states(t, third)); diff != "" {
		t.Errorf("the state on SQLite again (-first +third):\n%s", diff)
	}
	_, thirdFile := exported(t, third, everything())
	if !bytes.Equal(firstFile, secondFile) || !bytes.Equal(firstFile, thirdFile) {
		t.Errorf("the archives of equal content differ: %d, %d and %d bytes", len(firstFile), len(secondFile), len(thirdFile))
	}

	report := verified(t, first)
	if !report.OK() || report.RunsChecked < 10 || report.RunsMeasured != report.RunsChecked ||
		report.HandCounts != 1 || report.TextsChecked != 1 || report.TracesUnrecorded != 1 {
		t.Errorf("verify says %+v", report)
	}
	for name, other := range map[string]archive.Source{"PostgreSQL": second, "SQLite again": third, "an archive": back} {
		if diff := cmp.Diff(report, verified(t, other)); diff != "" {
			t.Errorf("verify of %s (-first +this):\n%s", name, diff)
		}
	}
	open, err := third.OpenRuns(t.Context(), harbour)
	if err != nil || len(open) != 0 {
		t.Errorf("recorded runs wait to be recorded again: %v, %v", open, err)
	}
}

// Importing again adds nothing; a log that grew is continued; an older archive
// than the database changes nothing.
func TestImportContinues(t *testing.T) {
	source, _ := newSQLite(t)
	d := newDay(t, source)
	d.play()
	early, _ := exported(t, source, everything())
	d.meet(meet.Pause{Reason: day.Reason{Code: day.ReasonLunch}})
	d.send("b2", boot, "later", spring, "", 6600)
	late, _ := exported(t, source, everything())

	target, _ := newSQLite(t)
	for i, c := range []struct {
		from   *archive.Reader
		events int64
		chunks int64
	}{{early, -1, -1}, {early, 0, 0}, {late, 2, 4}, {late, 0, 0}, {early, 0, 0}} {
		done, err := archive.Import(t.Context(), c.from, target)
		must(t, err)
		var added int64
		for _, s := range done[0].Streams {
			added += s.Added
		}
		if c.events >= 0 && (added != c.events || done[0].ChunksAdded != c.chunks) {
			t.Errorf("import %d added %d events and %d chunks, want %d and %d", i+1, added, done[0].ChunksAdded, c.events, c.chunks)
		}
	}
	wantSame(t, "the target", contentOf(t, source), contentOf(t, target))
}
