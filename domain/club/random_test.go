package club_test

import (
	"bytes"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
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
			case club.ArmPractice, club.BeginCheck:
				continue // arms a new run, or begins a new check, each time
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
	person := day.EntrantID(rapid.SampledFrom([]string{"p1", "p2", "?"}).Draw(t, "person"))
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
			ID: run, Bench: id, Number: number, Boot: boot, Trace: fmt.Sprintf("%s %s %s", id, boot, run), Figures: ran(int64(number)),
		},
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
	if len(seen) != s.Runs.Len() {
		return fmt.Sprintf("%d of %d runs are listed", len(seen), s.Runs.Len())
	}
	return ""
}
