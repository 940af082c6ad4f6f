package archive_test

import (
	"context"
	"database/sql"
	"strings"
	"testing"

	_ "modernc.org/sqlite" // to tamper with a file behind the store's back

	"benchmeet/api/archive"
	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/domain/journal"
)

// tamper plays a day, drops the triggers that guard the log, changes the file as
// somebody with a database program would, and opens what is left.
func tamper(t *testing.T, statements ...string) *sqlite.Store {
	t.Helper()
	s, path := newSQLite(t)
	newDay(t, s).play()
	must(t, s.Close())
	db, err := sql.Open("sqlite", path)
	must(t, err)
	for _, statement := range append([]string{
		`DROP TRIGGER events_are_never_changed`,
		`DROP TRIGGER events_are_never_removed`,
	}, statements...) {
		result, err := db.Exec(statement)
		must(t, err)
		if changed, err := result.RowsAffected(); !strings.HasPrefix(statement, "DROP") && (err != nil || changed == 0) {
			t.Fatalf("%s changed nothing: %v", statement, err)
		}
	}
	must(t, db.Close())
	read, err := sqlite.OpenReadOnly(context.Background(), path)
	must(t, err)
	t.Cleanup(func() { _ = read.Close() })
	return read
}

// Whatever is changed in the file is found and named.
func TestVerifyFindsTampering(t *testing.T) {
	for _, c := range []struct {
		name, statement, where, says string
	}{
		{
			"a figure in an event",
			`UPDATE events SET bytes = CAST(replace(CAST(bytes AS TEXT), '"laps":', '"laps":9') AS BLOB)
			WHERE stream = 'meet/spring' AND seq = (SELECT MIN(seq) FROM events WHERE stream = 'meet/spring' AND instr(bytes, '"type":"RunRecorded"'))`,
			"harbour/meet/spring", "the hash chain is broken at record",
		},
		{
			"a hash",
			`UPDATE events SET hash = zeroblob(32) WHERE stream = 'club' AND seq = 3`,
			"harbour/club", "the hash chain is broken at record 3",
		},
		{
			"an event taken out",
			`DELETE FROM events WHERE stream = 'meet/spring' AND seq = 5`,
			"harbour/meet/spring", "record 6 follows record 4",
		},
		{
			"a stream moved to another name",
			`UPDATE events SET stream = 'meet/autumn' WHERE stream = 'meet/spring'`,
			"harbour/meet/autumn", "record 1 says that it is of the stream harbour/meet/spring",
		},
		{
			"a chunk taken out",
			`DELETE FROM chunks WHERE run = 'left-over' AND number = 2`,
			"harbour/meet/spring run left-over", "cannot be put together",
		},
		{
			"a whole trace taken out",
			`DELETE FROM chunks WHERE run = 'practice-b1-1'`,
			"harbour/club run practice-b1-1", "its trace is not there",
		},
		{
			"a stamp moved",
			`UPDATE chunks SET packed = CAST(x'85' || substr(packed, 2) AS BLOB) WHERE run = 'stray' AND number = 1`,
			"harbour/meet/spring run stray", "SHA-256",
		},
		{
			"the end of a run moved",
			`UPDATE chunks SET last = CAST(replace(CAST(last AS TEXT), '"duration_us":10000000', '"duration_us":11000000') AS BLOB) WHERE run = 'stray' AND number = 3`,
			"harbour/meet/spring run stray", "SHA-256",
		},
		{
			"a reason rewritten",
			`UPDATE texts SET text = 'All was well.'`,
			"harbour text t-1", "not the text that its event proves",
		},
		{
			"an erased person put back",
			`INSERT INTO erasures (club_id, person, at_us) VALUES ('harbour', 'p-3', 1)`,
			"harbour person p-3", "erased",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			report := verified(t, tamper(t, c.statement))
			if len(report.Problems) != 1 {
				t.Errorf("%d problems, want one: %v", len(report.Problems), report.Problems)
			}
			for _, p := range report.Problems {
				if p.Where != c.where || !strings.Contains(p.Says, c.says) {
					t.Errorf("the problem is %q: %s; want %q with %q", p.Where, p.Says, c.where, c.says)
				}
			}
			for _, s := range report.Streams {
				if s.OK != (s.Stream != c.where) {
					t.Errorf("stream %s is ok: %v", s.Stream, s.OK)
				}
			}
		})
	}
}

// rewrite makes a log anew with some events changed and every hash right, as
// somebody would who knows how the chain is made.
func rewrite(t *testing.T, from store.Store, change func(journal.Envelope) journal.Envelope) store.Store {
	t.Helper()
	ctx := t.Context()
	to, _ := newSQLite(t)
	reader, _ := exported(t, from, everything())
	must(t, to.EnsureClub(ctx, store.Club{ID: harbour}))
	for stream, records := range contentOf(t, reader).Records {
		s := store.Stream{Club: harbour, Name: stream}
		must(t, to.Write(ctx, s, func(tx store.Tx) error {
			var head journal.Head
			for _, r := range records {
				e, err := r.Open()
				if err != nil {
					return err
				}
				sealed, err := journal.Seal(head, change(e))
				if err != nil {
					return err
				}
				head = sealed.Head()
				if err := tx.Append(ctx, []journal.Record{sealed}); err != nil {
					return err
				}
			}
			return nil
		}))
	}
	must(t, reader.Runs(ctx, harbour, func(run store.RunKey) error {
		chunks, err := reader.Chunks(ctx, harbour, run)
		for _, c := range chunks {
			if _, err := to.PutChunk(ctx, harbour, c); err != nil {
				return err
			}
		}
		return err
	}))
	return to
}

// A log that was written anew from its first changed event on holds together; but
// measuring the traces again shows it, and so does the hash that was published.
func TestVerifyFindsARewrittenLog(t *testing.T) {
	first, _ := newSQLite(t)
	newDay(t, first).play()
	published := contentOf(t, first).Heads[1].Head
	for _, c := range []struct{ name, from, to, says string }{
		{"a figure", `"bridged":0,`, `"bridged":3,`, "bridged is 3 in the log and 0 when measured again"},
		{"a method", `"method":"`, `"method":"other-`, ""},
		{"the name under which a run was sent", `"sent":"junior`, `"sent":"senior`, "its trace is not there"},
		{"the settings of a bench", `"circumference_um":94249`, `"circumference_um":95249`, "distance_um is"},
		{"nothing", "", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			other := rewrite(t, first, func(e journal.Envelope) journal.Envelope {
				e.Data = []byte(strings.Replace(string(e.Data), c.from, c.to, 1))
				return e
			})
			report, err := archive.Verify(t.Context(), other, published.Hash)
			must(t, err)
			same := c.from == c.to
			if found := report.Found != nil; found != same {
				t.Errorf("the published hash is found: %v", found)
			}
			var all []string
			for _, p := range report.Problems {
				all = append(all, p.Says)
			}
			if says := strings.Join(all, "\n"); !strings.Contains(says, c.says) || same != (says == "") {
				t.Errorf("problems %q, want one with %q", says, c.says)
			}
			if c.name == "a method" && report.RunsNotMeasured == 0 {
				t.Error("runs of another method were measured again with this one")
			}
		})
	}
}

func TestVerifyRefusesTimeThatRunsBack(t *testing.T) {
	first, _ := newSQLite(t)
	newDay(t, first).play()
	report := verified(t, rewrite(t, first, func(e journal.Envelope) journal.Envelope {
		if e.Seq == 4 {
			e.Time = 1
		}
		return e
	}))
	if len(report.Problems) < 2 || !strings.Contains(report.Problems[0].Says, "record 4 is older") {
		t.Errorf("problems %v", report.Problems)
	}
}

// An event that no decider would have made is a problem and no crash.
func TestVerifySurvivesAnImpossibleLog(t *testing.T) {
	s, _ := newSQLite(t)
	ctx := t.Context()
	must(t, s.EnsureClub(ctx, store.Club{ID: harbour}))
	for name, event := range map[string]struct {
		kind    string
		version int
		data    string
		says    string
	}{
		"meet/one":   {"HeatStarted", 1, `{"heat":"none-1.1.1","by":"x"}`, ""},
		"meet/two":   {"HeatRaced", 1, `{}`, "does not know the event HeatRaced"},
		"meet/three": {"HeatStarted", 1, `{"heat":7}`, "HeatStarted"},
		"meet/four":  {"RoundClosed", 1, `{"division":"none","stage":4,"round":3,"by":"x"}`, ""},
		"meet/five":  {"HeatStarted", 99, `{}`, "not version 99: it was written by a later program"},
		"meet/six": {
			"EntryReinstated", 2, `{"again":[{"heat":"h","entry":"e"}],"clears":["h"],"entry":"e","by":"x","reason":{"code":"tie"}}`, "",
		},
		"meet/seven": {"MeetResumed", 2, `{"by":"x","deadlines_us":{"h":1},"protests_us":{"h":1},"shift_us":0}`, ""},
		"elsewhere":  {"HeatStarted", 1, `{}`, "does not know streams named elsewhere"},
	} {
		stream := store.Stream{Club: harbour, Name: name}
		r, err := journal.Seal(
			journal.Head{}, journal.Envelope{Stream: stream.String(), Seq: 1, Type: event.kind, V: event.version, Data: []byte(event.data)},
		)
		must(t, err)
		must(t, s.Write(ctx, stream, func(tx store.Tx) error { return tx.Append(ctx, []journal.Record{r}) }))
		found := ""
		for _, p := range verified(t, s).Problems {
			if p.Where == stream.String() {
				found = p.Says
			}
		}
		if event.says != "" && !strings.Contains(found, event.says) {
			t.Errorf("%s: the problem is %q, want one with %q", name, found, event.says)
		}
	}
}
