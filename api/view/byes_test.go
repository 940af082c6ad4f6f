package view_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/gen"
	"benchmeet/api/view/viewtest"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
)

// TestByesOfTheBoard: of five in a knockout three have nobody to race in the first round.
// They stand on the call board as long as the round is under way, and who has left does not.
func TestByesOfTheBoard(t *testing.T) {
	d := viewtest.New(t, 0)
	d.Give(meet.AddDivision{Division: day.Division{
		ID: "knock", Name: "Knockout", AgeFrom: 8, AgeTo: 11, Class: day.CarClass{Name: "club class", LapUM: 20_000_000},
		Stages: []day.Stage{programmetest.Stage("knockout", programmetest.Set{"seeding": "hand"})},
	}})
	entries := []day.EntryID{"k1", "k2", "k3", "k4", "k5"}
	for i, id := range entries {
		d.Give(meet.TakeEntry{ID: id, Division: "knock", StartNumber: i + 11, Age: 9, Entrant: "p" + day.EntrantID(id), Car: "c" + day.CarID(id)})
		d.Give(meet.CheckIn{Entry: id, There: true})
	}
	d.Give(meet.CloseEntries{Division: "knock"})
	d.Give(meet.SeedDivision{Division: "knock", SeedOrder: programme.SeedOrder{Method: "hand", Order: entries}})
	numbers := func() map[int][]int {
		out := map[int][]int{}
		var byes []gen.BoardByes
		if of := show(t, d, newHall(t).of(t)).Board().Byes; of != nil {
			byes = *of
		}
		for _, b := range byes {
			for _, r := range b.Racers {
				out[b.Round] = append(out[b.Round], r.StartNumber)
			}
		}
		return out
	}
	want := func(want map[int][]int) {
		t.Helper()
		if diff := cmp.Diff(want, numbers()); diff != "" {
			t.Errorf("round by round (-want +got)\n%s", diff)
		}
	}
	want(map[int][]int{})
	d.Give(meet.DrawRound{Division: "knock"})
	want(map[int][]int{1: {11, 12, 13}})
	d.Give(meet.Withdraw{Entry: "k2", Reason: day.Reason{Code: day.ReasonFamily}})
	want(map[int][]int{1: {11, 13}})
	d.Call("knock-1.1.1")
	d.Race("knock-1.1.1")
	d.NowUS += 3_600_000_000 // no protest came
	d.Give(meet.CloseRound{Division: "knock"})
	want(map[int][]int{})
}

// TestRulesFixed: a page of the plan shows the rules as fixed from the first call on.
func TestRulesFixed(t *testing.T) {
	d := viewtest.New(t, 4)
	d.Give(meet.DrawRound{Division: "junior"})
	fixed := func() bool { of := show(t, d, newHall(t).of(t)).Meet().RulesFixed; return of != nil && *of }
	if fixed() {
		t.Error("fixed before the first call")
	}
	d.Call("junior-1.1.1")
	if !fixed() {
		t.Error("not fixed after the first call")
	}
}
