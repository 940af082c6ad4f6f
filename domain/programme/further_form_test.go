package programme_test

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"
)

// withoutWorst is a form that the program does not have, to show that a form is one
// file: rounds as in timed rounds, and the sum of all runs but the worst ranks.
type withoutWorst struct {
	programme.Dealt
	// Drop is how many runs are left out.
	Drop int `json:"drop,omitempty"`
}

func init() { programme.Enter[withoutWorst]() }

func (withoutWorst) Kind() day.StageKind { return "sum-without-worst" }

func (w withoutWorst) Check(d day.DivisionID, number int, _ day.Stage) error {
	if w.Drop < 0 || w.Drop >= w.RoundCount {
		return refusal.New("timed-rounds", "division", d, "stage", number, "most", w.RoundCount)
	}
	return nil
}

func (withoutWorst) Tied(*day.State, []day.HeatID) []programme.TiedLane { return nil }

func (w withoutWorst) Rank(s *day.State, d day.Division, stage int) []programme.Standing {
	var out []programme.Standing
	for _, line := range programme.StageLines(s, d, stage) {
		um := []int64{}
		for _, r := range line.Runs {
			um = append(um, r.DistanceUM)
		}
		slices.Sort(um)
		for _, run := range um[min(w.Drop, len(um)):] {
			line.DistanceUM += run
		}
		out = append(out, line)
	}
	compare := func(a, b programme.Standing) int { return cmp.Compare(b.DistanceUM, a.DistanceUM) }
	slices.SortFunc(out, func(a, b programme.Standing) int { return cmp.Or(compare(a, b), cmp.Compare(a.Entry, b.Entry)) })
	programme.RankLines(out, compare)
	return out
}

// TestFurtherForm plays a division in a form that no other file knows: from its
// settings over draws and results to standings, and the log once more.
func TestFurtherForm(t *testing.T) {
	st := programmetest.Stage("sum-without-worst", programmetest.Set{"rounds": 3, "drop": 1})
	p := &played{t: t, s: day.New()}
	p.must(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: day.UsualRules()})
	for n := 1; n <= 2; n++ {
		p.must(meet.AddBench{Bench: day.Bench{
			ID: day.BenchID(fmt.Sprint("b", n)), Number: n, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000, ClockPPB: 20_000,
		}})
	}
	p.must(
		meet.AddDivision{Division: day.Division{ID: "d", Name: "d", AgeTo: 12, Class: day.CarClass{LapUM: 20_000_000}, Stages: []day.Stage{st}}},
	)
	for n := 1; n <= 3; n++ {
		id := day.EntryID(fmt.Sprint("e", n))
		p.must(meet.TakeEntry{ID: id, Division: "d", StartNumber: n, Entrant: day.EntrantID("p" + id), Car: day.CarID("c" + id), Age: 9})
		p.must(meet.CheckIn{Entry: id, There: true})
	}
	p.must(meet.CloseEntries{Division: "d"})
	// The metres of the three rounds. Whole, e1 has 60, e2 59 and e3 57; without the
	// worst run e3 has 50, e2 49 and e1 40.
	metres := map[day.EntryID][]int64{"e1": {20, 20, 20}, "e2": {10, 24, 25}, "e3": {25, 7, 25}}
	for round := range 3 {
		p.must(meet.DrawRound{Division: "d"})
		p.race(func(e day.EntryID) int64 { return metres[e][round] * 1_000_000 })
		p.must(meet.CloseRound{Division: "d", Early: &day.Reason{Code: day.ReasonTime}})
	}
	var got []string
	for _, line := range programme.Standings(p.s, "d") {
		got = append(got, fmt.Sprint(line.Rank, line.Entry, line.DistanceUM/1_000_000))
	}
	if want := []string{"1e350", "2e249", "3e140"}; !slices.Equal(got, want) {
		t.Errorf("standings are %v, want %v", got, want)
	}
	if !programme.Finished(p.s, "d") {
		t.Error("the division is not finished")
	}
	if sure, known := programme.SureRunsNow(p.s, "d"); !known || sure.Runs != 3 {
		t.Errorf("everybody races %d times for sure, want 3", sure.Runs)
	}
	again := day.New()
	for _, e := range p.log {
		day.Evolve(again, e.event, e.atUS)
	}
	if a, b := string(asJSON(t, p.s)), string(asJSON(t, again)); a != b {
		t.Errorf("the log gives another state:\n%s\n%s", a, b)
	}
	if _, err := programmetest.Read(programmetest.Set{"kind": "sum-without-worst", "rounds": 3, "legs": 2}); err == nil {
		t.Error("a setting of another form was taken")
	}
	if _, err := programmetest.Read(programmetest.Set{"kind": "timed-rounds", "rounds": 3, "drop": 1}); err == nil {
		t.Error("the form's setting was taken by another one")
	}
}

// played is a meet whose events went through the bytes of a log.
type played struct {
	t   *testing.T
	s   *day.State
	now int64
	log []logged
}

type logged struct {
	event day.Event
	atUS  int64
}

func (p *played) must(c meet.Command) {
	p.t.Helper()
	p.now += 1_000_000
	events, err := meet.Decide(p.s, c, meet.Meta{Actor: "o", NowUS: p.now, Seed: uint64(p.now)})
	if err != nil {
		p.t.Fatalf("%T: %v", c, err)
	}
	for _, e := range events {
		read, err := day.Decode(e.Type(), day.VersionOf(e.Type()), asJSON(p.t, e))
		if err != nil {
			p.t.Fatal(err)
		}
		p.log = append(p.log, logged{read, p.now})
		day.Evolve(p.s, read, p.now)
	}
}

// race races all heats that are drawn.
func (p *played) race(um func(day.EntryID) int64) {
	p.t.Helper()
	for _, h := range p.s.SortedHeats() {
		if h.Phase != day.PhaseDrawn {
			continue
		}
		p.must(meet.CallHeat{Heat: h.ID})
		for _, l := range p.s.Heats[h.ID].Lanes {
			p.must(meet.ConfirmReady{Heat: h.ID, Bench: l.Bench, StartNumber: p.s.Entries[l.Entry].StartNumber})
		}
		p.must(meet.StartHeat{Heat: h.ID})
		for _, l := range p.s.Heats[h.ID].Lanes {
			p.must(meet.RecordRun{
				ID: l.Armed, Bench: l.Bench, Boot: "b", Trace: string(l.Armed),
				Figures: measure.Figures{DistanceUM: um(l.Entry), UDistanceUM: 100},
			})
		}
	}
}

func asJSON(t *testing.T, v any) []byte {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return text
}
