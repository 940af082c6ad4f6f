package meet_test

import (
	"bytes"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/bracket"
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"
)

// TestRandomDays gives random lists of commands to a small meet and checks after
// each what must always hold.
func TestRandomDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := newRandomDay(t)
		for range rapid.IntRange(20, 160).Draw(t, "commands") {
			d.give(d.command())
		}
		if want, got := stateJSON(d.tb, d.s), stateJSON(d.tb, refold(d.tb, d.log)); !bytes.Equal(want, got) {
			t.Fatalf("the log folds to another state\n got %s\nwant %s", got, want)
		}
	})
}

// randomDay is a meet under random commands.
type randomDay struct {
	t   *rapid.T
	tb  testing.TB
	s   *day.State
	now int64
	log []journal.Record
}

func newRandomDay(t *rapid.T) *randomDay {
	d := &randomDay{t: t, tb: noTB{t: t}, s: day.New(), now: dayStart}
	rules := day.UsualRules()
	rules.BatteryGate = rapid.SampledFrom([]day.GateRule{day.GateOff, day.GateWarn, day.GateHold}).Draw(t, "battery")
	rules.InspectionGate = rapid.SampledFrom([]day.GateRule{day.GateOff, day.GateWarn, day.GateHold}).Draw(t, "inspection")
	rules.Tie = rapid.SampledFrom([]day.TieRule{day.TieShared, day.TieNextBest, day.TieDecider}).Draw(t, "tie")
	rules.HandCounts = rapid.SampledFrom([]day.HandRule{day.HandRanks, day.HandShown}).Draw(t, "hand")
	rules.DidNotFinish = rapid.SampledFrom([]day.DidNotFinishRule{day.KeepDistance, day.NoResult}).Draw(t, "dnf")
	rules.Close = rapid.SampledFrom([]day.CloseRule{"", day.CloseDecider}).Draw(t, "close")
	rules.Benches = rapid.SampledFrom([]day.BenchPolicy{day.BenchReport, day.BenchCorrect, day.BenchTakeOut}).Draw(t, "benches")
	d.give(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: rules})
	for n := range 4 {
		d.give(meet.AddBench{Bench: day.Bench{
			ID: day.BenchID("b" + strconv.Itoa(n+1)), Number: n + 1, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000,
		}})
	}
	for _, id := range []day.DivisionID{"a", "k"} {
		v := day.Division{ID: id, Name: string(id), AgeTo: 12, Class: day.CarClass{LapUM: 20_000_000}, Stages: []day.Stage{
			programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "lanes": 3, "rule": "mean"}),
			programmetest.Stage("knockout", programmetest.Set{"entries": 4, "third_place": true}),
		}}
		if id == "k" {
			v.Stages = []day.Stage{rapid.SampledFrom(append(pairStages(), laneStages()...)).Draw(t, "stage")}
			if rapid.Bool().Draw(t, "then") {
				then := rapid.SampledFrom(pairStages()[:2]).Draw(t, "second")
				then.Entries = 4
				v.Stages = append(v.Stages, then)
			}
		}
		if rapid.Bool().Draw(t, "checked") {
			v.Class.Battery = &day.ClassBattery{Windows: battery.Windows{battery.FreshWindow(battery.Alkaline, 2)}, AsideAfter: 2}
			v.Class.Checklist = []day.CheckItem{{ID: "guard", Name: "The guard sits tight"}}
		}
		d.give(meet.AddDivision{Division: v})
	}
	for n := 1; n <= 10; n++ {
		division, car := day.DivisionID("a"), n
		if n > 5 {
			division = "k"
		}
		if n%4 == 2 {
			car = 1 // siblings, in both divisions
		}
		d.give(meet.TakeEntry{
			ID: day.EntryID("e" + strconv.Itoa(n)), Division: division, StartNumber: n,
			Entrant: day.EntrantID("p" + strconv.Itoa(n)), Car: day.CarID("c" + strconv.Itoa(car)), Age: 9,
		})
		if n != 5 { // one comes late
			d.give(meet.CheckIn{Entry: day.EntryID("e" + strconv.Itoa(n)), There: true})
		}
	}
	return d
}

// pairStages are stages of heats of two.
func pairStages() []day.Stage {
	return []day.Stage{
		programmetest.Stage("knockout", programmetest.Set{"third_place": true}),
		programmetest.Stage("double-elimination", nil),
		programmetest.Stage("round-robin", nil),
		programmetest.Stage("groups", programmetest.Set{"groups": 2}),
		programmetest.Stage("swiss", programmetest.Set{"rounds": 3}),
	}
}

// laneStages are stages of heats of up to three, which the small meet has benches
// for.
func laneStages() []day.Stage {
	return []day.Stage{
		programmetest.Stage("heats", programmetest.Set{"advance": 1, "next_best": 1, "b_final": true}),
		programmetest.Stage("heats", programmetest.Set{"lanes": 3, "advance": 2, "next_best": 1, "heat_order": bracket.CircleOrder}),
		programmetest.Stage("points-rounds", programmetest.Set{"lanes": 3, "rounds": 2, "place_points": []int64{3, 2}}),
		programmetest.Stage("knockout", programmetest.Set{"plate": true}),
		programmetest.Stage("knockout", programmetest.Set{"legs": 2, "third_place": true}),
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "rule": "mean", "lane_design": true}),
	}
}

// noTB lets helpers that take a testing.TB fail a rapid test.
type noTB struct {
	testing.TB
	t *rapid.T
}

func (n noTB) Helper()                           {}
func (n noTB) Fatal(args ...any)                 { n.t.Fatal(args...) }
func (n noTB) Fatalf(format string, args ...any) { n.t.Fatalf(format, args...) }

// give decides a command, checks that this changes nothing, folds its events and
// checks the state.
func (d *randomDay) give(c meet.Command) {
	d.now += rapid.SampledFrom([]int64{0, 1_000_000, 200_000_000}).Draw(d.t, "later")
	before := stateJSON(d.tb, d.s)
	events, err := meet.Decide(d.s, c, d.meta())
	if !bytes.Equal(before, stateJSON(d.tb, d.s)) {
		d.t.Fatalf("deciding %T changed the state", c)
	}
	if err != nil {
		if no, is := refusal.As(err); !is || no.Error() == string(no.Code) {
			d.t.Fatalf("%T is refused without a sentence: %v", c, err)
		}
		return
	}
	next := d.s.Clone()
	for _, e := range events {
		d.log = append(d.log, seal(d.tb, d.log, e, d.now))
		heats := maps.Clone(next.Heats)
		day.Evolve(next, e, d.now)
		if e.Type() != "RoundDrawnAgain" && e.Type() != "RestDrawnAgain" {
			stepsOf(heats, next, d.drawnIn(heatSteps, e), d.drawnIn(laneSteps, e))
		}
	}
	if !bytes.Equal(before, stateJSON(d.tb, d.s)) {
		d.t.Fatalf("folding the events of %T into a clone changed the original", c)
	}
	once := !d.repeatable(c)
	switch c.(type) {
	case meet.AdoptFactors, meet.WithdrawFactors:
		d.officialStay(next)
	}
	d.s = next
	d.check(c)
	if once {
		return
	}
	if again, err := meet.Decide(d.s, c, d.meta()); err == nil && len(again) > 0 {
		d.t.Fatalf("%T %+v again gives %v", c, c, again)
	}
}

// officialStay checks that what was official before is the same in the next state.
func (d *randomDay) officialStay(next *day.State) {
	for _, h := range d.s.SortedHeats() {
		if h.Phase != day.PhaseOfficial {
			continue
		}
		was, _ := programme.FinishOf(d.s, h)
		is, _ := programme.FinishOf(next, next.Heats[h.ID])
		if !slices.Equal(was, is) {
			d.t.Fatalf("factors changed the official result of heat %s from %v to %v", h.ID, was, is)
		}
	}
}

func (d *randomDay) meta() meet.Meta {
	return meet.Meta{Actor: "referee", NowUS: d.now, Seed: uint64(d.now % 1000)}
}

// repeatable says whether a command given twice must not have an effect twice.
func (d *randomDay) repeatable(c meet.Command) bool {
	switch c := c.(type) {
	case meet.RuleStatus:
		// Ends a re-run that the earlier run outlives; then rules on that run.
		for _, l := range d.s.Heats[c.Heat].Lanes {
			if l.Entry == c.Entry && l.Better != "" {
				return false
			}
		}
	case meet.CheckBattery, meet.InspectCar, meet.DealPacks:
		return false // every check and every lot is one more
	case meet.OrderHeat, meet.TellTimes:
		return false // moves once more; the plan goes on with the clock
	case meet.CloseRound:
		return c.Round > 0 // else it is the next one that can be closed
	case meet.SwapLanes, meet.DrawAgain, meet.DrawRest, meet.AddBench, meet.AddDivision, meet.ChangeRules:
		return false // swaps back, draws other lots, or puts the same again
	}
	return true
}

// command draws a command: often one that brings the day on, else any.
func (d *randomDay) command() meet.Command {
	if rapid.IntRange(0, 9).Draw(d.t, "on") < 6 {
		if c := d.onward(); c != nil {
			return c
		}
	}
	return d.anything()
}

// onward is a command that brings the day on.
func (d *randomDay) onward() meet.Command {
	if d.s.Paused {
		return meet.Resume{}
	}
	var heats []day.Heat
	for _, h := range d.s.SortedHeats() {
		if h.Phase == day.PhaseDrawn || h.Phase == day.PhaseCalled || h.Phase == day.PhaseRacing {
			heats = append(heats, h)
		}
	}
	if len(heats) == 0 {
		division := rapid.SampledFrom([]day.DivisionID{"a", "k"}).Draw(d.t, "division")
		return rapid.SampledFrom([]meet.Command{
			meet.CloseEntries{Division: division},
			meet.DrawRound{Division: division},
			meet.CloseRound{Division: division, Early: d.because(day.ReasonTime)},
			meet.PublishResults{Division: division},
		}).Draw(d.t, "next")
	}
	h := heats[rapid.IntRange(0, len(heats)-1).Draw(d.t, "heat")]
	for _, l := range h.Lanes {
		switch l.State {
		case day.LaneCalled:
			return meet.ConfirmReady{Heat: h.ID, Bench: l.Bench, StartNumber: d.s.Entries[l.Entry].StartNumber}
		case day.LaneRacing:
			return meet.RecordRun{ID: l.Armed, Bench: l.Bench, Boot: "b1", Trace: string(l.Armed), Figures: figures(d.distance())}
		}
	}
	if h.Phase == day.PhaseCalled {
		return meet.StartHeat{Heat: h.ID}
	}
	return meet.CallHeat{Heat: h.ID, Short: rapid.Bool().Draw(d.t, "short")}
}

// distance takes few values, so that ties come up, and results too close to call.
func (d *randomDay) distance() int64 {
	near := rapid.SampledFrom([]int64{0, 0, 0, 5_000}).Draw(d.t, "near")
	return rapid.Int64Range(0, 5).Draw(d.t, "m")*100_000_000 + near
}

func (d *randomDay) because(code day.ReasonCode) *day.Reason { return &day.Reason{Code: code} }

// anything is a command with whatever arguments, most of them of things that
// are there.
func (d *randomDay) anything() meet.Command {
	heat, entry := d.heatAndEntry()
	other, otherEntry := d.heatAndEntry()
	run := d.run()
	bench := rapid.SampledFrom([]day.BenchID{"b1", "b2", "b3", "b4", "b9"}).Draw(d.t, "bench")
	division := rapid.SampledFrom([]day.DivisionID{"a", "k", "none"}).Draw(d.t, "division")
	number := rapid.IntRange(0, 12).Draw(d.t, "number")
	yes := rapid.Bool().Draw(d.t, "yes")
	why := day.Reason{Code: rapid.SampledFrom([]day.ReasonCode{day.ReasonPower, day.ReasonTie, "?"}).Draw(d.t, "why")}
	status := rapid.SampledFrom([]day.LaneStatus{
		day.StatusNone, day.StatusDidNotStart, day.StatusDidNotFinish, day.StatusDisqualified, day.StatusWithdrawn,
	}).Draw(d.t, "status")
	counts := rapid.SampledFrom([]day.RerunCounts{day.CountsRerun, day.CountsBetter, day.CountsDecider}).Draw(d.t, "counts")
	protest := rapid.SampledFrom([]day.ProtestID{"p1", "p2", "p3"}).Draw(d.t, "protest")
	um := d.distance()
	seeds := programme.SeedOrder{
		Method: rapid.SampledFrom([]day.SeedMethod{programme.SeedLot, programme.SeedHand, programme.SeedRating, programme.SeedRank}).Draw(
			d.t, "method",
		),
		Order:   []day.EntryID{entry, otherEntry},
		Ratings: []day.Rated{{Entry: entry, Rating: um}, {Entry: otherEntry, Rating: 1_500_000}},
	}
	if lines, there := programme.SeedingOf(d.s, division); there && yes {
		seeds.Order = nil
		for _, l := range slices.Backward(lines.Lines) {
			seeds.Order = append(seeds.Order, l.Entry)
		}
	}
	pack := rapid.SampledFrom([]day.PackID{"c1", "c2", "c3", "own"}).Draw(d.t, "pack")
	reading := battery.Reading{Chemistry: battery.Alkaline, Cells: 2, OpenMV: 3000 + um/5_000_000, Hurt: um == 0}
	return rapid.SampledFrom([]meet.Command{
		meet.CallHeat{Heat: heat, Benches: []day.BenchID{bench}},
		meet.CallHeat{Heat: heat},
		meet.CallHeat{Heat: heat, Sure: true},
		meet.TellTimes{Reason: why.Code},
		meet.TellTimes{FinishUS: d.now + um},
		meet.OrderHeat{Heat: heat, Move: rapid.SampledFrom([]meet.HeatMove{
			meet.MoveSooner, meet.MoveLater, meet.MoveFirst, meet.MoveLast,
		}).Draw(d.t, "move")},
		meet.OrderHeats{Heats: []day.HeatID{heat}},
		meet.HoldHeat{Heat: heat, UntilUS: d.now + um/10},
		meet.HoldHeat{Heat: heat},
		meet.CheckBattery{Entry: entry, Pack: pack, Reading: reading},
		meet.CheckBattery{Division: division, Pack: pack, Reading: reading},
		meet.AddPacks{Packs: []day.PackID{pack}},
		meet.IssuePack{Pack: pack, Entry: entry},
		meet.ReturnPack{Pack: pack, Hurt: yes},
		meet.PutPackBack{Pack: pack, Reason: why},
		meet.DealPacks{Heats: []day.HeatID{heat, other}, SpreadMV: 500, SpreadMOhm: 500},
		meet.InspectCar{Entry: entry, Values: []day.ItemValue{{Item: "guard", Yes: &yes}}, FixUS: um},
		meet.LapseInspection{Entry: entry, Reason: why},
		meet.LetRace{Heat: heat, Entry: entry, Reason: why},
		meet.CallHeat{Heat: heat, Short: true},
		meet.LeaveLane{Heat: heat, Entry: entry},
		meet.DrawRest{Heat: heat, Reason: why},
		meet.CloseRound{Division: division, Round: number % 4, Early: &why},
		meet.CallOff{Heat: heat, Reason: why},
		meet.MoveLane{Heat: heat, Entry: entry, Bench: bench},
		meet.ConfirmReady{Heat: heat, Bench: bench, StartNumber: number},
		meet.TakeReadyBack{Heat: heat, Bench: bench},
		meet.WantOfficial{Bench: bench, Wanted: yes},
		meet.StartHeat{Heat: heat},
		meet.RecordRun{ID: run, Bench: bench, Boot: "b2", Trace: "t", Figures: figures(um)},
		meet.RecordHandCount{Heat: heat, Entry: entry, DistanceUM: um, UDistanceUM: 1000, ClaimedUS: -5},
		meet.CorrectHandCount{Run: run, DistanceUM: um, UDistanceUM: 2000, Reason: why, Sure: yes},
		meet.GrantRerun{Heat: heat, Entry: entry, Counts: counts, Reason: why},
		meet.GrantRerun{Heat: heat, Entry: entry, Counts: counts, Reason: day.Reason{Code: day.ReasonTie}},
		meet.AcceptRun{Run: run, Heat: heat, Entry: entry, Reason: why},
		meet.AcceptRun{Run: run, Heat: other, Entry: otherEntry, Reason: why},
		meet.SetRunAside{Run: run, Reason: why},
		meet.ReassignRun{Run: run, Heat: heat, Entry: entry, Reason: why},
		meet.SwapLanes{Heat: heat, A: entry, B: otherEntry, Reason: why},
		meet.VoidHeat{Heat: heat, Reason: why},
		meet.RuleStatus{Heat: heat, Entry: entry, Status: status, Reason: why},
		meet.Penalise{Heat: heat, Entry: entry, UM: um, Reason: why},
		meet.Withdraw{Entry: entry, Reason: why},
		meet.Disqualify{Entry: entry, Reason: why},
		meet.Reinstate{Entry: entry, Reason: why},
		meet.LodgeProtest{ID: protest, Heat: heat, Entry: entry, Reason: why, ClaimedUS: 1 << 60},
		meet.RuleProtest{ID: protest, Upheld: yes, Reason: why},
		meet.Pause{Reason: why},
		meet.Resume{},
		meet.ChangeBenchService{Bench: bench, Out: yes, Reason: why},
		meet.CloseEntries{Division: division, Open: yes},
		meet.DrawRound{Division: division},
		meet.DrawAgain{Division: division, Reason: why},
		meet.DrawAgain{Division: division, Reason: why, Seeds: &seeds},
		meet.SeedDivision{Division: division, SeedOrder: seeds},
		meet.MergeDivisions{Into: division, From: []day.DivisionID{"a"}},
		meet.MergeDivisions{Into: division, From: []day.DivisionID{"k"}},
		meet.SplitDivision{Division: division},
		meet.LetDrawStand{Division: division, Reason: why},
		meet.CloseRound{Division: division},
		meet.CloseRound{Division: division, Early: &why},
		meet.PublishResults{Division: division},
		meet.CheckIn{Entry: entry, There: yes},
		meet.TakeEntry{
			ID: day.EntryID("n" + strconv.Itoa(number)), Division: division, StartNumber: number, Entrant: "p", Car: "c1", Age: number,
		},
		meet.ChangeEntry{ID: entry, Division: division, StartNumber: number, Car: "c2", Age: -1},
		meet.AddBench{Bench: day.Bench{ID: bench, Number: number, CircumferenceUM: 100_000, Marks: 2, StampNS: 1}},
		meet.ChangeRules{Rules: day.UsualRules()},
		meet.ChangeRules{Rules: promising(2)},
		meet.AdoptFactors{Reason: why, Runs: number, Factors: []fairness.Adopted{
			{Bench: string(bench), FactorPPM: 1_000_000 + int64(number)*10_000, UPPM: 2000, Degrees: 9},
			{Bench: "b1", FactorPPM: 980_000, UPPM: 2000, Degrees: 9},
		}},
		meet.WithdrawFactors{Reason: why},
	}).Draw(d.t, "command")
}

// promising are the usual rules with a promise of runs.
func promising(runs int) day.Rules {
	rules := day.UsualRules()
	rules.RunsAtLeast = runs
	return rules
}

func (d *randomDay) heatAndEntry() (day.HeatID, day.EntryID) {
	heats := d.s.SortedHeats()
	if len(heats) == 0 {
		return "none", day.EntryID("e" + strconv.Itoa(rapid.IntRange(1, 11).Draw(d.t, "entry")))
	}
	h := heats[rapid.IntRange(0, len(heats)-1).Draw(d.t, "heat")]
	if len(h.Lanes) == 0 {
		return h.ID, "none"
	}
	return h.ID, h.Lanes[rapid.IntRange(0, len(h.Lanes)-1).Draw(d.t, "lane")].Entry
}

// run is the id of a run that is there, or that a lane armed once.
func (d *randomDay) run() day.RunID {
	ids := []day.RunID{"stray"}
	for _, r := range d.s.SortedRuns() {
		ids = append(ids, r.ID)
	}
	for _, h := range d.s.SortedHeats() {
		for i, l := range h.Lanes {
			if l.Attempt > 0 {
				ids = append(ids, day.RunID(fmt.Sprintf("%s-L%d-%d", h.ID, i+1, l.Attempt)))
			}
		}
	}
	return rapid.SampledFrom(ids).Draw(d.t, "run")
}

// TestNoFloats looks through the types of the state and of all events: two
// platforms may round a float differently.
func TestNoFloats(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var look func(at string, of reflect.Type)
	look = func(at string, of reflect.Type) {
		if seen[of] {
			return
		}
		seen[of] = true
		if of == reflect.TypeFor[day.Settings]() {
			for _, kind := range programme.Kinds() {
				look(at+"."+string(kind), reflect.TypeOf(programmetest.Stage(kind, nil).Form))
			}
			return
		}
		switch of.Kind() {
		case reflect.Float32, reflect.Float64, reflect.Complex64, reflect.Complex128, reflect.Interface, reflect.Func, reflect.Chan:
			t.Errorf("%s is a %s", at, of.Kind())
		case reflect.Struct:
			for i := range of.NumField() {
				look(at+"."+of.Field(i).Name, of.Field(i).Type)
			}
		case reflect.Map:
			look(at+"(key)", of.Key())
			look(at+"[]", of.Elem())
		case reflect.Slice, reflect.Array, reflect.Pointer:
			look(at+"[]", of.Elem())
		}
	}
	look("State", reflect.TypeFor[day.State]())
	for _, kind := range day.Types() {
		e, err := day.Decode(kind, day.VersionOf(kind), []byte("{}"))
		if err != nil {
			t.Errorf("an empty %s: %v", kind, err)
			continue
		}
		look(kind, reflect.TypeOf(e))
	}
	if len(seen) < 60 {
		t.Errorf("only %d types were seen", len(seen))
	}
}
