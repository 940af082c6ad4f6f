package archive_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"benchmeet/api/intake"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/store/postgres"
	"benchmeet/api/store/postgres/pgtest"
	"benchmeet/api/store/sqlite"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/simulate"
	"benchmeet/domain/trace"
)

func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }

// harbour is the club of the tests and spring its meet.
const (
	harbour = "harbour"
	spring  = "spring"
)

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// newSQLite opens a fresh database in a folder of its own.
func newSQLite(t testing.TB) (*sqlite.Store, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "benchmeet.db")
	s, err := sqlite.Open(context.Background(), path)
	must(t, err)
	t.Cleanup(func() { _ = s.Close() })
	return s, path
}

func newPostgres(t testing.TB) store.Store {
	t.Helper()
	s, err := postgres.Open(context.Background(), pgtest.Database(t))
	must(t, err)
	t.Cleanup(func() { _ = s.Close() })
	return s
}

// playedDay is a club with a meet, made through the ledgers and the intake as a server
// makes it.
type playedDay struct {
	t      testing.TB
	db     store.Store
	clubs  *ledger.OfClubs
	meets  *ledger.OfMeets
	intake *intake.Intake
	now    time.Time
	orders int
}

func newDay(t testing.TB, db store.Store) *playedDay {
	t.Helper()
	d := &playedDay{t: t, db: db, now: time.Date(2027, 3, 6, 9, 0, 0, 0, time.UTC)}
	must(t, db.EnsureClub(t.Context(), store.Club{ID: harbour, Name: "Harbour Hall"}))
	key, err := db.Secret(t.Context(), "order-content")
	must(t, err)
	o := ledger.Options{
		Logs: db, Key: key,
		Now:  func() time.Time { return d.now },
		Seed: func(order string) uint64 { return simulate.Key(7, order) >> 11 },
	}
	d.clubs, d.meets = ledger.New(ledger.Clubs(), o), ledger.New(ledger.Meets(), o)
	t.Cleanup(d.clubs.Close)
	t.Cleanup(d.meets.Close)
	d.intake = intake.New(intake.Options{Store: db, Meets: d.meets, Clubs: d.clubs})
	return d
}

func (d *playedDay) id() string {
	d.orders++
	d.now = d.now.Add(time.Second)
	return fmt.Sprintf("order-%d", d.orders)
}

func (d *playedDay) club(c club.Command, people ...store.Person) {
	d.t.Helper()
	_, err := d.clubs.Do(
		d.t.Context(), store.ClubStream(harbour), ledger.Order[club.Command]{ID: d.id(), Actor: "organiser-1", Command: c, People: people},
	)
	must(d.t, err)
}

func (d *playedDay) meet(c meet.Command, texts ...store.Text) {
	d.t.Helper()
	_, err := d.meets.Do(
		d.t.Context(), store.MeetStream(harbour, spring), ledger.Order[meet.Command]{ID: d.id(), Actor: "organiser-1", Command: c, Texts: texts},
	)
	must(d.t, err)
}

func (d *playedDay) state() *day.State {
	d.t.Helper()
	s, err := d.meets.At(d.t.Context(), store.MeetStream(harbour, spring), 0)
	must(d.t, err)
	return s.State
}

// because is a reason with a text that also names somebody beside whom it is about.
func because(id, about, text string) (day.Reason, store.Text) {
	salt := []byte("salt of " + id)
	sum := sha256.Sum256(append(append([]byte{}, salt...), text...))
	return day.Reason{Code: day.ReasonPower, Text: id, TextHash: hex.EncodeToString(sum[:])},
		store.Text{ID: id, About: []string{about}, Salt: salt, Text: text}
}

const (
	boot  = "0123456789abcdef"
	again = "fedcba9876543210"
)

// send sends a run of ten seconds in four chunks, the last one first.
func (d *playedDay) send(bench, boot, run, meetID, car string, rpm float64) {
	d.t.Helper()
	p := simulate.Usual(simulate.Key(7, bench, boot, run), rpm, 10)
	stamps := simulate.Run(p).Stamps
	const n = 4
	for number := n - 1; number >= 0; number-- {
		c := trace.Chunk{
			Key:    trace.Key{Bench: bench, Boot: boot, Run: run, Number: number},
			Stamps: stamps[len(stamps)*number/n : len(stamps)*(number+1)/n],
		}
		if number == n-1 {
			c.Last = &trace.Totals{
				Chunks: n, Stamps: len(stamps), Meet: meetID, Car: car,
				StartSource: trace.StartBenchClock, StartUS: p.StartUS, DurationUS: 10_000_000,
			}
		}
		must(d.t, c.Check())
		_, err := d.intake.Take(d.t.Context(), harbour, "node-"+bench, c)
		must(d.t, err)
	}
	d.now = d.now.Add(time.Second)
}

// children are the people of the day; Wilhelmina is erased in tests.
func children() []store.Person {
	return []store.Person{
		{ID: "p-1", DisplayName: "Otter", BirthDate: "2017-05-01", OnScreen: true, InResults: true},
		{ID: "p-2", Name: "Wilhelmina Seegras", DisplayName: "Seegras", SayAs: "SEE-grass", BirthDate: "2016-07-02", OnScreen: true},
		{ID: "p-3", DisplayName: "Curlew", BirthDate: "2017-11-30"},
		{ID: "p-4", DisplayName: "Plover", BirthDate: "2016-01-15", OnScreen: true, InResults: true, Photo: true},
	}
}

// play plays a small meet: practice, a round of heats, a run that was sent under
// a name twice, one of a bench that the meet does not know, one that nobody armed
// a text in a ruling, a re-run and a hand count.
func (d *playedDay) play() {
	d.t.Helper()
	bench := func(n int) day.Bench {
		return day.Bench{
			ID: day.BenchID(fmt.Sprintf("b%d", n)), Number: n, CircumferenceUM: 94_248 + int64(n), UCircumUM: 20,
			Marks: 1, StampNS: 1000, ClockPPB: 20_000, FactorPPM: int64(n) * 1000,
		}
	}
	for n := 1; n <= 3; n++ {
		d.club(club.RegisterBench{Bench: bench(n)})
	}
	for _, p := range children() {
		d.club(club.KeepPerson{Person: day.EntrantID(p.ID)}, p)
	}
	d.club(club.RegisterCar{Car: club.Car{ID: "c-1", Number: 1, WheelUM: 26_000}})
	d.club(club.ArmPractice{Bench: "b1", Number: 1, RaceUS: 10_000_000})
	d.send("b1", boot, "practice-b1-1", "", "1", 9000)
	d.send("b7", boot, "free-run", "", "", 8000)  // nobody registered this bench
	d.send("b1", again, "free-run", "", "", 7000) // the same name from another bench
	d.send("b1", boot, "free-run", "", "", 7100)  // and from another start of it

	d.meet(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: day.UsualRules()})
	d.meet(meet.AddDivision{Division: day.Division{
		ID: "junior", Name: "Junior", AgeFrom: 8, AgeTo: 11,
		Class:  day.CarClass{Name: "club class", LapUM: 1_000_000, WheelUM: 26_000},
		Stages: []day.Stage{programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "race_us": 10_000_000, "rule": "best"})},
	}})
	d.meet(meet.AddBench{Bench: bench(1)})
	d.meet(meet.AddBench{Bench: bench(2)})
	for n := 1; n <= 4; n++ {
		id := day.EntryID(fmt.Sprintf("e-%d", n))
		d.meet(meet.TakeEntry{
			ID: id, Division: "junior", StartNumber: n, Entrant: day.EntrantID(fmt.Sprintf("p-%d", n)),
			Car: day.CarID(fmt.Sprintf("c-%d", n)), Age: 9,
		})
		d.meet(meet.CheckIn{Entry: id, There: true})
	}
	d.meet(meet.CloseEntries{Division: "junior"})
	d.meet(meet.DrawRound{Division: "junior"})
	heats := d.state().Programmes["junior"].Stages[0].Rounds[0].Heats
	for _, heat := range heats {
		d.start(heat)
		for _, l := range d.state().Heats[heat].Lanes {
			d.send(string(l.Bench), boot, string(l.Armed), spring, "", 9000+100*float64(len(l.Entry)))
		}
	}
	first := d.state().Heats[heats[0]].Lanes[0]
	d.send(string(first.Bench), again, string(first.Counts), spring, "", 9100) // sent by a restarted box
	d.send("b3", boot, "left-over", spring, "", 6000)                          // the meet has no b3
	d.send("b2", boot, "stray", spring, "", 6500)                              // no lane armed it

	reason, text := because("t-1", "p-2", "Wilhelmina Seegras said that the plug was loose.")
	lane := d.state().Heats[heats[1]].Lanes[0]
	d.meet(meet.GrantRerun{Heat: heats[1], Entry: lane.Entry, Counts: day.CountsRerun, Reason: reason}, text)
	d.start(heats[1])
	d.meet(meet.RecordHandCount{Heat: heats[1], Entry: lane.Entry, DistanceUM: 130_000_000, UDistanceUM: 300_000})
	half := trace.Chunk{Key: trace.Key{Bench: "b1", Boot: boot, Run: "unfinished"}, Stamps: []int64{1000, 7000}}
	_, err := d.intake.Take(d.t.Context(), harbour, "node-b1", half)
	must(d.t, err)
}

// start calls a heat, confirms its benches and starts it.
func (d *playedDay) start(heat day.HeatID) {
	d.t.Helper()
	d.meet(meet.CallHeat{Heat: heat})
	for _, l := range d.state().Heats[heat].Lanes {
		if l.State == day.LaneCalled {
			d.meet(meet.ConfirmReady{Heat: heat, Bench: l.Bench, StartNumber: d.state().Entries[l.Entry].StartNumber})
		}
	}
	d.meet(meet.StartHeat{Heat: heat})
}

// states rebuilds both states of a database from its logs, as JSON.
func states(t testing.TB, db store.Logs) string {
	t.Helper()
	o := ledger.Options{Logs: db}
	clubs, meets := ledger.New(ledger.Clubs(), o), ledger.New(ledger.Meets(), o)
	defer clubs.Close()
	defer meets.Close()
	c, err := clubs.At(t.Context(), store.ClubStream(harbour), 0)
	must(t, err)
	m, err := meets.At(t.Context(), store.MeetStream(harbour, spring), 0)
	must(t, err)
	text, err := json.MarshalIndent([]any{c.State, c.Head, m.State, m.Head}, "", " ")
	must(t, err)
	return string(text)
}
