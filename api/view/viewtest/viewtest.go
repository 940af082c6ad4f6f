// Package viewtest plays a meet for tests and benchmarks of what screens show. It
// is for tests only.
package viewtest

import (
	"fmt"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

// Start is when a played meet begins, µs since 1970-01-01 UTC.
const Start = 1_800_000_000_000_000

// Day is a meet under way.
type Day struct {
	tb    testing.TB
	State *day.State
	NowUS int64
}

// New plans the Harbour Hall spring meet: division "junior" of two timed rounds
// on a 20 m lap with four lanes, benches b1 to b4, and as many entries, e1 of
// person p1 with car c1 and start number 1 and so on, all there.
func New(tb testing.TB, entries int) *Day {
	tb.Helper()
	d := &Day{tb: tb, State: day.New(), NowUS: Start}
	d.Give(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: day.UsualRules()})
	d.Give(meet.AddDivision{Division: day.Division{
		ID: "junior", Name: "Junior", AgeFrom: 8, AgeTo: 11, Class: day.CarClass{Name: "club class", LapUM: 20_000_000, WheelUM: 24_500},
		Stages: []day.Stage{programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "lanes": 4, "rule": "best"})},
	}})
	for n := 1; n <= 4; n++ {
		d.Give(meet.AddBench{Bench: day.Bench{
			ID: day.BenchID(fmt.Sprintf("b%d", n)), Number: n, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000, ClockPPB: 20_000,
		}})
	}
	for n := 1; n <= entries; n++ {
		id := day.EntryID(fmt.Sprintf("e%d", n))
		d.Give(meet.TakeEntry{
			ID: id, Division: "junior", StartNumber: n, Age: 9,
			Entrant: day.EntrantID(fmt.Sprintf("p%d", n)), Car: day.CarID(fmt.Sprintf("c%d", n)),
		})
		d.Give(meet.CheckIn{Entry: id, There: true})
	}
	d.Give(meet.CloseEntries{Division: "junior"})
	return d
}

// Give carries a command out a second later; a refusal ends the test.
func (d *Day) Give(c meet.Command) {
	d.tb.Helper()
	d.NowUS += 1_000_000
	events, err := meet.Decide(d.State, c, meet.Meta{Actor: "referee", NowUS: d.NowUS, Seed: 7})
	if err != nil {
		d.tb.Fatalf("%T: %v", c, err)
	}
	for _, e := range events {
		day.Evolve(d.State, e, d.NowUS)
	}
}

// Round draws the division's next round, races all of it and closes it. Entry n
// makes 400 m and n cm, and 20 m less in the first round.
func (d *Day) Round(round int) {
	d.tb.Helper()
	d.Give(meet.DrawRound{Division: "junior"})
	for _, h := range d.State.SortedHeats() {
		if h.Round == round {
			d.Call(h.ID)
			d.Race(h.ID)
		}
	}
	d.NowUS += 3_600_000_000 // no protest came
	d.Give(meet.CloseRound{Division: "junior"})
}

// Call calls a heat and gets its cars ready.
func (d *Day) Call(id day.HeatID) {
	d.tb.Helper()
	d.Give(meet.CallHeat{Heat: id})
	for _, l := range d.State.Heats[id].Lanes {
		d.Give(meet.ConfirmReady{Heat: id, Bench: l.Bench, StartNumber: d.State.Entries[l.Entry].StartNumber})
	}
}

// Race starts a heat and takes its runs in.
func (d *Day) Race(id day.HeatID) {
	d.tb.Helper()
	d.Give(meet.StartHeat{Heat: id})
	h := d.State.Heats[id]
	for _, l := range h.Lanes {
		um := 400_000_000 + int64(d.State.Entries[l.Entry].StartNumber)*10_000
		if h.Round == 1 {
			um -= 20_000_000
		}
		d.Give(meet.RecordRun{
			ID: l.Armed, Bench: l.Bench, Boot: "0123456789abcdef", Trace: string(l.Armed),
			Figures: measure.Figures{
				Method: measure.Method, DistanceUM: um, UDistanceUM: 100_000, U95DistanceUM: 200_000, Laps: um / 20_000_000,
				TimeUS: 60_000_000, MeanUMPS: um / 60, MaxUMPS: 7_000_000, MeanMRPM: 4_200_000, MaxMRPM: 4_500_000,
			},
		})
	}
}
