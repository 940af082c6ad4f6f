package intake

import (
	"testing"

	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/trace"
)

// TestAServerThatIsBehindMeasuresByWhatHolds: the chunks of a run come to a server that has not
// heard yet that its heat was called, or its bench set, at another one. It measures by what the
// log says, as whoever verifies it will.
func TestAServerThatIsBehindMeasuresByWhatHolds(t *testing.T) {
	disk := openSQLite(t)
	desk, behind := newServer(t, disk), newServer(t, disk)
	desk.plan(t, "spring", meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: day.UsualRules()})
	desk.give(t, club.RegisterCar{Car: club.Car{ID: "c1", Number: 1}})
	if snapshot, err := behind.meets.At(t.Context(), store.MeetStream(harbour, "spring"), 0); err != nil || !snapshot.State.Planned {
		t.Fatalf("%+v %v", snapshot.State, err)
	}
	behind.club(t)
	desk.beginRace(t, "spring")
	desk.give(t, club.RegisterBench{Bench: benchOne})

	// 300 marks are 299 turns of 100 mm: 29.9 m, a lap of 20 m and a half.
	for _, c := range cut(racedRun, steadyTrain(300), trace.Totals{Meet: "spring"}, 100) {
		behind.take(t, c)
	}
	for _, c := range cut("practice-b1-1", steadyTrain(300), trace.Totals{}, 100) {
		behind.take(t, c)
	}
	snapshot, err := desk.meets.Newest(t.Context(), store.MeetStream(harbour, "spring"))
	if err != nil {
		t.Fatal(err)
	}
	if f := snapshot.State.Runs[racedRun].Figures; f.Laps != 1 || f.DistanceUM != 29_900_000 {
		t.Errorf("the race is measured as %+v", f)
	}
	practised, err := desk.clubs.Newest(t.Context(), store.ClubStream(harbour))
	if err != nil {
		t.Fatal(err)
	}
	r := practised.State.Runs.At("practice-b1-1")
	if r == nil || r.Figures.DistanceUM != 29_900_000 {
		t.Errorf("the practice run is %+v", r)
	}
}
