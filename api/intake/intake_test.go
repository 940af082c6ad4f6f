package intake

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/store/postgres"
	"benchmeet/api/store/postgres/pgtest"
	"benchmeet/api/store/sqlite"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/trace"
)

func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }

const (
	harbour = "harbour"
	boot    = "0123456789abcdef"
)

// server is an intake with its ledgers, as one process has them.
type server struct {
	*Intake
	store  store.Store
	meets  *ledger.OfMeets
	clubs  *ledger.OfClubs
	speeds chan Speed
}

func newServer(t testing.TB, s store.Store) *server {
	t.Helper()
	if err := s.EnsureClub(t.Context(), store.Club{ID: harbour}); err != nil {
		t.Fatal(err)
	}
	o := ledger.Options{Logs: s, Key: []byte("key")}
	v := &server{store: s, meets: ledger.New(ledger.Meets(), o), clubs: ledger.New(ledger.Clubs(), o), speeds: make(chan Speed, 10_000)}
	t.Cleanup(v.meets.Close)
	t.Cleanup(v.clubs.Close)
	v.Intake = New(Options{Store: s, Meets: v.meets, Clubs: v.clubs, Speed: func(sp Speed) { v.speeds <- sp }})
	return v
}

func openSQLite(t testing.TB) store.Store {
	t.Helper()
	s, err := sqlite.Open(t.Context(), filepath.Join(t.TempDir(), "meet.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

var orders atomic.Int64 // for their ids

// give carries out commands of the club.
func (v *server) give(t testing.TB, commands ...club.Command) {
	t.Helper()
	for i, c := range commands {
		o := ledger.Order[club.Command]{ID: fmt.Sprintf("%T-%d-%d", c, i, orders.Add(1)), Content: []byte{1}, Actor: "organiser", Command: c}
		if _, err := v.clubs.Do(t.Context(), store.ClubStream(harbour), o); err != nil {
			t.Fatal(err)
		}
	}
}

// plan carries out commands of a meet.
func (v *server) plan(t testing.TB, id string, commands ...meet.Command) {
	t.Helper()
	for i, c := range commands {
		o := ledger.Order[meet.Command]{ID: fmt.Sprintf("%T-%d-%d", c, i, orders.Add(1)), Content: []byte{1}, Actor: "organiser", Command: c}
		if _, err := v.meets.Do(t.Context(), store.MeetStream(harbour, id), o); err != nil {
			t.Fatalf("%T: %v", c, err)
		}
	}
}

func (v *server) club(t testing.TB) *club.State {
	t.Helper()
	snapshot, err := v.clubs.At(t.Context(), store.ClubStream(harbour), 0)
	if err != nil {
		t.Fatal(err)
	}
	return snapshot.State
}

func (v *server) take(t testing.TB, c trace.Chunk) Kept {
	t.Helper()
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	kept, err := v.Take(context.Background(), harbour, "node-1", c)
	if err != nil {
		t.Fatal(err)
	}
	return kept
}

// steadyTrain is n turns at 6,000 a minute.
func steadyTrain(n int) []int64 {
	stamps := make([]int64, n)
	for i := range stamps {
		stamps[i] = 1_000_000 + int64(i)*10_000
	}
	return stamps
}

// cut cuts a run's stamps into chunks.
func cut(run string, stamps []int64, totals trace.Totals, cuts ...int) []trace.Chunk {
	var out []trace.Chunk
	from := 0
	for _, to := range append(slices.Clone(cuts), len(stamps)) {
		out = append(out, trace.Chunk{Key: trace.Key{Bench: "b1", Boot: boot, Run: run, Number: len(out)}, Stamps: stamps[from:to]})
		from = to
	}
	totals.Chunks, totals.Stamps = len(out), len(stamps)
	out[len(out)-1].Last = &totals
	return out
}

var benchOne = day.Bench{ID: "b1", Number: 1, CircumferenceUM: 100_000, UCircumUM: 20, Marks: 1, StampNS: 1000, ClockPPB: 20_000}

// TestAnyOrder: chunks cut anywhere, in any order, some of them twice, through one
// server or through two on one database, give one run with one trace hash.
func TestAnyOrder(t *testing.T) {
	url := pgtest.Database(t)
	var servers [2]*server
	for i := range servers {
		s, err := postgres.Open(t.Context(), url)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = s.Close() })
		servers[i] = newServer(t, s)
	}
	alone := newServer(t, openSQLite(t))
	stamps := steadyTrain(300)
	runs := 0
	rapid.Check(t, func(rt *rapid.T) {
		runs++
		name := fmt.Sprintf("run-%d", runs)
		cuts := rapid.SliceOfN(rapid.IntRange(0, len(stamps)), 0, 5).Draw(rt, "cuts")
		slices.Sort(cuts)
		chunks := cut(name, stamps, trace.Totals{}, cuts...)
		again := rapid.SliceOfN(rapid.SampledFrom(chunks), 0, 4).Draw(rt, "again")
		order := rapid.Permutation(append(slices.Clone(chunks), again...)).Draw(rt, "order")
		for i, c := range order {
			alone.take(t, c)
			servers[rapid.IntRange(0, 1).Draw(rt, fmt.Sprintf("through-%d", i))].take(t, c)
		}
		for _, v := range servers { // where no server saw both the last chunk and the one that was missing
			if err := v.Sweep(context.Background(), harbour); err != nil {
				rt.Fatal(err)
			}
		}
		want := trace.Train{Bench: "b1", Boot: boot, Run: name, Stamps: stamps, Totals: *chunks[len(chunks)-1].Last}.Hash()
		for _, v := range []*server{alone, servers[0], servers[1]} {
			snapshot, err := v.clubs.At(context.Background(), store.ClubStream(harbour), int64(runs))
			if err != nil {
				rt.Fatal(err)
			}
			r := snapshot.State.Runs.At(day.RunID(name))
			if r == nil || r.Trace != fmt.Sprintf("%x", want) || snapshot.State.Runs.Len() != runs || snapshot.Head.Seq != int64(runs) {
				rt.Fatalf("after %d runs: %+v in %d of %d", runs, r, snapshot.State.Runs.Len(), snapshot.Head.Seq)
			}
		}
	})
}

// TestAtOnce: the chunks of many runs through two servers at the same moment are
// recorded once each.
func TestAtOnce(t *testing.T) {
	url := pgtest.Database(t)
	var servers [2]*server
	for i := range servers {
		s, err := postgres.Open(t.Context(), url)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = s.Close() })
		servers[i] = newServer(t, s)
	}
	const runs = 12
	var all sync.WaitGroup
	for n := range runs {
		for _, c := range cut(fmt.Sprintf("run-%d", n), steadyTrain(200), trace.Totals{}, 50, 100, 150) {
			for _, v := range servers {
				all.Go(func() {
					if _, err := v.Take(context.Background(), harbour, "node-1", c); err != nil {
						t.Error(err)
					}
				})
			}
		}
	}
	all.Wait()
	for _, v := range servers {
		if err := v.Sweep(t.Context(), harbour); err != nil {
			t.Error(err)
		}
		snapshot, err := v.clubs.At(t.Context(), store.ClubStream(harbour), runs)
		if err != nil || snapshot.State.Runs.Len() != runs || snapshot.Head.Seq != runs {
			t.Errorf("%d runs in %d events, %v", snapshot.State.Runs.Len(), snapshot.Head.Seq, err)
		}
	}
}

// deaf is a store whose logs cannot be written.
type deaf struct{ store.Store }

var errDeaf = errors.New("the drive is full")

func (deaf) Write(context.Context, store.Stream, func(store.Tx) error) error { return errDeaf }

// TestCrashBetweenChunkAndRecord: the chunk is acknowledged, the run is not
// recorded; a new server records it once, however often it sweeps and the chunk
// comes again.
func TestCrashBetweenChunkAndRecord(t *testing.T) {
	s := openSQLite(t)
	chunks := cut("r1", steadyTrain(300), trace.Totals{}, 100)
	before := newServer(t, deaf{s})
	before.take(t, chunks[0])
	if kept := before.take(t, chunks[1]); !kept.Fresh || kept.Recorded {
		t.Errorf("%+v", kept)
	}
	if err := before.Sweep(t.Context(), harbour); !errors.Is(err, errDeaf) {
		t.Errorf("the sweep says %v", err)
	}
	after := newServer(t, s)
	for range 2 {
		if err := after.Sweep(t.Context(), harbour); err != nil {
			t.Fatal(err)
		}
		if kept := after.take(t, chunks[1]); kept.Fresh || !kept.Recorded {
			t.Errorf("the last chunk again: %+v", kept)
		}
	}
	if st := after.club(t); st.Runs.Len() != 1 || st.Seq != 1 {
		t.Errorf("%d runs in %d events", st.Runs.Len(), st.Seq)
	}
}

// TestOneBadRunHoldsNoOtherUp: a sweep goes on behind a run that cannot be
// recorded now.
func TestOneBadRunHoldsNoOtherUp(t *testing.T) {
	s := openSQLite(t)
	v := newServer(t, s)
	for _, c := range append(cut("a-bad", steadyTrain(10), trace.Totals{}), cut("b-good", steadyTrain(10), trace.Totals{})...) {
		if _, err := s.PutChunk(t.Context(), harbour, c.Pack()); err != nil {
			t.Fatal(err)
		}
	}
	spoilt := New(Options{Store: spoiltChunks{s}, Meets: v.meets, Clubs: v.clubs})
	if err := spoilt.Sweep(t.Context(), harbour); !errors.Is(err, errDeaf) {
		t.Errorf("the sweep says %v", err)
	}
	if st := v.club(t); st.Runs.At("b-good") == nil {
		t.Error("the good run is not recorded")
	}
}

// spoiltChunks cannot read the chunks of one run.
type spoiltChunks struct{ store.Store }

func (s spoiltChunks) Chunks(ctx context.Context, club string, run store.RunKey) ([]trace.Stored, error) {
	if run.Run == "a-bad" {
		return nil, errDeaf
	}
	return s.Store.Chunks(ctx, club, run)
}

// TestUnknownMeet: the run is kept as practice under the name of the meet that the
// box named.
func TestUnknownMeet(t *testing.T) {
	v := newServer(t, openSQLite(t))
	v.take(t, cut("junior-1.1.1-L1-1", steadyTrain(100), trace.Totals{Meet: "autumn"})[0])
	r := v.club(t).Runs.At("junior-1.1.1-L1-1")
	if r == nil || r.Meet != "autumn" {
		t.Fatalf("got %+v", r)
	}
	if snapshot, err := v.meets.At(t.Context(), store.MeetStream(harbour, "autumn"), 0); err != nil || snapshot.State.Planned {
		t.Errorf("the meet came into being: %v", err)
	}
}

// TestKnownMeet: the run stands in the meet's log, waiting for a ruling where no
// lane armed it, and not in the club's.
func TestKnownMeet(t *testing.T) {
	v := newServer(t, openSQLite(t))
	v.plan(t, "spring", meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: day.UsualRules()})
	for _, c := range cut("stray", steadyTrain(100), trace.Totals{Meet: "spring"}) {
		if kept := v.take(t, c); !kept.Recorded {
			t.Errorf("%+v", kept)
		}
	}
	snapshot, err := v.meets.At(t.Context(), store.MeetStream(harbour, "spring"), 0)
	if err != nil {
		t.Fatal(err)
	}
	if r := snapshot.State.Runs["stray"]; r.Waiting == "" || r.Figures.TurnsE6 == 0 {
		t.Errorf("got %+v", r)
	}
	if st := v.club(t); st.Runs.Len() != 0 {
		t.Errorf("it stands in the club's log too: %+v", st.Runs)
	}
}

// TestTotalsThatDisagree: the run is measured from all that came, under its own
// name, with a flag.
func TestTotalsThatDisagree(t *testing.T) {
	stamps := steadyTrain(301)
	short := cut("r1", stamps, trace.Totals{}, 100)
	short[1].Last.Stamps = 400
	behind := cut("r1", stamps, trace.Totals{}, 100, 200)
	early := *behind[2].Last
	early.Chunks = 2
	behind[1].Last, behind[2].Last = &early, nil
	for name, chunks := range map[string][]trace.Chunk{"fewer stamps than stated": short, "a chunk behind the last": behind} {
		t.Run(name, func(t *testing.T) {
			v := newServer(t, openSQLite(t))
			v.give(t, club.RegisterBench{Bench: benchOne})
			for _, c := range chunks { // all are there before the run is looked at
				if _, err := v.store.PutChunk(t.Context(), harbour, c.Pack()); err != nil {
					t.Fatal(err)
				}
			}
			if err := v.Sweep(t.Context(), harbour); err != nil {
				t.Fatal(err)
			}
			r := v.club(t).Runs.At("r1")
			if r == nil {
				t.Fatalf("not recorded: %+v", v.club(t).Runs)
			}
			if r.Bench != "b1" || r.Figures.TurnsE6 != 300_000_000 || !slices.ContainsFunc(r.Figures.Flags, disagrees) {
				t.Errorf("got %+v", r)
			}
		})
	}
}

func disagrees(f measure.Flag) bool { return f.Code == measure.TotalsDisagree }

// TestConditionsOfPractice: each run is measured under its own car and time, and a
// bench that nobody registered under a usual roller.
func TestConditionsOfPractice(t *testing.T) {
	for _, tt := range []struct {
		name        string
		run, car    string
		bench       bool
		distanceUM  int64
		wheelCarCan bool
	}{
		{"the armed run", "practice-b1-1", "", true, 30_000_000, true},
		{"another run, no car", "free", "", true, 30_000_000, false},
		{"another run with a car", "free", "8", true, 30_000_000, true},
		{"a bench that nobody registered", "free", "", false, 28_274_400, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			v := newServer(t, openSQLite(t))
			if tt.bench {
				v.give(
					t, club.RegisterBench{Bench: benchOne},
					club.RegisterCar{Car: club.Car{ID: "quick", Number: 7, WheelUM: 25_000}},
					club.RegisterCar{Car: club.Car{ID: "other", Number: 8, WheelUM: 30_000}},
					club.ArmPractice{Bench: "b1", Number: 7, RaceUS: 60_000_000},
				)
			}
			v.take(t, cut(tt.run, steadyTrain(301), trace.Totals{Car: tt.car})[0])
			r := v.club(t).Runs.At(day.RunID(tt.run))
			if r == nil || r.Figures.DistanceUM != tt.distanceUM || r.Figures.WheelMeanMRPM > 0 != tt.wheelCarCan {
				t.Errorf("got %+v", r)
			}
		})
	}
}

// TestImpossibleStart: what a bench counted stands though its totals name a start
// that no race has.
func TestImpossibleStart(t *testing.T) {
	for name, totals := range map[string]trace.Totals{
		"a delay of a minute": {StartSource: trace.StartArrival, StartUS: 1_000_000, StartDelayUS: 60_000_000, DurationUS: 60_000_000},
		"a blink of a race":   {StartSource: trace.StartBenchClock, StartUS: 1_000_000, DurationUS: 5},
	} {
		t.Run(name, func(t *testing.T) {
			v := newServer(t, openSQLite(t))
			if kept := v.take(t, cut("r1", steadyTrain(301), totals)[0]); !kept.Recorded {
				t.Errorf("%+v", kept)
			}
			if r := v.club(t).Runs.At("r1"); r == nil || r.Figures.TurnsE6 != 300_000_000 {
				t.Errorf("got %+v", r)
			}
		})
	}
}

// TestConflict: another content under a chunk's key is an error and changes
// nothing.
func TestConflict(t *testing.T) {
	v := newServer(t, openSQLite(t))
	chunks := cut("r1", steadyTrain(100), trace.Totals{}, 50)
	v.take(t, chunks[0])
	other := chunks[0]
	other.Stamps = other.Stamps[1:]
	if _, err := v.Take(t.Context(), harbour, "node-1", other); !errors.Is(err, store.ErrConflict) {
		t.Errorf("got %v", err)
	}
	if kept := v.take(t, chunks[1]); !kept.Recorded {
		t.Errorf("%+v", kept)
	}
}
