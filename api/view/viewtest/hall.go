package viewtest

import (
	"encoding/json"
	"fmt"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

// Hall is a large day under way, with its events from the beginning.
type Hall struct {
	tb     testing.TB
	State  *day.State
	NowUS  int64
	Events []Told
}

// Told is an event with its time.
type Told struct {
	Event day.Event
	AtUS  int64
}

// NewHall plays a day of so many divisions of so many entries each, on six benches for
// each twenty-four entries but 64 at most: three timed rounds in heats of four, then a
// knockout of sixteen. Two rounds are raced and closed, and half of the third.
func NewHall(tb testing.TB, divisions, entries int) *Hall {
	tb.Helper()
	h := &Hall{tb: tb, State: day.New(), NowUS: Start}
	h.Give(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: day.UsualRules()})
	for n := 1; n <= min(64, max(6, divisions*entries/4)); n++ {
		h.Give(meet.AddBench{Bench: day.Bench{
			ID: day.BenchID(fmt.Sprintf("b%d", n)), Number: n, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000, ClockPPB: 20_000,
		}})
	}
	number := 0
	for n := 1; n <= divisions; n++ {
		id := Division(n)
		h.Give(meet.AddDivision{Division: day.Division{
			ID: id, Name: fmt.Sprint("Band ", n), AgeFrom: 8, AgeTo: 11, Class: day.CarClass{Name: "club class", LapUM: 20_000_000, WheelUM: 24_500},
			Stages: []day.Stage{
				programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "lanes": 4, "rule": "best"}),
				programmetest.Stage("knockout", programmetest.Set{"entries": 16, "third_place": true}),
			},
		}})
		for range entries {
			number++
			entry := day.EntryID(fmt.Sprintf("e%d", number))
			h.Give(meet.TakeEntry{
				ID: entry, Division: id, StartNumber: number, Age: 9,
				Entrant: day.EntrantID(fmt.Sprintf("p%d", number)), Car: day.CarID(fmt.Sprintf("c%d", number)),
			})
			h.Give(meet.CheckIn{Entry: entry, There: true})
		}
		h.Give(meet.CloseEntries{Division: id})
	}
	for round := 1; round <= 3; round++ {
		for n := 1; n <= divisions; n++ {
			h.Give(meet.DrawRound{Division: Division(n)})
			heats := h.State.Programmes[Division(n)].Stages[0].Rounds[round-1].Heats
			if round == 3 {
				heats = heats[:len(heats)/2]
			}
			for _, id := range heats {
				for _, c := range h.Race(id) {
					h.Give(c())
				}
			}
		}
		h.NowUS += 3_600_000_000 // no protest came
		for n := 1; n <= divisions && round < 3; n++ {
			h.Give(meet.CloseRound{Division: Division(n)})
		}
	}
	return h
}

// Division is the id of the n-th division, from 1.
func Division(n int) day.DivisionID { return day.DivisionID(fmt.Sprintf("band-%d", n)) }

// Give carries a command out a second later; a refusal ends the test.
func (h *Hall) Give(c meet.Command) {
	h.tb.Helper()
	h.NowUS += 1_000_000
	events, err := meet.Decide(h.State, c, meet.Meta{Actor: "referee", NowUS: h.NowUS, Seed: 7})
	if err != nil {
		h.tb.Fatalf("%T: %v", c, err)
	}
	for _, e := range events {
		day.Evolve(h.State, e, h.NowUS)
		h.Events = append(h.Events, Told{e, h.NowUS})
	}
}

// Race is the orders of a heat's race, one after the other, each made from the state
// as it is then: the call, a car ready at each bench, the start, and a run of each.
func (h *Hall) Race(id day.HeatID) []func() meet.Command {
	out := []func() meet.Command{func() meet.Command { return meet.CallHeat{Heat: id} }}
	for i := range h.State.Heats[id].Lanes {
		out = append(out, func() meet.Command {
			l := h.State.Heats[id].Lanes[i]
			return meet.ConfirmReady{Heat: id, Bench: l.Bench, StartNumber: h.State.Entries[l.Entry].StartNumber}
		})
	}
	out = append(out, func() meet.Command { return meet.StartHeat{Heat: id} })
	for i := range h.State.Heats[id].Lanes {
		out = append(out, func() meet.Command {
			l := h.State.Heats[id].Lanes[i]
			n := int64(h.State.Entries[l.Entry].StartNumber)
			um := 400_000_000 + n*7_919_000%9_000_000 + h.NowUS/1_000_000%100_000 // a car in a hundred is close to another
			return meet.RecordRun{
				ID: l.Armed, Bench: l.Bench, Boot: "0123456789abcdef", Trace: string(l.Armed),
				Figures: measure.Figures{
					Method: measure.Method, DistanceUM: um, UDistanceUM: 100_000, U95DistanceUM: 200_000, Laps: um / 20_000_000,
					TimeUS: 60_000_000, MeanUMPS: um / 60, MaxUMPS: 7_000_000, MeanMRPM: 4_200_000, MaxMRPM: 4_500_000,
				},
			}
		})
	}
	return out
}

// Records are the day's log, as a stream of that name has it.
func (h *Hall) Records(stream string) []journal.Record {
	h.tb.Helper()
	var out []journal.Record
	var head journal.Head
	for _, told := range h.Events {
		data, err := json.Marshal(told.Event)
		if err != nil {
			h.tb.Fatal(err)
		}
		r, err := journal.Seal(head, journal.Envelope{
			Stream: stream, Seq: head.Seq + 1, Type: told.Event.Type(), V: day.VersionOf(told.Event.Type()),
			Time: told.AtUS, Actor: "referee", Command: "made-up", Data: data,
		})
		if err != nil {
			h.tb.Fatal(err)
		}
		head = r.Head()
		out = append(out, r)
	}
	return out
}
