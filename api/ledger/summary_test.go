package ledger_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

type meets = ledger.Ledger[day.State, meet.Command, day.Event]

// plan plans a meet, or changes its plan.
func plan(t *testing.T, l *meets, id, name string, again bool) {
	t.Helper()
	p := day.Plan{Name: name, Place: "Harbour Hall", Date: "2027-03-06"}
	var c meet.Command = meet.PlanMeet{Plan: p, Rules: day.UsualRules()}
	if again {
		c = meet.ChangePlan{Plan: p}
	}
	_, err := l.Do(t.Context(), store.MeetStream(harbour, id), ledger.Order[meet.Command]{
		ID: "plan-" + id + name, Content: []byte{1}, Actor: "organiser", Command: c,
	})
	must(t, err)
}

// summaries are those of all meets, as a fresh process finds them, and how often it
// read a log.
func summaries(t *testing.T, s store.Store) (map[string]ledger.Summary, int64) {
	t.Helper()
	c := &counted{Logs: s}
	o := steady(c)
	o.Caches, o.Alone = s, true
	l := ledger.New(ledger.Meets(), o)
	defer l.Close()
	heads, err := l.Streams(t.Context(), harbour)
	must(t, err)
	out := map[string]ledger.Summary{}
	for range 2 { // the second time it is remembered
		for _, h := range heads {
			out[h.Stream.Name], err = l.Summary(t.Context(), h)
			must(t, err)
		}
	}
	return out, c.reads.Load()
}

// TestSummaries: a meet is folded for its summary once after it has changed, and
// not at each start; whatever became of what was kept, the summary is that of the
// log.
func TestSummaries(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		l := ledger.New(ledger.Meets(), steady(s))
		t.Cleanup(l.Close)
		want := map[string]ledger.Summary{}
		put := func(id, name string, seq int64) {
			plan(t, l, id, name, seq > 1)
			want["meet/"+id] = ledger.Summary{Seq: seq, Name: name, Place: "Harbour Hall", Date: "2027-03-06"}
		}
		check := func(what string, reads int64) {
			t.Helper()
			got, n := summaries(t, s)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s: (-want +got)\n%s", what, diff)
			}
			if n != reads {
				t.Errorf("%s: logs were read %d times, want %d", what, n, reads)
			}
		}
		for n := range 4 {
			put(fmt.Sprintf("m%d", n), "first", 1)
		}
		check("at first", 4)
		check("at the next start", 0)
		put("m2", "second", 2)
		check("after a change", 1)
		check("and the next start", 0)

		stream := store.MeetStream(harbour, "m0")
		kept, err := s.Cache(t.Context(), stream, "summary")
		must(t, err)
		other, err := s.Cache(t.Context(), store.MeetStream(harbour, "m2"), "summary")
		must(t, err)
		for what, text := range map[string][]byte{"empty": nil, "cut": kept[:40], "of another meet": other, "a bit changed": flipped(kept, 50)} {
			must(t, s.PutCache(t.Context(), stream, "summary", text))
			check(what, 1)
			check(what+", made anew", 0)
		}
		elsewhere := opened(t, newSQLite(t))
		l = ledger.New(ledger.Meets(), steady(elsewhere))
		t.Cleanup(l.Close)
		plan(t, l, "m0", "of another hall", false)
		summaries(t, elsewhere)
		text, err := elsewhere.Cache(t.Context(), stream, "summary")
		must(t, err)
		must(t, s.PutCache(t.Context(), stream, "summary", text))
		check("of another log", 1)

		must(t, s.DropCaches(t.Context(), harbour))
		check("all deleted", 4)
	})
}

func flipped(b []byte, at int) []byte {
	b = slices.Clone(b)
	b[at] ^= 1
	return b
}

// TestSummaryOfPublished names the newest publication of each division.
func TestSummaryOfPublished(t *testing.T) {
	s := day.New()
	s.Programmes["junior"] = day.Programme{Published: make([]day.Publication, 2)}
	s.Programmes["senior"] = day.Programme{}
	if diff := cmp.Diff(map[string]int{"junior": 2}, ledger.Meets().Summarise(s).Published); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}
