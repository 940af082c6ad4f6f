package dayplan_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

// TestOrderByHand holds small days that can be worked out on paper. A heat of a minute has
// its benches for 120 s to the start, 60 s of racing and 15 s to the posting; they are called
// on again 45 s later. Protest time is five minutes, and a draw takes a minute more.
func TestOrderByHand(t *testing.T) {
	timed := func(rounds, lanes, raceS int) day.Stage {
		return programmetest.Stage("timed-rounds", programmetest.Set{"rounds": rounds, "lanes": lanes, "rule": "mean", "race_us": raceS * 1_000_000})
	}
	knockout := func(set programmetest.Set) day.Stage { return programmetest.Stage("knockout", set) }
	type field struct {
		cars   int
		stages []day.Stage
	}
	for name, c := range map[string]struct {
		benches int
		fields  []field
		// want are the calls in seconds from the draw, by heat, then the finish.
		want   string
		finish int
	}{
		"two heats on two benches follow one another": {
			2, []field{{4, []day.Stage{timed(1, 2, 60)}}}, "a-1.1.1 0, a-1.1.2 240", 435,
		},
		"a second round by lot is drawn while the first still runs, and waits for its benches": {
			2, []field{{4, []day.Stage{timed(2, 2, 60)}}}, "a-1.1.1 0, a-1.1.2 240, a-1.2.1 480, a-1.2.2 720", 915,
		},
		"a final waits for the protest time of the semi-finals": {
			4, []field{{4, []day.Stage{knockout(nil)}}}, "a-1.1.1 0, a-1.1.2 0, a-1.2.1 555", 750,
		},
		"a stage waits for all rounds before it": {
			4, []field{{4, []day.Stage{timed(1, 4, 120), knockout(programmetest.Set{"entries": 2})}}}, "a-1.1.1 0, a-2.1.1 615", 810,
		},
		"legs follow one another, and a decider that is only possible is not planned": {
			2, []field{{2, []day.Stage{knockout(programmetest.Set{"legs": 2})}}}, "a-1.1.1 0, a-1.1.1.2 240", 435,
		},
		"a small heat goes on the benches that the large one before it leaves": {
			6, []field{{8, []day.Stage{timed(1, 4, 60)}}, {2, []day.Stage{knockout(nil)}}}, "a-1.1.1 0, b-1.1.1 0, a-1.1.2 240", 435,
		},
		"a small heat goes before a large one that it does not hold up": {
			6,
			[]field{{4, []day.Stage{timed(1, 4, 60)}}, {6, []day.Stage{timed(1, 6, 60)}}, {2, []day.Stage{knockout(nil)}}},
			"a-1.1.1 0, c-1.1.1 0, b-1.1.1 240", 435,
		},
		"a small heat that would hold the large one up waits behind it": {
			6,
			[]field{{4, []day.Stage{timed(1, 4, 60)}}, {6, []day.Stage{timed(1, 6, 60)}}, {2, []day.Stage{knockout(programmetest.Set{"race_us": 70_000_000})}}},
			"a-1.1.1 0, b-1.1.1 240, c-1.1.1 480", 685,
		},
	} {
		t.Run(name, func(t *testing.T) {
			h := newHall(t, 1, c.benches)
			for i, f := range c.fields {
				h.field(day.DivisionID("abc"[i:i+1]), f.cars, false, f.stages...)
			}
			for i := range c.fields {
				h.now++ // in this order on the board
				h.give(meet.DrawRound{Division: day.DivisionID("abc"[i : i+1])})
			}
			plan, got := planned(h)
			if got != c.want || (plan.FinishUS-h.now)/second != int64(c.finish) {
				t.Errorf("calls %s and the end at %d s\nwant  %s and %d s", got, (plan.FinishUS-h.now)/second, c.want, c.finish)
			}
		})
	}
}

// TestOrderRests: nobody knows which cars come to a final, so it waits for the rest of all
// that can.
func TestOrderRests(t *testing.T) {
	h := newHall(t, 1, 4)
	h.field("a", 4, false, programmetest.Stage("knockout", nil))
	h.batteries(600 * second)
	h.give(meet.DrawRound{Division: "a"})
	if _, got := planned(h); got != "a-1.1.1 0, a-1.1.2 0, a-1.2.1 795" {
		t.Errorf("calls %s", got)
	}
}

// planned is the plan of a hall, and its calls in seconds from now in their order.
func planned(h *hall) (dayplan.Plan, string) {
	rest := dayplan.RestOf(h.s, h.now, 0)
	plan := dayplan.Order(rest, dayplan.Seen(h.s))
	type call struct {
		at int64
		id day.HeatID
	}
	var calls []call
	for i, slot := range plan.Heats {
		if slot.EndUS > 0 {
			calls = append(calls, call{(slot.CallUS - h.now) / second, rest.Heats[i].ID})
		}
	}
	slices.SortFunc(calls, func(a, b call) int {
		return int(a.at-b.at)*2 + strings.Compare(string(a.id), string(b.id))
	})
	var words []string
	for _, c := range calls {
		words = append(words, fmt.Sprint(c.id, " ", c.at))
	}
	return plan, strings.Join(words, ", ")
}

// TestOrderWhileRacing: a heat that is called, and one that races, keep their benches as
// long as they still need them.
func TestOrderWhileRacing(t *testing.T) {
	h := newHall(t, 1, 2)
	h.field("a", 4, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "mean"}))
	h.give(meet.DrawRound{Division: "a"})
	h.give(meet.CallHeat{Heat: "a-1.1.1"})
	h.now += 30 * second
	// 90 s to the start, 60 s, 15 s, 45 s for the change.
	if _, got := planned(h); got != "a-1.1.1 -30, a-1.1.2 210" {
		t.Errorf("30 s after the call: %s", got)
	}
	h.now += 30 * second
	for _, l := range h.s.Heats["a-1.1.1"].Lanes {
		h.give(meet.ConfirmReady{Heat: "a-1.1.1", Bench: l.Bench, StartNumber: h.s.Number(l.Entry)})
	}
	h.give(meet.StartHeat{Heat: "a-1.1.1"})
	h.now += 20 * second
	if _, got := planned(h); got != "a-1.1.1 -80, a-1.1.2 100" {
		t.Errorf("20 s into the race: %s", got)
	}
	h.now += 500 * second
	if _, got := planned(h); got != "a-1.1.1 -580, a-1.1.2 52" {
		t.Errorf("long after the race should be over: %s", got)
	}
}

// TestPlannedDaysBefore: what is drawn beforehand is raced from when the hall opens, as
// sure as it is then; but on from now where somebody has begun already.
func TestPlannedDaysBefore(t *testing.T) {
	h := newHall(t, 1, 2)
	h.field("a", 4, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "lanes": 2, "rule": "mean"}))
	h.give(meet.DrawRound{Division: "a"})
	opens := h.now + 8*24*3600*second
	see := func(want string, at, from int64) {
		t.Helper()
		rest := dayplan.RestOf(h.s, at, opens)
		plan, p := dayplan.Order(rest, dayplan.Seen(h.s)), dayplan.Seen(h.s)
		got := fmt.Sprintf("%d s to %d s", (plan.Heats[0].CallUS-from)/second, (plan.FinishUS-from)/second)
		if got != want {
			t.Errorf("planned are %s, not %s", got, want)
		}
		// By hand: four heats of 240 s each, but that the last needs no change.
		f := dayplan.Likely(rest, p, 200, 1)
		if early, late := f.At(10)-from, f.At(90)-from; early < 600*second || late > 2400*second {
			t.Errorf("it ends between %d and %d s", early/second, late/second)
		}
	}
	see("0 s to 915 s", h.now, opens)
	see("0 s to 915 s", opens, opens)
	see("0 s to 915 s", opens+60*second, opens+60*second)
	h.give(meet.CallHeat{Heat: "a-1.1.1"})
	see("0 s to 915 s", h.now, h.now)
}

// TestSeenLearns: the pace of a day moves from the usual one to what is seen, by the rule of
// five heats: sixty seconds above in each of five heats move it by thirty.
func TestSeenLearns(t *testing.T) {
	h := newHall(t, 1, 2)
	h.field("a", 10, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "mean"}))
	h.give(meet.DrawRound{Division: "a"})
	p := dayplan.Seen(h.s)
	if p.CallUS != 120*second || p.PostUS != 15*second || p.ChangeUS != 45*second || p.DrawUS != 360*second || p.Heats != 0 {
		t.Errorf("before the first heat: %+v", p)
	}
	for n := 1; n <= 5; n++ {
		id := day.DivisionID("a").Heat(1, 1, n)
		h.give(meet.CallHeat{Heat: id})
		h.now += 180 * second
		for _, l := range h.s.Heats[id].Lanes {
			h.give(meet.ConfirmReady{Heat: id, Bench: l.Bench, StartNumber: h.s.Number(l.Entry)})
		}
		h.give(meet.StartHeat{Heat: id})
		h.now += 60*second + 25*second
		h.post(id)
		h.now += 95 * second
	}
	p = dayplan.Seen(h.s)
	// 15 and 25 s from the race to the posting; 45 s and, four times, 95 s for the change.
	if p.CallUS != 150*second || p.Call("a") != 165*second || p.PostUS != 20*second || p.ChangeUS != (5*45+4*95)*second/9 || p.Heats != 5 {
		t.Errorf("after five heats: %+v, %d", p, p.Call("a"))
	}
}

// TestSeenKnowsWhatHeldAHeatBack: the second of two heats on two benches is called six minutes
// after the first was posted. Where nothing else kept it, that is how long people need; where it
// was held for a child, was promised for then, the day stood still or a bench was out until a
// moment before, it says nothing of that.
func TestSeenKnowsWhatHeldAHeatBack(t *testing.T) {
	const second2 = day.HeatID("a-1.1.2")
	power := day.Reason{Code: day.ReasonPower}
	see := func(what string, want int64, before, until func(h *hall)) {
		t.Helper()
		h := newHall(t, 1, 2)
		h.field("a", 4, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "mean"}))
		h.give(meet.DrawRound{Division: "a"})
		before(h)
		for n := range 2 {
			id := day.DivisionID("a").Heat(1, 1, n+1)
			h.give(meet.CallHeat{Heat: id})
			h.now += 120 * second
			for _, l := range h.s.Heats[id].Lanes {
				h.give(meet.ConfirmReady{Heat: id, Bench: l.Bench, StartNumber: h.s.Number(l.Entry)})
			}
			h.give(meet.StartHeat{Heat: id})
			h.now += 75 * second
			h.post(id)
			if n == 0 {
				until(h)
			}
		}
		if got := dayplan.Seen(h.s).ChangeUS; got != want {
			t.Errorf("%s: a change-over takes %d s, want %d", what, got/second, want/second)
		}
	}
	wait := func(h *hall) { h.now += 360 * second }
	nothing := func(*hall) {}
	see("people are slow", (5*45+180)*second/6, nothing, wait) // counts as four times the usual
	see("it is held", 45*second, func(h *hall) {
		h.give(meet.HoldHeat{Heat: second2, UntilUS: h.now + 550*second})
	}, wait)
	see("it is promised", 45*second, nothing, func(h *hall) {
		h.give(meet.HoldHeat{Heat: second2, UntilUS: h.now + 660*second})
		h.give(meet.TellTimes{OpensUS: openingUS})
		h.give(meet.HoldHeat{Heat: second2})
		h.now = h.s.Told.Heats[second2].NotBeforeUS + 5*second
	})
	see("the day stands still", 45*second, nothing, func(h *hall) {
		h.give(meet.Pause{Reason: power})
		h.now += 355 * second
		h.give(meet.Resume{KeepBatteries: true})
		h.now += 5 * second
	})
	see("a bench is out", 45*second, nothing, func(h *hall) {
		h.give(meet.ChangeBenchService{Bench: "b1", Out: true, Reason: power})
		h.now += 355 * second
		h.give(meet.ChangeBenchService{Bench: "b1", Reason: power})
		h.now += 5 * second
	})
}
