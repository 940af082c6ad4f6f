package view_test

import (
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/gen"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/api/view"
	"benchmeet/api/view/viewtest"
	"benchmeet/domain/board"
	"benchmeet/domain/club"
	"benchmeet/domain/comparison"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
)

// hall is a store with the people of a small day.
type hall struct {
	*sqlite.Store
	names *view.Directory
}

// newHall writes four people down: p1 is shown, p2 has no consent, p3 gave no
// nickname, p4 is erased after it was shown once.
func newHall(t *testing.T) *hall {
	t.Helper()
	s, err := sqlite.Open(t.Context(), filepath.Join(t.TempDir(), "meet.db"))
	must(t, err)
	t.Cleanup(func() { _ = s.Close() })
	must(t, s.EnsureClub(t.Context(), store.Club{ID: "harbour"}))
	h := &hall{s, view.NewDirectory(s)}
	for _, p := range []store.Person{
		{ID: "p1", Name: "Child Quay", DisplayName: "Comet", SayAs: "KOM-et", OnScreen: true, InResults: true},
		{ID: "p2", Name: "Child Pier", DisplayName: "Secret", OnScreen: false, InResults: true},
		{ID: "p3", Name: "Child Buoy", OnScreen: true},
		{ID: "p4", Name: "Child Mole", DisplayName: "Ghost", OnScreen: true},
	} {
		must(t, h.write(t, p))
	}
	if got := h.of(t).Display("p4"); got != "Ghost" {
		t.Fatalf("before the erasure p4 is shown as %q", got)
	}
	must(t, s.Erase(t.Context(), "harbour", "p4", viewtest.Start))
	h.names.Forget("harbour")
	return h
}

func (h *hall) write(t *testing.T, p store.Person) error {
	return h.Write(t.Context(), store.ClubStream("harbour"), func(tx store.Tx) error { return tx.PutPerson(t.Context(), p) })
}

func (h *hall) of(t *testing.T) view.Names {
	t.Helper()
	names, err := h.names.Names(t.Context(), "harbour")
	must(t, err)
	return names
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// smallDay is a day of four entries in its second round: the first round is
// closed, with a penalty for e1 and e2 disqualified from its heat; the second is
// called, with a stray run that waits and a bench that is out.
func smallDay(t testing.TB) *viewtest.Day {
	d := viewtest.New(t, 4)
	d.Give(meet.DrawRound{Division: "junior"})
	d.Call("junior-1.1.1")
	d.Race("junior-1.1.1")
	why := day.Reason{Code: day.ReasonFalseStart}
	d.Give(meet.Penalise{Heat: "junior-1.1.1", Entry: "e1", UM: 5_000_000, Reason: why})
	d.Give(
		meet.RuleStatus{
			Heat: "junior-1.1.1", Entry: "e2", Status: day.StatusDisqualified, Reason: day.Reason{Code: day.ReasonConduct, Text: "t-1"},
		},
	)
	d.Give(meet.LodgeProtest{ID: "first", Heat: "junior-1.1.1", Entry: "e3", Reason: day.Reason{Code: day.ReasonOther, Text: "t-2"}})
	d.Give(meet.RuleProtest{ID: "first", Reason: why})
	d.NowUS += 3_600_000_000
	d.Give(meet.CloseRound{Division: "junior"})
	d.Give(meet.DrawRound{Division: "junior"})
	d.Call("junior-1.2.1")
	d.Give(meet.RecordRun{
		ID: "stray", Bench: "b1", Boot: "0123456789abcdef", Trace: "stray",
		Figures: measure.Figures{Method: measure.Method, DistanceUM: 1_500_000, Flags: []measure.Flag{{Code: measure.TotalsDisagree}}},
	})
	return d
}

func show(t *testing.T, d *viewtest.Day, names view.Names) view.MeetView {
	t.Helper()
	return view.MeetView{ID: "spring", State: d.State, Head: journal.Head{Seq: 42}, Names: names}
}

var update = flag.Bool("update", false, "write the expected pages anew; read the difference with care")

// TestPages compares what every page shows of the small day with the files in
// testdata. To accept changes: go test ./api/view -run TestPages -update.
func TestPages(t *testing.T) {
	d := smallDay(t)
	v := show(t, d, newHall(t).of(t))
	division := v.State.Divisions["junior"]
	summary := ledger.Meets().Summarise(v.State)
	summary.Seq = v.Head.Seq
	texts := func(id string) string { return map[string]string{"t-1": "ran onto the bench"}[id] }
	for name, page := range map[string]any{
		"meet":             v.Meet(),
		"summary":          view.Summary(v.ID, summary),
		"board":            v.Board(),
		"standings":        v.Standings(division),
		"bracket":          v.Bracket(division),
		"entries-public":   v.Entries(false),
		"entries-official": v.Entries(true),
		"heats":            v.Heats(),
		"runs":             v.Runs(),
		"rulings":          v.Rulings(texts),
		"protests":         v.Protests(texts),
		"decisions":        v.Decisions(d.NowUS, board.Compared{}),
		"comparison":       compared(t, v),
	} {
		t.Run(name, func(t *testing.T) {
			got, err := json.MarshalIndent(page, "", "  ")
			must(t, err)
			for _, hidden := range []string{"Secret", "Ghost", "Child Mole"} {
				if strings.Contains(string(got), hidden) {
					t.Errorf("%q is shown", hidden)
				}
			}
			if name != "entries-official" && (strings.Contains(string(got), "Child") || strings.Contains(string(got), "KOM")) {
				t.Error("a public page shows a name")
			}
			golden(t, name, got)
		})
	}
}

// page compares a page with its file.
func page(t *testing.T, name string, page any) {
	t.Helper()
	got, err := json.MarshalIndent(page, "", "  ")
	must(t, err)
	golden(t, name, got)
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name+".json")
	if *update {
		must(t, os.MkdirAll("testdata", 0o755))
		must(t, os.WriteFile(path, append(got, '\n'), 0o644))
	}
	want, err := os.ReadFile(path)
	must(t, err)
	if diff := cmp.Diff(string(want), string(got)+"\n"); diff != "" {
		t.Errorf("%s (-want +got)\n%s", name, diff)
	}
}

// TestDisplay: the nickname stands only where the guardian agreed and the person
// was not erased, else the start number does.
func TestDisplay(t *testing.T) {
	v := show(t, smallDay(t), newHall(t).of(t))
	for id, want := range map[day.EntryID]gen.Racer{
		"e1": {Entry: "e1", StartNumber: 1, DisplayName: text("Comet")},
		"e2": {Entry: "e2", StartNumber: 2},
		"e3": {Entry: "e3", StartNumber: 3},
		"e4": {Entry: "e4", StartNumber: 4},
	} {
		if diff := cmp.Diff(want, v.Racer(id)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", id, diff)
		}
	}
}

func text(s string) *string { return &s }

// TestLanes: units, penalties, statuses and places of the first heat.
func TestLanes(t *testing.T) {
	v := show(t, smallDay(t), view.Names{})
	type lane struct {
		Number   int
		Distance float64
		Penalty  float64
		Status   string
		Place    int
	}
	want := map[int]lane{ // 380 m and n cm, less the penalty
		1: {1, 375.01, 5, "", 3},
		2: {2, 380.02, 0, "disqualified", 0},
		3: {3, 380.03, 0, "", 2},
		4: {4, 380.04, 0, "", 1},
	}
	for _, l := range v.Heat("junior-1.1.1").Lanes {
		got := lane{Number: l.Racer.StartNumber}
		if l.DistanceM != nil {
			got.Distance = *l.DistanceM
		}
		if l.PenaltyM != nil {
			got.Penalty = *l.PenaltyM
		}
		if l.Status != nil {
			got.Status = string(*l.Status)
		}
		if l.Place != nil {
			got.Place = *l.Place
		}
		if diff := cmp.Diff(want[got.Number], got); diff != "" {
			t.Errorf("(-want +got)\n%s", diff)
		}
	}
}

// TestDirectoryTrustsForAMoment, and not after Forget.
func TestDirectoryTrustsForAMoment(t *testing.T) {
	h := newHall(t)
	h.of(t)
	must(t, h.write(t, store.Person{ID: "p1", DisplayName: "Meteor", OnScreen: true}))
	h.names.Forget("harbour")
	if got := h.of(t).Display("p1"); got != "Meteor" {
		t.Errorf("after Forget p1 is %q", got)
	}
	if _, there := h.of(t).Person("p4"); there {
		t.Error("an erased person has a row")
	}
}

// TestBenchOrders: what a bench reads in a heat, in practice and when it is free.
func TestBenchOrders(t *testing.T) {
	d := smallDay(t)
	v := show(t, d, newHall(t).of(t))
	lane := d.State.Heats["junior-1.2.1"].Lanes[0]
	o, err := board.AssignmentOf(d.State, lane.Bench)
	must(t, err)
	inHeat := v.BenchOrder(o)
	if inHeat.Kind != gen.BenchOrderKindHeat || *inHeat.Meet != "spring" || *inHeat.RaceS != 60 || *inHeat.LapM != 20 ||
		*inHeat.WheelMm != 24.5 ||
		*inHeat.StartNumber != d.State.Entries[lane.Entry].StartNumber || *inHeat.Run != string(lane.Armed) {
		t.Errorf("in a heat: %+v", inHeat)
	}
	free := v.BenchOrder(board.Assignment{Bench: "b1", OutOfService: true})
	if free.Kind != gen.BenchOrderKindFree || !free.OutOfService || *free.Number != 1 || free.Run != nil {
		t.Errorf("free: %+v", free)
	}
	s := club.New()
	for i, e := range []club.Event{
		club.BenchRegistered{Bench: day.Bench{ID: "b1", Number: 1}},
		club.CarRegistered{Car: club.Car{ID: "c7", Number: 7, WheelUM: 25_500}},
		club.PracticeArmed{Bench: "b1", Run: "practice-b1-1", Car: "c7", RaceUS: 90_000_000},
		club.PracticeRecorded{ID: "a", Bench: "b1", Car: "c7", Figures: measure.Figures{DistanceUM: 1_250_000, MaxMRPM: 12_345_678}},
		club.PracticeRecorded{ID: "b", Bench: "b1"},
	} {
		club.Evolve(s, e, viewtest.Start+int64(i)*1_000_000)
	}
	practice := view.PracticeOrder(s, "b1", false)
	if practice.Kind != gen.BenchOrderKindPractice || *practice.RaceS != 90 || *practice.StartNumber != 7 || *practice.WheelMm != 25.5 {
		t.Errorf("practice: %+v", practice)
	}
	if other := view.PracticeOrder(s, "b2", true); other.Kind != gen.BenchOrderKindFree || !other.OutOfService {
		t.Errorf("a bench that is not armed: %+v", other)
	}
	for _, tt := range []struct {
		car   day.CarID
		limit int
		want  string
	}{{"", 50, "b a"}, {"", 1, "b"}, {"c7", 50, "a"}, {"c8", 50, ""}} {
		var ids []string
		for _, r := range view.Practice(s, tt.car, tt.limit).Runs {
			ids = append(ids, r.Id)
		}
		if got := strings.Join(ids, " "); got != tt.want {
			t.Errorf("practice of %q, at most %d: %q, want %q", tt.car, tt.limit, got, tt.want)
		}
	}
	r := view.Practice(s, "c7", 1).Runs[0]
	if r.Figures.DistanceM != 1.25 || r.Figures.MaxRpm != 12345.678 || *r.CarNumber != 7 || *r.BenchNumber != 1 {
		t.Errorf("a practice run: %+v", r)
	}
	if cars := view.Cars(s).Cars; len(cars) != 1 || cars[0].Number != 7 || *cars[0].WheelMm != 25.5 {
		t.Errorf("cars: %+v", cars)
	}
}

// compared is the comparison of the benches with a club that has no reference
// runs.
func compared(t *testing.T, v view.MeetView) gen.BenchComparison {
	t.Helper()
	c := club.New()
	report, err := comparison.Of(v.State, c, v.ID)
	must(t, err)
	return v.Comparison(c, report)
}
