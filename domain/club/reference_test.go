package club_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// A reference check of two benches with one car.
var (
	referenceCar = club.CarRegistered{Car: club.Car{ID: "ref", Number: 91, Reference: true}}
	begun        = club.ReferenceCheckBegun{
		Meet: "spring", Number: 1, Benches: []day.BenchID{"b1", "b2"}, Cars: []day.CarID{"ref"}, RaceUS: 30_000_000, By: "o",
	}
	of             = &club.Reference{Meet: "spring", Check: 1}
	referenceArmed = club.PracticeArmed{Bench: "b1", Run: "practice-b1-1", Car: "ref", RaceUS: 30_000_000, By: "o", Reference: of}
	referenceRun   = club.PracticeRecorded{
		ID: "practice-b1-1", Bench: "b1", Car: "ref", Boot: "aa", Trace: "t1", Figures: ran(5), Reference: of, Armed: true,
	}
)

func begin() club.BeginCheck {
	return club.BeginCheck{Meet: "spring", Benches: []day.BenchID{"b1", "b2"}, Cars: []day.CarID{"ref"}, RaceUS: 30_000_000}
}

func TestReferenceCheck(t *testing.T) {
	ready := []club.Event{benchOne, benchTwo, carSeven, referenceCar}
	then := func(more ...club.Event) []club.Event { return append(ready[:len(ready):len(ready)], more...) }
	arm := club.ArmPractice{Bench: "b1", Number: 91, RaceUS: 1_000_000, Reference: "spring"}
	second := begun
	second.Number = 2
	byHand := record()
	byHand.Number = 7
	otherCar := recorded
	otherCar.Car = "seven"
	tests := []struct {
		name   string
		given  []club.Event
		when   club.Command
		then   []club.Event
		refuse refusal.Code
	}{
		{"a check begins", ready, begin(), []club.Event{begun}, ""},
		{"the next has the next number", then(begun), begin(), []club.Event{second}, ""},
		{
			"with a car that races", then(),
			club.BeginCheck{Meet: "spring", Benches: []day.BenchID{"b1", "b2"}, Cars: []day.CarID{"seven"}, RaceUS: 30_000_000},
			nil,
			"reference-car",
		},
		{
			"with a car that is not there", then(),
			club.BeginCheck{Meet: "spring", Benches: []day.BenchID{"b1", "b2"}, Cars: []day.CarID{"x"}, RaceUS: 30_000_000},
			nil, "no-car",
		},
		{
			"with one bench", then(),
			club.BeginCheck{Meet: "spring", Benches: []day.BenchID{"b1"}, Cars: []day.CarID{"ref"}, RaceUS: 30_000_000},
			nil, "reference-plan",
		},
		{
			"with a bench that is not there", then(),
			club.BeginCheck{Meet: "spring", Benches: []day.BenchID{"b1", "b9"}, Cars: []day.CarID{"ref"}, RaceUS: 30_000_000},
			nil, "no-bench",
		},
		{
			"for an hour a run", then(),
			club.BeginCheck{Meet: "spring", Benches: []day.BenchID{"b1", "b2"}, Cars: []day.CarID{"ref"}, RaceUS: 3_600_000_000},
			nil,
			"reference-time",
		},
		{"a run is armed for as long as the check says", then(begun), arm, []club.Event{referenceArmed}, ""},
		{"without a check", ready, arm, nil, "reference-none"},
		{"with a car of another kind", then(begun), club.ArmPractice{Bench: "b1", Number: 7, Reference: "spring"}, nil, "reference-not-planned"},
		{
			"on a bench that is not in it", then(begun, club.BenchRegistered{Bench: bench("b3", 3)}),
			club.ArmPractice{Bench: "b3", Number: 91, Reference: "spring"},
			nil, "reference-bench",
		},
		{"the armed run is of the check", then(begun, referenceArmed), record(), []club.Event{lasting(referenceRun, 30_000_000)}, ""},
		{"but not with another car", then(begun, referenceArmed), byHand, []club.Event{lasting(otherCar, 30_000_000)}, ""},
		{
			"a run is dropped", then(begun, referenceArmed, referenceRun),
			club.DropReference{Run: "practice-b1-1"},
			[]club.Event{club.ReferenceRunDropped{Run: "practice-b1-1", By: "o"}},
			"",
		},
		{
			"once", then(begun, referenceArmed, referenceRun, club.ReferenceRunDropped{Run: "practice-b1-1", By: "o"}),
			club.DropReference{Run: "practice-b1-1"},
			nil, "",
		},
		{"an ordinary run cannot be dropped", then(armed, recorded), club.DropReference{Run: "practice-b1-1"}, nil, "reference-run"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := club.Decide(given(tt.given...), tt.when, meet.Meta{Actor: "o", NowUS: clubStart})
			if no, is := refusal.As(err); is != (tt.refuse != "") || is && no.Code != tt.refuse {
				t.Fatalf("refused %v, want %q", err, tt.refuse)
			}
			if diff := cmp.Diff(tt.then, got); diff != "" {
				t.Errorf("events (-want +got):\n%s", diff)
			}
		})
	}
}

func TestReferenceRuns(t *testing.T) {
	again := club.PracticeRecorded{ID: "practice-b2-2", Bench: "b2", Car: "ref", Boot: "aa", Trace: "t2", Figures: ran(6), Reference: of}
	free := club.PracticeRecorded{ID: "free", Bench: "b1", Figures: ran(4)}
	s := given(benchOne, benchTwo, referenceCar, begun, referenceArmed, referenceRun, free, again)
	var ids []day.RunID
	for _, r := range s.ReferenceRuns("spring") {
		ids = append(ids, r.ID)
	}
	if diff := cmp.Diff([]day.RunID{"practice-b2-2"}, ids[1:]); diff != "" || ids[0] != "practice-b1-1" {
		t.Errorf("got %v", ids)
	}
	if _, slot, next := s.NextReference("b1"); !next || slot.Slot != 3 {
		t.Errorf("next on b1: %v %v", next, slot)
	}
	club.Evolve(s, club.ReferenceRunDropped{Run: "practice-b1-1"}, clubStart+9_000_000)
	if left := s.ReferenceRuns("spring"); len(left) != 1 || left[0].ID != "practice-b2-2" {
		t.Errorf("after one was dropped: %v", left)
	}
	if other := s.ReferenceRuns("autumn"); len(other) != 0 {
		t.Errorf("another meet has %v", other)
	}
	if _, slot, next := s.NextReference("b1"); !next || slot.Slot != 1 {
		t.Errorf("next on b1 after its run was dropped: %v %v", next, slot)
	}
	late := s.Clone()
	late.TimeUS += 3 * 3600 * 1_000_000
	if _, _, next := late.NextReference("b1"); next {
		t.Error("a check of three hours ago is still offered")
	}
	last, _ := s.LastCheck("spring")
	want := []fairness.ReferenceRun{
		{Slot: 1, Car: "ref", Bench: "b1"},
		{Slot: 2, Car: "ref", Bench: "b2"},
		{Slot: 3, Car: "ref", Bench: "b1"},
		{Slot: 4, Car: "ref", Bench: "b2"},
	}
	if diff := cmp.Diff(want, last.Plan()); diff != "" {
		t.Errorf("plan (-want +got):\n%s", diff)
	}
}

// lasting is a run that was asked to last so long.
func lasting(e club.PracticeRecorded, raceUS int64) club.PracticeRecorded {
	e.RaceUS = raceUS
	return e
}
