package dayplan_test

import (
	"fmt"
	"slices"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

func cutsByName(h *hall) map[string]dayplan.Cut {
	out := map[string]dayplan.Cut{}
	cuts, _ := dayplan.Cuts(h.s, h.now, 0)
	for _, c := range cuts {
		out[fmt.Sprintf("%s %s %d", c.Division, c.Code, c.Stage)] = c
	}
	return out
}

func (h *hall) finish() int64 {
	return dayplan.Order(dayplan.RestOf(h.s, h.now, 0), dayplan.Seen(h.s)).FinishUS
}

// TestCutsSaveWhatTheySay: each cut that can be carried out now is, by the command of the
// desk, in a day of its own; the day then ends when the cut said.
func TestCutsSaveWhatTheySay(t *testing.T) {
	begin := func() *hall {
		h := newHall(t, 1, 3)
		h.field("under", 6, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "rule": "mean"}))
		h.field("ahead", 8, false,
			programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "rule": "best"}),
			programmetest.Stage("knockout", programmetest.Set{"third_place": true, "legs": 2, "entries": 4}))
		h.field("plate", 8, false, programmetest.Stage("knockout", programmetest.Set{"plate": true}))
		h.give(meet.DrawRound{Division: "under"})
		return h
	}
	h := begin()
	found := cutsByName(h)
	for _, name := range []string{
		"ahead fewer-rounds 1", "ahead one-leg 2", "ahead no-third-place 2", "ahead no-last-stage 2", "plate no-plate 1",
	} {
		cut, there := found[name]
		if !there {
			t.Errorf("%s is not among %v", name, found)
			continue
		}
		own := begin()
		stood := own.finish()
		if !cut.Now || cut.FinishUS != stood-cut.SavesUS || cut.SavesUS < 60*second {
			t.Errorf("%s: %+v, and the day ends at %d s", name, cut, (stood-own.now)/second)
		}
		d := own.s.Divisions[cut.Division]
		edition := d.Edition()
		d.Stages = cut.Stages
		own.give(meet.AddDivision{Division: d, Edition: edition})
		if got := own.finish(); got != cut.FinishUS {
			t.Errorf("%s: the day ends at %d s and not at %d s", name, (got-own.now)/second, (cut.FinishUS-own.now)/second)
		}
	}
	// Three rounds of everybody, then the best four in a knockout of two legs.
	for name, want := range map[string][3]int{ // entries, runs before and after
		"ahead fewer-rounds 1": {8, 3, 2}, "ahead no-third-place 2": {2, 3, 3}, "ahead no-last-stage 2": {4, 3, 3},
	} {
		if c := found[name]; [3]int{c.Entries, c.RunsBefore, c.RunsAfter} != want {
			t.Errorf("%s hits %d who race %d times and then %d", name, c.Entries, c.RunsBefore, c.RunsAfter)
		}
	}
	if c := found["ahead fewer-rounds 1"]; c.ByUS <= h.now {
		t.Errorf("it is fair until %d", c.ByUS)
	}
}

// TestCutsThatSaveNothing: on benches enough the race for third place goes beside the final,
// so that nothing is won by leaving it out.
func TestCutsThatSaveNothing(t *testing.T) {
	h := newHall(t, 1, 4)
	h.field("a", 4, false, programmetest.Stage("knockout", programmetest.Set{"third_place": true}))
	if cuts, _ := dayplan.Cuts(h.s, h.now, 0); len(cuts) > 0 {
		t.Errorf("%v is said to save time", cuts)
	}
}

// TestCutsEndADivision: a division that ends after the round that is drawn, and one whose
// last stage is left out, end when the cut said once they are ended by the ruling.
func TestCutsEndADivision(t *testing.T) {
	h := newHall(t, 2, 4)
	h.field("a", 8, false, programmetest.Stage("swiss", programmetest.Set{"rounds": 4}))
	h.give(meet.DrawRound{Division: "a"})
	cut, there := cutsByName(h)["a end-after-round 1"]
	if !there || cut.Now || cut.RunsBefore != 4 || cut.RunsAfter != 1 || cut.Entries != 8 || cut.ByUS <= h.now || cut.Stages != nil {
		t.Fatalf("while the round is open the cut is %+v", cut)
	}
	open := func(id day.HeatID) bool { return !h.s.Heats[id].Posted() }
	for slices.ContainsFunc(h.s.Programmes["a"].Stages[0].Rounds[0].Heats, open) {
		h.play(h.now + second)
	}
	h.now += h.s.Rules.ProtestUS
	h.give(meet.CloseRound{Division: "a"})
	cut = cutsByName(h)["a end-after-round 1"]
	if !cut.Now || cut.FinishUS != h.now {
		t.Fatalf("when it is closed the cut is %+v at %d", cut, h.now)
	}
	h.give(meet.EndProgramme{Division: "a", Reason: day.Reason{Code: day.ReasonTime}})
	if got := h.finish(); got != cut.FinishUS {
		t.Errorf("the day ends at %d s and not at %d s", (got-h.now)/second, (cut.FinishUS-h.now)/second)
	}
	if left, _ := dayplan.Cuts(h.s, h.now, 0); len(left) > 0 {
		t.Errorf("of a day that is over %v can be left out", left)
	}
}

// TestCutsKeepAKnockoutWhole: a knockout that is under way has no table to end with.
func TestCutsKeepAKnockoutWhole(t *testing.T) {
	h := newHall(t, 3, 4)
	h.field("a", 8, false,
		programmetest.Stage("knockout", programmetest.Set{"third_place": true}))
	h.give(meet.DrawRound{Division: "a"})
	if cuts, _ := dayplan.Cuts(h.s, h.now, 0); len(cuts) > 0 {
		t.Errorf("%v can be left out", cuts)
	}
}
