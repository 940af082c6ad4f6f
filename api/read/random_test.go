package read

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/bracket"
	"benchmeet/domain/battery"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

// forms are stages of all forms of competition, for a small field.
func forms() []day.Stage {
	return []day.Stage{
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "lanes": 3, "rule": "mean"}),
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "rule": "best"}),
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "rule": "sum", "lane_design": true}),
		programmetest.Stage("knockout", programmetest.Set{"third_place": true}),
		programmetest.Stage("knockout", programmetest.Set{"plate": true}),
		programmetest.Stage("knockout", programmetest.Set{"legs": 2}),
		programmetest.Stage("double-elimination", nil),
		programmetest.Stage("round-robin", nil),
		programmetest.Stage("groups", programmetest.Set{"groups": 2}),
		programmetest.Stage("swiss", programmetest.Set{"rounds": 3}),
		programmetest.Stage("heats", programmetest.Set{"lanes": 3, "advance": 2, "next_best": 1, "heat_order": bracket.CircleOrder}),
		programmetest.Stage("heats", programmetest.Set{"advance": 1, "next_best": 1, "b_final": true}),
		programmetest.Stage("points-rounds", programmetest.Set{"lanes": 3, "rounds": 2, "place_points": []int64{3, 2}}),
	}
}

// TestEveryFormIsPlayed: a further form of competition has to stand in forms too.
func TestEveryFormIsPlayed(t *testing.T) {
	contract, err := gen.GetSpec()
	if err != nil {
		t.Fatal(err)
	}
	for _, kind := range contract.Components.Schemas["StageBody"].Value.Properties["kind"].Value.Enum {
		if !slices.ContainsFunc(forms(), func(st day.Stage) bool { return string(st.Kind()) == kind }) {
			t.Errorf("no random day has a stage of %v", kind)
		}
	}
}

// TestShownIsWhatIsOnRandomDays gives random orders to days of four divisions of all
// forms, with names and consents that change and people that are erased, and looks
// after each event at a random part of all topics, and in the end at all: what the
// model shows is to the byte what is computed from nothing.
func TestShownIsWhatIsOnRandomDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := newRandomDay(t)
		for range rapid.IntRange(15, 60).Draw(t, "orders") {
			switch rapid.IntRange(0, 19).Draw(t, "what") {
			case 0:
				d.rename()
			case 1, 2, 3, 4, 5, 6:
				d.give(d.anything())
			default:
				d.give(d.onward())
			}
		}
		d.look(true)
	})
}

type randomDay struct {
	t      *rapid.T
	s      *day.State
	now    int64
	model  *Model
	people *people
	names  *view.Directory
	divs   []day.DivisionID
}

func newRandomDay(t *rapid.T) *randomDay {
	d := &randomDay{t: t, s: day.New(), now: 1_800_000_000_000_000, model: New(nil), people: &people{all: map[string]store.Person{}}}
	d.names = view.NewDirectory(d.people)
	d.give(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: d.rules()})
	for n := 1; n <= 6; n++ {
		d.give(meet.AddBench{Bench: day.Bench{
			ID: day.BenchID(fmt.Sprint("b", n)), Number: n, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000,
		}})
	}
	for _, id := range []day.DivisionID{"a", "b", "c", "d"} {
		stages := []day.Stage{rapid.SampledFrom(forms()).Draw(t, "form")}
		if rapid.Bool().Draw(t, "then") {
			then := rapid.SampledFrom(forms()).Draw(t, "second")
			then.Entries = 4
			stages = append(stages, then)
		}
		v := day.Division{ID: id, Name: "Band " + string(id), AgeTo: 12, Class: day.CarClass{LapUM: 20_000_000}, Stages: stages}
		if rapid.Bool().Draw(t, "checked") {
			v.Class.Battery = &day.ClassBattery{Windows: battery.Windows{battery.FreshWindow(battery.Alkaline, 2)}, AsideAfter: 2}
			v.Class.Checklist = []day.CheckItem{{ID: "guard", Name: "The guard sits tight"}}
		}
		d.give(meet.AddDivision{Division: v})
		d.divs = append(d.divs, id)
	}
	for n := 1; n <= 20; n++ {
		id := day.EntryID(fmt.Sprint("e", n))
		person := fmt.Sprint("p", n)
		d.people.all[person] = store.Person{ID: person, DisplayName: fmt.Sprint("Nick \"", n, "\" <seq>"), OnScreen: true, InResults: n%2 == 0}
		d.give(meet.TakeEntry{
			ID: id, Division: d.divs[n%4], StartNumber: n, Entrant: day.EntrantID(fmt.Sprint("p", n)), Car: day.CarID(fmt.Sprint("c", n)), Age: 9,
		})
		d.give(meet.CheckIn{Entry: id, There: true})
	}
	if rapid.IntRange(0, 3).Draw(t, "merge") == 0 {
		d.give(meet.MergeDivisions{Into: "a", From: []day.DivisionID{"b"}})
	}
	for _, id := range d.divs {
		d.give(meet.CloseEntries{Division: id})
		d.give(meet.DrawRound{Division: id})
	}
	return d
}

func (d *randomDay) rules() day.Rules {
	rules := day.UsualRules()
	gates := []day.GateRule{day.GateOff, day.GateWarn, day.GateHold}
	rules.BatteryGate = rapid.SampledFrom(gates[:2]).Draw(d.t, "battery")
	rules.InspectionGate = rapid.SampledFrom(gates[:2]).Draw(d.t, "inspection")
	rules.Tie = rapid.SampledFrom([]day.TieRule{day.TieShared, day.TieNextBest, day.TieDecider}).Draw(d.t, "tie")
	rules.HandCounts = rapid.SampledFrom([]day.HandRule{day.HandRanks, day.HandShown}).Draw(d.t, "hand")
	rules.DidNotFinish = rapid.SampledFrom([]day.DidNotFinishRule{day.KeepDistance, day.NoResult}).Draw(d.t, "dnf")
	rules.Close = rapid.SampledFrom([]day.CloseRule{"", day.CloseDecider}).Draw(d.t, "close")
	rules.Benches = day.BenchCorrect
	return rules
}

// give decides an order and looks after each of its events.
func (d *randomDay) give(c meet.Command) {
	d.now += rapid.SampledFrom([]int64{0, 1_000_000, 200_000_000}).Draw(d.t, "later")
	events, err := meet.Decide(d.s, c, meet.Meta{Actor: "referee", NowUS: d.now, Seed: uint64(d.now % 1000)})
	if err != nil {
		return
	}
	for _, e := range events {
		d.s = d.s.Clone()
		day.Evolve(d.s, e, d.now)
	}
	// Events of one order become visible together: between them nobody looks.
	d.look(false)
}

// look compares topics: all, or some.
func (d *randomDay) look(all bool) {
	names, err := d.names.Names(d.t.Context(), "harbour")
	if err != nil {
		d.t.Fatal(err)
	}
	topics := topicsOf(d.s)
	if !all {
		n := rapid.IntRange(0, 4).Draw(d.t, "topics")
		topics = rapid.SliceOfN(rapid.SampledFrom(topics), n, n).Draw(d.t, "which")
	}
	if err := differs(d.model, view.MeetView{ID: "spring", State: d.s, Head: headAt(d.s), Names: names}, topics); err != nil {
		d.t.Fatal(err)
	}
}

// rename changes what is known of somebody, or erases them.
func (d *randomDay) rename() {
	id := fmt.Sprint("p", rapid.IntRange(1, 20).Draw(d.t, "person"))
	if p, there := d.people.all[id]; there {
		switch rapid.IntRange(0, 2).Draw(d.t, "how") {
		case 0:
			delete(d.people.all, id)
		case 1:
			p.OnScreen = !p.OnScreen
			d.people.all[id] = p
		default:
			p.DisplayName += "x"
			d.people.all[id] = p
		}
	}
	d.names.Forget("harbour")
	d.look(false)
}

// onward brings the day on.
func (d *randomDay) onward() meet.Command {
	if d.s.Paused {
		return meet.Resume{}
	}
	var open []day.Heat
	for _, h := range d.s.SortedHeats() {
		if !h.Posted() {
			open = append(open, h)
		}
	}
	division := rapid.SampledFrom(d.divs).Draw(d.t, "division")
	if len(open) == 0 || rapid.IntRange(0, 5).Draw(d.t, "close") == 0 {
		return rapid.SampledFrom([]meet.Command{
			meet.DrawRound{Division: division},
			meet.CloseRound{Division: division, Early: &day.Reason{Code: day.ReasonTime}},
			meet.PublishResults{Division: division},
		}).Draw(d.t, "next")
	}
	h := rapid.SampledFrom(open).Draw(d.t, "heat")
	for _, l := range h.Lanes {
		switch l.State {
		case day.LaneCalled:
			return meet.ConfirmReady{Heat: h.ID, Bench: l.Bench, StartNumber: d.s.Entries[l.Entry].StartNumber}
		case day.LaneRacing:
			return meet.RecordRun{ID: l.Armed, Bench: l.Bench, Boot: "b1", Trace: string(l.Armed), Figures: d.figures()}
		}
	}
	if h.Phase == day.PhaseCalled {
		return meet.StartHeat{Heat: h.ID}
	}
	return meet.CallHeat{Heat: h.ID}
}

func (d *randomDay) figures() measure.Figures {
	um := rapid.Int64Range(0, 6).Draw(d.t, "m")*100_000_000 + rapid.SampledFrom([]int64{0, 0, 5_000, 90_000}).Draw(d.t, "near")
	f := measure.Figures{Method: measure.Method, DistanceUM: um, UDistanceUM: 50_000, U95DistanceUM: 98_000, TimeUS: 60_000_000}
	if rapid.IntRange(0, 5).Draw(d.t, "lopsided") == 0 {
		f.LowUM, f.HighUM = max(0, um-100_000), um+300_000
	}
	return f
}

// anything is an order about things that are there, mostly.
func (d *randomDay) anything() meet.Command {
	heat, entry := d.heatAndEntry()
	other, otherEntry := d.heatAndEntry()
	run := day.RunID("stray")
	if runs := d.s.SortedRuns(); len(runs) > 0 {
		run = rapid.SampledFrom(runs).Draw(d.t, "run").ID
	}
	bench := day.BenchID(fmt.Sprint("b", rapid.IntRange(1, 6).Draw(d.t, "bench")))
	division := rapid.SampledFrom(d.divs).Draw(d.t, "division")
	number := rapid.IntRange(1, 30).Draw(d.t, "number")
	yes := rapid.Bool().Draw(d.t, "yes")
	why := day.Reason{Code: rapid.SampledFrom([]day.ReasonCode{day.ReasonPower, day.ReasonTie}).Draw(d.t, "why")}
	status := rapid.SampledFrom([]day.LaneStatus{
		day.StatusNone, day.StatusDidNotStart, day.StatusDidNotFinish, day.StatusDisqualified, day.StatusWithdrawn,
	}).Draw(d.t, "status")
	counts := rapid.SampledFrom([]day.RerunCounts{day.CountsRerun, day.CountsBetter, day.CountsDecider}).Draw(d.t, "counts")
	protest := day.ProtestID(fmt.Sprint("protest", rapid.IntRange(1, 3).Draw(d.t, "protest")))
	pack := day.PackID(fmt.Sprint("pack", rapid.IntRange(1, 4).Draw(d.t, "pack")))
	return rapid.SampledFrom([]meet.Command{
		meet.CallHeat{Heat: heat, Benches: []day.BenchID{bench}},
		meet.CallOff{Heat: heat, Reason: why},
		meet.MoveLane{Heat: heat, Entry: entry, Bench: bench},
		meet.StartHeat{Heat: heat},
		meet.TakeReadyBack{Heat: heat, Bench: bench},
		meet.WantOfficial{Bench: bench, Wanted: yes},
		meet.CheckBattery{Entry: entry, Pack: pack, Reading: battery.Reading{Chemistry: battery.Alkaline, Cells: 2, OpenMV: 3100}},
		meet.AddPacks{Packs: []day.PackID{pack}},
		meet.IssuePack{Pack: pack, Entry: entry},
		meet.ReturnPack{Pack: pack, Hurt: yes},
		meet.PutPackBack{Pack: pack, Reason: why},
		meet.DealPacks{Heats: []day.HeatID{heat, other}, SpreadMV: 500, SpreadMOhm: 500},
		meet.InspectCar{Entry: entry, Values: []day.ItemValue{{Item: "guard", Yes: &yes}}},
		meet.LapseInspection{Entry: entry, Reason: why},
		meet.LetRace{Heat: heat, Entry: entry, Reason: why},
		meet.RecordRun{ID: run, Bench: bench, Boot: "b2", Trace: "t", Figures: d.figures()},
		meet.RecordHandCount{Heat: heat, Entry: entry, DistanceUM: int64(number) * 10_000_000, UDistanceUM: 1000},
		meet.AskRerun{Heat: heat, Entry: entry, Reason: why},
		meet.TurnDownRerun{Heat: heat, Entry: entry, Reason: why},
		meet.GrantRerun{Heat: heat, Entry: entry, Counts: counts, Reason: why},
		meet.LetRunStand{Heat: heat, Entry: entry, Reason: why},
		meet.AcceptRun{Run: run, Heat: heat, Entry: entry, Reason: why},
		meet.AcceptRun{Run: run, Heat: other, Entry: otherEntry, Reason: why},
		meet.SetRunAside{Run: run, Reason: why},
		meet.ReassignRun{Run: run, Heat: heat, Entry: entry, Reason: why},
		meet.ReassignRun{Run: run, Heat: other, Entry: otherEntry, Reason: why},
		meet.SwapLanes{Heat: heat, A: entry, B: otherEntry, Reason: why},
		meet.VoidHeat{Heat: heat, Reason: why},
		meet.RuleStatus{Heat: heat, Entry: entry, Status: status, Reason: why},
		meet.Penalise{Heat: heat, Entry: entry, UM: int64(number) * 1_000_000, Reason: why},
		meet.Withdraw{Entry: entry, Reason: why},
		meet.Disqualify{Entry: entry, Reason: why},
		meet.Reinstate{Entry: entry, Reason: why},
		meet.LodgeProtest{ID: protest, Heat: heat, Entry: entry, Reason: why},
		meet.RuleProtest{ID: protest, Upheld: yes, Reason: why},
		meet.Pause{Reason: why},
		meet.ChangeBenchService{Bench: bench, Out: yes, Reason: why},
		meet.CloseEntries{Division: division, Open: yes},
		meet.DrawAgain{Division: division, Reason: why},
		meet.LetDrawStand{Division: division, Reason: why},
		meet.EndProgramme{Division: division, Reason: why},
		meet.MergeDivisions{Into: "c", From: []day.DivisionID{division}},
		meet.SplitDivision{Division: division},
		meet.CheckIn{Entry: entry, There: yes},
		meet.TakeEntry{ID: day.EntryID(fmt.Sprint("n", number)), Division: division, StartNumber: number, Entrant: "p1", Car: "c1", Age: 9},
		meet.ChangeEntry{ID: entry, Division: division, StartNumber: number, Car: "c2", Age: -1},
		meet.AddBench{Bench: day.Bench{ID: bench, Number: number, CircumferenceUM: 100_000, Marks: 2, StampNS: 1}},
		meet.ChangePlan{Plan: day.Plan{Name: fmt.Sprint("Meet ", number), Date: "2027-03-06"}},
		meet.ChangeRules{Rules: day.UsualRules()},
		meet.AdoptFactors{Reason: why, Runs: number, Factors: []fairness.Adopted{
			{Bench: string(bench), FactorPPM: 1_000_000 + int64(number)*10_000, UPPM: 2000, Degrees: 9},
			{Bench: "b1", FactorPPM: 980_000, UPPM: 2000, Degrees: 9},
		}},
		meet.WithdrawFactors{Reason: why},
		meet.MeasureAgain{Bench: bench, Runs: []meet.Remeasured{{Run: run, Trace: string(run), Figures: d.figures()}}, Reason: why},
	}).Draw(d.t, "order")
}

func (d *randomDay) heatAndEntry() (day.HeatID, day.EntryID) {
	heats := d.s.SortedHeats()
	if len(heats) == 0 {
		return "none", "e1"
	}
	h := rapid.SampledFrom(heats).Draw(d.t, "heat")
	if rapid.Bool().Draw(d.t, "asked") { // so that requests are answered
		for _, of := range heats {
			for _, l := range of.Lanes {
				if _, open := board.AskOpen(d.s, of, l); open {
					return of.ID, l.Entry
				}
			}
		}
	}
	if len(h.Lanes) == 0 {
		return h.ID, "e1"
	}
	return h.ID, rapid.SampledFrom(h.Lanes).Draw(d.t, "lane").Entry
}
