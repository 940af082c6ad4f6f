package dayplan_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"benchmeet/domain/battery"
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"

	"benchmeet/domain/board"
)

const second = int64(1_000_000)

// openingUS is when the halls of these tests open.
const openingUS = int64(1_801_123_200) * second

// fataler fails a test, or a check of rapid.
type fataler interface {
	Fatalf(format string, args ...any)
}

// hall plays a meet by its commands as people would: it calls what the board has next,
// cars come, race and are posted, and each step takes a time that is drawn. It knows
// nothing of plans.
type hall struct {
	t      fataler
	s      *day.State
	now    int64
	random *rand.Rand
	// truth is how long people take, on this day.
	truth *truth
	// noShow and again are the parts of heats with a car that does not come, and of lanes
	// that race again.
	noShow, again float64
	// greedy desks call a later heat where the first does not find its benches.
	greedy bool
	restUS int64
	// due is when the next step of each heat, bench and division comes.
	start, posts map[day.HeatID]int64
	change       map[day.BenchID]int64
	busy         map[day.BenchID]bool
	steps        map[day.DivisionID]int64
	runs         int64
	// fromUS is before when nobody is called. away are children who come later, leaves those
	// who go home, and tells is how often the desk tells times; none where it is 0.
	fromUS int64
	away   map[day.EntryID]int64
	leaves map[day.EntryID]int64
	tells  int64
	toldAt int64
	// promises is the latest that was promised of each heat and round.
	promises map[string]int64
	// look is before when nobody at the desk has anything to do.
	look int64
	// back is when a bench that failed is in service again.
	back map[day.BenchID]int64
}

func newHall(t fataler, seed uint64, benches int) *hall {
	h := &hall{
		t: t, s: day.New(), now: openingUS, random: rand.New(rand.NewPCG(seed, 1)),
		start: map[day.HeatID]int64{}, posts: map[day.HeatID]int64{}, change: map[day.BenchID]int64{}, busy: map[day.BenchID]bool{},
		steps: map[day.DivisionID]int64{}, back: map[day.BenchID]int64{},
	}
	h.truth = asUsual(h.random, 1)
	h.give(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-01-28"}, Rules: day.UsualRules()})
	for n := range benches {
		h.give(meet.AddBench{Bench: day.Bench{
			ID: day.BenchID(fmt.Sprint("b", n+1)), Number: n + 1, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000,
		}})
	}
	return h
}

// field enters a division with so many cars; every fifth is a sibling's where shared.
func (h *hall) field(id day.DivisionID, entries int, shared bool, stages ...day.Stage) {
	h.give(meet.AddDivision{Division: day.Division{
		ID: id, Name: string(id), AgeTo: 12, Class: day.CarClass{LapUM: 20_000_000}, Stages: stages,
	}})
	for n := 1; n <= entries; n++ {
		number := len(h.s.Entries) + 1
		car := number
		if shared && number%5 == 0 {
			car = 1
		}
		entry := day.EntryID(fmt.Sprint("e", number))
		h.give(meet.TakeEntry{
			ID: entry, Division: id, StartNumber: number, Entrant: day.EntrantID("p" + entry), Car: day.CarID(fmt.Sprint("c", car)), Age: 9,
		})
		h.give(meet.CheckIn{Entry: entry, There: true})
	}
	h.give(meet.CloseEntries{Division: id})
}

func (h *hall) decide(c meet.Command) error {
	events, err := meet.Decide(h.s, c, meet.Meta{Actor: "o", NowUS: h.now, Seed: uint64(h.now)})
	for _, e := range events {
		day.Evolve(h.s, e, h.now)
	}
	switch c := c.(type) {
	case meet.ConfirmReady, meet.StartHeat, meet.RecordRun: // posting looks by itself
	case meet.CallHeat:
		if h.underWay(c.Heat) {
			h.look = 0
		}
	default:
		h.look = 0
	}
	return err
}

func (h *hall) give(c meet.Command) {
	if err := h.decide(c); err != nil {
		h.t.Fatalf("%T: %v", c, err)
	}
}

// play goes on until an instant, or to the end of the day; it says whether that has come.
func (h *hall) play(until int64) (over bool) {
	looked := false
	for range 20_000 {
		h.stops()
		h.people()
		for h.rounds() {
		}
		h.calls()
		next := h.next()
		if next == math.MaxInt64 {
			if looked {
				return true
			}
			h.look, looked = 0, true // before it goes home, the desk looks once more
			continue
		}
		looked = false
		if next > until {
			h.now = max(h.now, until)
			return false
		}
		h.now = max(h.now, next)
		h.step()
	}
	h.t.Fatalf("the day does not end: %d s, %v %v %v %v", (h.now-openingUS)/second, h.start, h.posts, h.steps, board.Tasks(h.s, h.now))
	return false
}

// rounds closes and draws what can be; each takes half a minute or so from when it can. It
// says whether it did something.
func (h *hall) rounds() (did bool) {
	if h.now < h.look {
		return false
	}
	defer func() {
		if !did {
			h.look = h.nextLook()
		}
	}()
	tasks := board.Tasks(h.s, h.now)
	for _, d := range h.s.SortedDivisions() {
		due := board.TaskKind("")
		for _, task := range tasks {
			if task.Division == d.ID && (task.Kind == board.TaskClose || due == "" && task.Kind == board.TaskDraw) {
				due = task.Kind
			}
		}
		switch at, waits := h.steps[d.ID]; {
		case due == "":
			delete(h.steps, d.ID)
		case !waits:
			h.steps[d.ID] = h.now + h.truth.takes(h.truth.desk)
		case at <= h.now:
			delete(h.steps, d.ID)
			if due == board.TaskClose {
				h.give(meet.CloseRound{Division: d.ID})
			} else {
				h.give(meet.DrawRound{Division: d.ID})
			}
			did = true
		}
	}
	return did
}

// nextLook is when there may be something to close or draw, if nobody posts or calls before:
// when a step is due, or the protest time of the last heat of a round is over.
func (h *hall) nextLook() int64 {
	next := int64(math.MaxInt64)
	for _, at := range h.steps {
		next = min(next, at)
	}
	for _, p := range h.s.Programmes {
		for _, st := range p.Stages {
			for _, r := range st.Rounds {
				until, over := int64(0), !r.Closed
				for _, id := range r.Heats {
					over = over && h.s.Heats[id].Posted()
					until = max(until, h.s.Heats[id].ProtestUntilUS)
				}
				if over && until > h.now {
					next = min(next, until)
				}
			}
		}
	}
	return next
}

// underWay says whether no heat of a heat's round waits any more: only then is there
// something to do at the desk.
func (h *hall) underWay(id day.HeatID) bool {
	heat := h.s.Heats[id]
	for _, other := range h.s.Programmes[heat.Division].Stages[heat.Stage-1].Rounds[heat.Round-1].Heats {
		if h.s.Heats[other].Phase == day.PhaseDrawn {
			return false
		}
	}
	return true
}

// calls calls what the board has next, as far as benches are free and changed over.
func (h *hall) calls() {
	for _, b := range h.s.SortedBenches() {
		_, busy := h.s.HeatOn(b.ID)
		if h.busy[b.ID] && !busy {
			h.change[b.ID] = h.now + h.truth.takes(h.truth.change)
		}
		h.busy[b.ID] = busy
	}
	if h.now < h.fromUS {
		return
	}
	for _, id := range board.CallBoardOf(h.s).Next {
		if h.waitsFor(id) {
			continue
		}
		var benches []day.BenchID
		for _, b := range h.s.SortedBenches() {
			if _, busy := h.s.HeatOn(b.ID); !busy && !b.OutOfService && h.change[b.ID] <= h.now {
				benches = append(benches, b.ID)
			}
		}
		heat := h.s.Heats[id]
		lanes := min(len(programme.LanesToRace(h.s, heat)), len(programme.BenchesInService(h.s)))
		if lanes == 0 {
			continue
		}
		if lanes > len(benches) {
			if h.greedy {
				continue
			}
			// Whoever cannot be called for another reason holds nobody up.
			if h.held(heat) {
				continue
			}
			return
		}
		c := meet.CallHeat{Heat: id, Benches: benches[:lanes], Short: true}
		if err := h.decide(c); err != nil {
			if no, is := refusal.As(err); !is || no.Code == "benches-asked" {
				h.t.Fatalf("calling %s: %v", id, err)
			}
			continue
		}
		for _, b := range benches[:lanes] {
			h.busy[b] = true
		}
		h.start[id] = h.now + h.truth.calls(heat.Division)
	}
}

// held says whether a heat cannot be called whatever benches there are.
func (h *hall) held(heat day.Heat) bool {
	if _, early := programme.LegBefore(h.s, heat); early {
		return true
	}
	for _, other := range h.s.Heats {
		if other.Phase != day.PhaseCalled && other.Phase != day.PhaseRacing {
			continue
		}
		for _, l := range other.Lanes {
			for _, mine := range heat.Lanes {
				if l.State != day.LaneDone && mine.State != day.LaneDone && h.s.Entries[l.Entry].Car == h.s.Entries[mine.Entry].Car {
					return true
				}
			}
		}
	}
	return false
}

// stops lets the day stand still and benches fail when their time has come. Races under way
// come in; nobody calls, starts or draws meanwhile.
func (h *hall) stops() {
	for len(h.truth.pauses) > 0 && h.truth.pauses[0].at <= h.now {
		p := h.truth.pauses[0]
		h.truth.pauses = h.truth.pauses[1:]
		h.give(meet.Pause{Reason: day.Reason{Code: day.ReasonPower}})
		h.now += p.length
		h.give(meet.Resume{KeepBatteries: true})
		for id := range h.start {
			h.start[id] += p.length
		}
		for id := range h.steps {
			h.steps[id] += p.length
		}
	}
	for _, b := range h.s.SortedBenches() {
		if at, out := h.back[b.ID]; out && at <= h.now {
			delete(h.back, b.ID)
			h.give(meet.ChangeBenchService{Bench: b.ID, Reason: day.Reason{Code: day.ReasonPower}})
		}
	}
	for len(h.truth.fails) > 0 && h.truth.fails[0].at <= h.now && len(programme.BenchesInService(h.s)) > 2 {
		for _, b := range programme.BenchesInService(h.s) {
			if _, busy := h.s.HeatOn(b.ID); busy {
				continue // it fails when its heat is over: nobody calls on it then
			}
			h.give(meet.ChangeBenchService{Bench: b.ID, Out: true, Reason: day.Reason{Code: day.ReasonPower}})
			h.back[b.ID] = h.now + h.truth.fails[0].length
			h.truth.fails = h.truth.fails[1:]
			break
		}
		return
	}
}

// next is when the next thing happens.
func (h *hall) next() int64 {
	next := int64(math.MaxInt64)
	see := func(at int64) { next = min(next, max(at, h.now)) }
	for _, at := range h.start {
		see(at)
	}
	for _, at := range h.posts {
		see(at)
	}
	for _, at := range h.steps {
		see(at)
	}
	for _, at := range h.back {
		see(at)
	}
	h.seePeople(see)
	if len(board.CallBoardOf(h.s).Next) > 0 {
		for _, at := range h.change {
			if at > h.now {
				see(at)
			}
		}
	}
	for _, heat := range h.s.Heats {
		if heat.Phase == day.PhaseProvisional && heat.ProtestUntilUS > h.now {
			see(heat.ProtestUntilUS)
		}
		if rested := heat.StartedUS + 60*second + h.restUS; h.restUS > 0 && heat.StartedUS > 0 && rested > h.now {
			see(rested)
		}
	}
	return next
}

// step does what is due now.
func (h *hall) step() {
	for _, heat := range h.s.SortedHeats() {
		if at, waits := h.start[heat.ID]; waits && at <= h.now {
			delete(h.start, heat.ID)
			h.begin(heat.ID)
			return
		}
		if at, races := h.posts[heat.ID]; races && at <= h.now {
			delete(h.posts, heat.ID)
			h.post(heat.ID)
			return
		}
	}
}

func (h *hall) begin(id day.HeatID) {
	gone := -1
	if h.random.Float64() < h.noShow {
		gone = h.random.IntN(len(h.s.Heats[id].Lanes))
	}
	for i := range h.s.Heats[id].Lanes {
		switch l := h.s.Heats[id].Lanes[i]; {
		case l.State != day.LaneCalled:
		case i == gone:
			h.now = max(h.now, h.s.Heats[id].DeadlineUS)
			_ = h.decide(meet.RuleStatus{
				Heat: id, Entry: l.Entry, Status: day.StatusDidNotStart, Reason: day.Reason{Code: day.ReasonTime},
			})
		default:
			h.give(meet.ConfirmReady{Heat: id, Bench: l.Bench, StartNumber: h.s.Number(l.Entry)})
		}
	}
	if h.s.Heats[id].Phase != day.PhaseCalled {
		return // nobody is left to race
	}
	h.give(meet.StartHeat{Heat: id})
	heat := h.s.Heats[id]
	race := h.s.Divisions[heat.Division].Stages[heat.Stage-1].RaceUS
	h.posts[id] = h.now + race + h.truth.takes(h.truth.post)
}

func (h *hall) post(id day.HeatID) {
	for _, l := range h.s.Heats[id].Lanes {
		if l.State != day.LaneRacing {
			continue
		}
		h.runs++
		um := int64(h.random.IntN(50)+1)*1_000_000 + h.runs*1000
		h.give(meet.RecordRun{
			ID: l.Armed, Bench: l.Bench, Boot: "b", Trace: string(l.Armed), Figures: measure.Figures{DistanceUM: um, UDistanceUM: 1},
		})
	}
	if h.underWay(id) {
		h.look = 0
	}
	for _, l := range h.s.Heats[id].Lanes {
		if l.State == day.LaneDone && h.random.Float64() < h.again {
			_ = h.decide(meet.GrantRerun{
				Heat: id, Entry: l.Entry, Counts: day.CountsRerun, Reason: day.Reason{Code: day.ReasonPower},
			})
		}
	}
}

// batteries lets the packs of all divisions rest, and holds cars back for it.
func (h *hall) batteries(restUS int64) {
	rules := h.s.Rules
	rules.BatteryGate = day.GateHold
	h.give(meet.ChangeRules{Rules: rules})
	for id, d := range h.s.Divisions {
		window := battery.FreshWindow(battery.Alkaline, 2)
		window.RestUS = restUS
		d.Class.Battery = &day.ClassBattery{Windows: battery.Windows{window}}
		h.s.Divisions[id] = d
	}
	for _, e := range h.s.SortedEntries("") {
		reading := battery.Reading{Chemistry: battery.Alkaline, Cells: 2, OpenMV: 3200}
		h.give(meet.CheckBattery{Entry: e.ID, Pack: day.PackID("own-" + e.ID), Reading: reading})
	}
	h.restUS = restUS
}

// stages are stages of all forms, by their numbers.
func stages() []day.Stage {
	return []day.Stage{
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "lanes": 4, "rule": "mean"}),
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 4, "lanes": 3, "rule": "best", "lane_design": true}),
		programmetest.Stage("points-rounds", programmetest.Set{"rounds": 3, "lanes": 3}),
		programmetest.Stage("groups", programmetest.Set{"groups": 2}),
		programmetest.Stage("round-robin", nil),
		programmetest.Stage("swiss", programmetest.Set{"rounds": 3}),
		programmetest.Stage("knockout", programmetest.Set{"third_place": true}),
		programmetest.Stage("knockout", programmetest.Set{"plate": true}),
		programmetest.Stage("knockout", programmetest.Set{"legs": 2}),
		programmetest.Stage("double-elimination", nil),
		programmetest.Stage("heats", programmetest.Set{"lanes": 3, "advance": 1, "next_best": 1, "b_final": true}),
	}
}

// TestHallPlays holds that the halls of these tests play whole days.
func TestHallPlays(t *testing.T) {
	for i, st := range stages() {
		h := newHall(t, uint64(i), 5)
		h.noShow, h.again, h.truth = 0.05, 0.02, asUsual(h.random, 1.1)
		h.field("a", 9, false, st)
		h.field("b", 7, true, stages()[0])
		if !h.play(math.MaxInt64-1) || !programme.Through(h.s, h.s.Divisions["a"]) || !programme.Through(h.s, h.s.Divisions["b"]) {
			t.Errorf("%s: the day ends at %d s with %+v", st.Kind(), (h.now-openingUS)/second, board.Tasks(h.s, h.now))
		}
	}
}
