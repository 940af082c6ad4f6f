package ratings_test

import (
	"context"
	"fmt"
	"log/slog"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/ledger"
	"benchmeet/api/ratings"
	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

const harbour = "harbour"

// hall is a club with its ledgers on one database.
type hall struct {
	t      *testing.T
	store  store.Store
	meets  *ledger.OfMeets
	clubs  *ledger.OfClubs
	orders int
}

func newHall(t *testing.T) *hall {
	s, err := sqlite.Open(t.Context(), filepath.Join(t.TempDir(), "meet.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	if err := s.EnsureClub(t.Context(), store.Club{ID: harbour}); err != nil {
		t.Fatal(err)
	}
	h := &hall{t: t, store: s}
	h.restart(s)
	return h
}

// restart gives the hall new ledgers over logs, as a new process has them.
func (h *hall) restart(logs store.Logs) {
	o := ledger.Options{Logs: logs, Caches: h.store, Key: []byte("key"), Alone: true}
	h.meets, h.clubs = ledger.New(ledger.Meets(), o), ledger.New(ledger.Clubs(), o)
	h.t.Cleanup(h.meets.Close)
	h.t.Cleanup(h.clubs.Close)
}

// keeper is a new one, as after a restart.
func (h *hall) keeper() *ratings.Keeper {
	return &ratings.Keeper{Store: h.store, Meets: h.meets, Clubs: h.clubs, Log: slog.New(slog.DiscardHandler)}
}

func (h *hall) give(id string, commands ...meet.Command) {
	h.t.Helper()
	for _, c := range commands {
		h.orders++
		o := ledger.Order[meet.Command]{ID: fmt.Sprintf("o-%d", h.orders), Content: []byte{1}, Actor: "organiser", Command: c}
		if _, err := h.meets.Do(h.t.Context(), store.MeetStream(harbour, id), o); err != nil {
			h.t.Fatalf("%T: %v", c, err)
		}
	}
}

func (h *hall) club() ledger.Snapshot[club.State] {
	h.t.Helper()
	snapshot, err := h.clubs.At(h.t.Context(), store.ClubStream(harbour), 0)
	if err != nil {
		h.t.Fatal(err)
	}
	return snapshot
}

func (h *hall) sweep(k *ratings.Keeper) {
	h.t.Helper()
	if err := k.Sweep(h.t.Context(), harbour); err != nil {
		h.t.Fatal(err)
	}
}

// order is the entrants of the club by rating, the higher first.
func (h *hall) order() []day.EntrantID {
	var out []day.EntrantID
	for _, r := range h.club().State.Ratings() {
		out = append(out, r.Entrant)
	}
	return out
}

var early = day.Reason{Code: day.ReasonTime}

// race plans a meet of two cars, of which p1's is the faster, and publishes it.
func (h *hall) race(id string) {
	h.t.Helper()
	h.give(id,
		meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall " + id + " meet", Date: "2027-03-06"}, Rules: day.UsualRules()},
		meet.AddDivision{Division: day.Division{
			ID: "junior", Name: "Junior", Class: day.CarClass{Name: "open", LapUM: 20_000_000},
			Stages: []day.Stage{programmetest.Stage("knockout", nil)},
		}})
	for n := 1; n <= 2; n++ {
		bench, entry := day.BenchID(fmt.Sprintf("b%d", n)), day.EntryID(fmt.Sprintf("e%d", n))
		h.give(id,
			meet.AddBench{Bench: day.Bench{ID: bench, Number: n, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000}},
			meet.TakeEntry{
				ID: entry, Division: "junior", StartNumber: n, Entrant: day.EntrantID(fmt.Sprintf("p%d", n)), Car: day.CarID(fmt.Sprintf("c%d", n)),
				Age: -1,
			},
			meet.CheckIn{Entry: entry, There: true})
	}
	heat := day.HeatID("junior-1.1.1")
	h.give(id, meet.CloseEntries{Division: "junior"}, meet.DrawRound{Division: "junior"}, meet.CallHeat{Heat: heat})
	snapshot, err := h.meets.At(h.t.Context(), store.MeetStream(harbour, id), 0)
	if err != nil {
		h.t.Fatal(err)
	}
	lanes := snapshot.State.Heats[heat].Lanes
	for _, l := range lanes {
		h.give(id, meet.ConfirmReady{Heat: heat, Bench: l.Bench, StartNumber: snapshot.State.Entries[l.Entry].StartNumber})
	}
	h.give(id, meet.StartHeat{Heat: heat})
	for _, l := range lanes {
		um := int64(400_000_000)
		if l.Entry == "e1" {
			um += 10_000_000
		}
		h.give(id, meet.RecordRun{
			ID: l.Armed, Bench: l.Bench, Boot: "aa", Trace: string(l.Armed),
			Figures: measure.Figures{Method: measure.Method, DistanceUM: um, UDistanceUM: 1000},
		})
	}
	h.give(id, meet.CloseRound{Division: "junior", Early: &early}, meet.PublishResults{Division: "junior"})
}

// A publication is rated once, whoever tells of it and however often.
func TestPublishedOnce(t *testing.T) {
	h := newHall(t)
	k := h.keeper()
	h.race("spring")
	k.Published(t.Context(), harbour, "spring")
	if diff := cmp.Diff([]day.EntrantID{"p1", "p2"}, h.order()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	seq := h.club().Head.Seq
	k.Published(t.Context(), harbour, "spring")
	h.sweep(k)
	h.sweep(h.keeper())
	if got := h.club().Head.Seq; got != seq {
		t.Errorf("the club's log grew from %d to %d", seq, got)
	}
}

// What a stop left unrated is found after the restart.
func TestRestart(t *testing.T) {
	h := newHall(t)
	h.race("spring")
	h.race("autumn")
	k := h.keeper()
	h.sweep(k)
	if got := len(h.club().State.Periods); got != 2 {
		t.Fatalf("%d divisions are rated, want 2", got)
	}
	h.sweep(k)
	if got := h.club().Head.Seq; got != 2 {
		t.Errorf("the club's log has %d events, want 2", got)
	}
}

// A numbered correction is rated in the place of what it corrects.
func TestCorrectedResults(t *testing.T) {
	h := newHall(t)
	k := h.keeper()
	h.race("spring")
	k.Published(t.Context(), harbour, "spring")
	before := h.club().State.Ratings()
	h.give("spring", meet.Penalise{Heat: "junior-1.1.1", Entry: "e1", UM: 50_000_000, Reason: early}, meet.PublishResults{Division: "junior"})
	k.Published(t.Context(), harbour, "spring")
	after := h.club().State.Ratings()
	if diff := cmp.Diff([]day.EntrantID{"p2", "p1"}, h.order()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if after[0].Milli != before[0].Milli || after[0].Games != 1 {
		t.Errorf("the winner had %+v and now has %+v: both are one race from the start", before[0], after[0])
	}
}

// read lists the meets whose logs were read.
type read struct {
	store.Logs
	meets []string
}

func (r *read) Read(ctx context.Context, s store.Stream, after int64, each func(journal.Record) error) error {
	if id, is := s.Meet(); is {
		r.meets = append(r.meets, id)
	}
	return r.Logs.Read(ctx, s, after, each)
}

// TestSweepFoldsWhatChanged: a start reads only the meets that went on since the
// one before, and rates what was published meanwhile.
func TestSweepFoldsWhatChanged(t *testing.T) {
	h := newHall(t)
	for _, id := range []string{"spring", "summer", "autumn"} {
		h.race(id)
	}
	start := func(want ...string) {
		t.Helper()
		logs := &read{Logs: h.store}
		h.restart(logs)
		h.sweep(h.keeper())
		if diff := cmp.Diff(want, logs.meets); diff != "" {
			t.Errorf("meets that were read (-want +got):\n%s", diff)
		}
	}
	start("autumn", "spring", "summer")
	start()
	h.race("winter")
	start("winter")
	start()
	if n := len(h.club().State.Periods); n != 4 {
		t.Errorf("%d meets are rated, want 4", n)
	}
}
