package club_test

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
	"benchmeet/domain/workshop"
)

// TestRandomClubs gives random lists of commands and checks after each what must
// always hold: deciding changes nothing, clones are independent, a command given
// again has no second effect, and the log folds to the same state to the byte.
func TestRandomClubs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tb := noTB{t: t}
		s, now := club.New(), int64(clubStart)
		var log []journal.Record
		for range rapid.IntRange(1, 80).Draw(t, "commands") {
			now += rapid.SampledFrom([]int64{0, 1_000_000}).Draw(t, "later")
			c, meta := command(t), meet.Meta{Actor: "organiser", NowUS: now}
			before := stateJSON(tb, s)
			events, err := club.Decide(s, c, meta)
			if !bytes.Equal(before, stateJSON(tb, s)) {
				t.Fatalf("deciding %T changed the state", c)
			}
			if err != nil {
				if no, is := refusal.As(err); !is || no.Error() == string(no.Code) {
					t.Fatalf("%T is refused without a sentence: %v", c, err)
				}
				continue
			}
			next := s.Clone()
			for _, e := range events {
				log = append(log, seal(tb, log, e, now))
				club.Evolve(next, e, now)
			}
			if !bytes.Equal(before, stateJSON(tb, s)) || len(s.Newest(1000)) != s.Runs.Len() {
				t.Fatalf("folding the events of %T into a clone changed the original", c)
			}
			s = next
			if says := faultOf(s); says != "" {
				t.Fatalf("after %T %+v: %s", c, c, says)
			}
			switch c.(type) {
			case club.ArmPractice, club.BeginCheck, club.OpenPractice, club.SkipTurn, club.ChangeCar, club.JoinQueue:
				continue // does so anew each time
			}
			if again, err := club.Decide(s, c, meta); err == nil && len(again) > 0 {
				t.Fatalf("%T %+v again gives %v", c, c, again)
			}
		}
		if want, got := stateJSON(tb, s), stateJSON(tb, refold(tb, log)); !bytes.Equal(want, got) {
			t.Fatalf("the log folds to another state\n got %s\nwant %s", got, want)
		}
	})
}

// noTB lets helpers that take a testing.TB fail a rapid test.
type noTB struct {
	testing.TB
	t *rapid.T
}

func (n noTB) Helper()           {}
func (n noTB) Fatal(args ...any) { n.t.Fatal(args...) }

func command(t *rapid.T) club.Command {
	id := day.BenchID(fmt.Sprintf("b%d", rapid.IntRange(1, 3).Draw(t, "bench")))
	number := rapid.IntRange(0, 5).Draw(t, "number")
	carID := day.CarID(fmt.Sprintf("car-%d", rapid.IntRange(1, 5).Draw(t, "car")))
	boot := rapid.SampledFrom([]string{"aa", "bb"}).Draw(t, "boot")
	run := day.RunID(rapid.SampledFrom([]string{"practice-b1-1", "practice-b2-2", "free", "free.aa"}).Draw(t, "run"))
	session := rapid.SampledFrom([]string{"s1", "s2"}).Draw(t, "session")
	person := day.EntrantID(rapid.SampledFrom([]string{"p1", "p2", "?"}).Draw(t, "person"))
	figures := ran(int64(number))
	figures.MeanUMPS = int64(number % 4)
	return rapid.SampledFrom([]club.Command{
		club.RegisterBench{Bench: bench(id, number)},
		club.RetireBench{Bench: id},
		club.RegisterCar{Car: club.Car{ID: carID, Number: number, WheelUM: int64(number)}},
		club.ArmPractice{Bench: id, Number: number, RaceUS: 60_000_000},
		club.ArmPractice{Bench: id, Number: number, Reference: "spring"},
		club.RegisterCar{Car: club.Car{ID: carID, Number: number, Reference: true}},
		club.BeginCheck{Meet: "spring", Benches: []day.BenchID{"b1", "b2"}, Cars: []day.CarID{carID}, RaceUS: 30_000_000},
		club.DropReference{Run: run},
		club.RecordPractice{
			ID: run, Bench: id, Number: number, Boot: boot, Trace: fmt.Sprintf("%s %s %s", id, boot, run), Figures: figures,
		},
		club.OpenPractice{
			ID: session, Benches: []day.BenchID{id},
			Settings: workshop.Settings{RaceUS: 20_000_000, Turn: 1 + number%2, HandsFree: number > 0},
		},
		club.SetPractice{
			Session: session, Benches: []day.BenchID{id, "b3"}, Settings: workshop.Settings{RaceUS: 10_000_000, Turn: 2, HandsFree: true},
		},
		club.ClosePractice{Session: session},
		club.JoinQueue{Session: session, Number: number},
		club.LeaveQueue{Session: session, Number: number},
		club.SkipTurn{Session: session, Number: number},
		club.CancelPractice{Bench: id},
		club.GuessRun{Bench: id, DistanceUM: int64(number)},
		club.MovePractice{Run: run, Number: number},
		club.JudgePractice{Run: run, Drop: []workshop.Drop{"", workshop.Helped}[number%2]},
		club.ChangeCar{Number: number, Setup: workshop.Setup{Driving: number, Driven: 4 * number}, Refit: number > 3},
		club.ChangeCar{
			Number: number, Setup: workshop.Setup{Driving: number, Driven: 3 * number}, NotedUS: clubStart + 9_000_000*int64(number),
		},
		club.PlanComparison{Number: number, From: 0, To: 1, Fittings: 8, RunsAFitting: 1},
		club.ErasePerson{Person: person},
		club.TakeRatings{
			Meet: "m" + string(run), Division: "a", Number: number, Games: []programme.RatedGame{{A: person, B: "p9", Score: number % 3}},
		},
		club.KeepPerson{Person: person},
		club.KeepPerson{Person: person, Consents: &club.Consents{OnScreen: number > 2, Photo: number%2 == 0}},
	}).Draw(t, "command")
}

// faultOf says what is wrong with a state.
func faultOf(s *club.State) string {
	for number, id := range s.Numbers.All() {
		if s.Cars.At(id).Number != number {
			return fmt.Sprintf("number %d leads to car %s, which has %d", number, id, s.Cars.At(id).Number)
		}
	}
	if s.Numbers.Len() != s.Cars.Len() {
		return fmt.Sprintf("%d numbers for %d cars", s.Numbers.Len(), s.Cars.Len())
	}
	plates := map[int]day.BenchID{}
	for _, b := range s.SortedBenches() {
		if other, twice := plates[b.Number]; twice {
			return fmt.Sprintf("%s and %s have one plate", other, b.ID)
		}
		plates[b.Number] = b.ID
	}
	armed := map[day.RunID]bool{}
	for id, a := range s.Armed {
		if _, retired := s.Retired[id]; retired || armed[a.Run] {
			return fmt.Sprintf("bench %s is armed with %s", id, a.Run)
		}
		armed[a.Run] = true
	}
	seen := map[day.RunID]bool{}
	before := int64(1 << 62)
	for r := range s.Practised() {
		if seen[r.ID] || s.Runs.At(r.ID).Trace != r.Trace || r.AtUS > before {
			return fmt.Sprintf("run %s stands at the wrong place", r.ID)
		}
		seen[r.ID], before = true, r.AtUS
	}
	if says := afternoonFault(s); says != "" {
		return says
	}
	if says := drivenFault(s); says != "" {
		return says
	}
	if len(seen) != s.Runs.Len() {
		return fmt.Sprintf("%d of %d runs are listed", len(seen), s.Runs.Len())
	}
	return ""
}

// drivenFault says what is wrong with what is kept of runs, by going through all of them
// again: the farthest of each car and length, the newest of equal ones, and the sums of
// each car and state.
func drivenFault(s *club.State) string {
	type race struct {
		car day.CarID
		us  int64
	}
	type state struct {
		car day.CarID
		n   int
	}
	best, sums := map[race]club.Practice{}, map[state]club.Driven{}
	for r := range s.Practised() {
		if !r.Counts() {
			continue
		}
		if b, there := best[race{r.Car, r.RaceUS}]; !there || r.Figures.DistanceUM > b.Figures.DistanceUM {
			best[race{r.Car, r.RaceUS}] = *r
		}
		if r.Reference == nil && r.Figures.MeanUMPS > 0 {
			d := sums[state{r.Car, r.State}]
			sums[state{r.Car, r.State}] = club.Driven{Car: r.Car, State: r.State, Runs: d.Runs + 1, SpeedUMPS: d.SpeedUMPS + r.Figures.MeanUMPS}
		}
	}
	for r := range s.Practised() {
		k := race{r.Car, r.RaceUS}
		got, there := s.Farthest(k.car, k.us)
		if want, any := best[k]; there != any || got.ID != want.ID || any && got.Car != k.car {
			return fmt.Sprintf("the farthest of car %q in %d µs is %q of car %q, not %q", k.car, k.us, got.ID, got.Car, want.ID)
		}
	}
	many := 0
	for d := range s.Driven() {
		many++
		if sums[state{d.Car, d.State}] != d {
			return fmt.Sprintf("%+v is kept, not %+v", d, sums[state{d.Car, d.State}])
		}
	}
	if many != len(sums) {
		return fmt.Sprintf("%d sums are kept, not %d", many, len(sums))
	}
	return ""
}

// afternoonFault says what is wrong with the practice sessions of a state, by counting the
// runs again.
func afternoonFault(s *club.State) string {
	runs, distance := map[string]map[day.CarID]int{}, map[string]int64{}
	for _, one := range s.Sessions {
		runs[one.ID] = map[day.CarID]int{}
		if !one.Open() && len(one.Queue) > 0 {
			return fmt.Sprintf("somebody waits in session %s, which is over", one.ID)
		}
		for i, car := range one.Queue {
			if slices.Contains(one.Queue[:i], car) || s.Cars.At(car).Number == 0 {
				return fmt.Sprintf("car %q waits twice in session %s, or is no car", car, one.ID)
			}
		}
	}
	perCar := 0
	for r := range s.Practised() {
		if r.Session != "" && r.Counts() {
			runs[r.Session][r.Car]++
			distance[r.Session] += r.Figures.DistanceUM
		}
		if !slices.ContainsFunc(s.History(r.Car, 1000), func(h club.Practice) bool { return h.ID == r.ID }) {
			return fmt.Sprintf("run %s is not among those of car %q", r.ID, r.Car)
		}
	}
	for _, car := range append(s.SortedCars(), club.Car{}) {
		perCar += len(s.History(car.ID, 1000))
	}
	if perCar != s.Runs.Len() {
		return fmt.Sprintf("the cars have %d runs together, of %d", perCar, s.Runs.Len())
	}
	for _, one := range s.Sessions {
		if one.DistanceUM != distance[one.ID] {
			return fmt.Sprintf("session %s drove %d µm, and says %d", one.ID, distance[one.ID], one.DistanceUM)
		}
		for car, had := range one.Had {
			if had.Runs != runs[one.ID][car] {
				return fmt.Sprintf("car %q has made %d runs in session %s, which says %d", car, runs[one.ID][car], one.ID, had.Runs)
			}
		}
	}
	for bench, armed := range s.Armed {
		one, open := s.Session(armed.Session)
		if armed.Session != "" && (!open || !one.Open()) {
			return fmt.Sprintf("bench %s is armed for session %s, which is over", bench, armed.Session)
		}
	}
	return ""
}
