package dayplan_test

import (
	"fmt"
	"slices"
	"testing"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"
)

// people lets children go home whose time has come, and tells times when that is due.
func (h *hall) people() {
	for id, at := range h.leaves {
		if at > h.now || h.racing(id) {
			continue
		}
		delete(h.leaves, id)
		h.give(meet.Withdraw{Entry: id, Reason: day.Reason{Code: day.ReasonTime}})
	}
	if h.tells == 0 || h.now < h.toldAt {
		return
	}
	h.toldAt = h.now + h.tells
	if err := h.decide(meet.TellTimes{OpensUS: openingUS}); err != nil {
		if no, is := refusal.As(err); !is || no.Code != "told-nothing" {
			h.t.Fatalf("telling: %v", err)
		}
	}
	if h.s.Told == nil {
		return
	}
	for id, told := range h.s.Told.Heats {
		h.promise(string(id), told.NotBeforeUS)
	}
	for id, told := range h.s.Told.Rounds {
		h.promise(id, told.NotBeforeUS)
	}
}

// promise notes what a family has heard: it is never taken back.
func (h *hall) promise(what string, us int64) {
	if us < h.promises[what] {
		h.t.Fatalf("%s was promised not before %d s, and now is %d s earlier",
			what, (h.promises[what]-openingUS)/second, (h.promises[what]-us)/second)
	}
	h.promises[what] = us
}

// racing says whether a child is at a bench.
func (h *hall) racing(id day.EntryID) bool {
	for _, heat := range h.s.Heats {
		if heat.Phase != day.PhaseCalled && heat.Phase != day.PhaseRacing {
			continue
		}
		for _, l := range heat.Lanes {
			if l.Entry == id {
				return true
			}
		}
	}
	return false
}

// waitsFor says whether a heat is not called yet because of who is in it: it is held as long
// as a child has said to be late.
func (h *hall) waitsFor(id day.HeatID) bool {
	for _, l := range h.s.Heats[id].Lanes {
		if until := h.away[l.Entry]; until > h.now && until > h.s.Held[id] {
			h.give(meet.HoldHeat{Heat: id, UntilUS: until})
		}
	}
	return h.s.Held[id] > h.now
}

// seePeople names the instants at which somebody comes or goes, or a promised time comes.
func (h *hall) seePeople(see func(int64)) {
	if h.fromUS > h.now {
		see(h.fromUS)
	}
	for _, id := range board.CallBoardOf(h.s).Next {
		if at := h.s.Held[id]; at > h.now {
			see(at)
		}
		if at := h.s.HeatPromise(h.s.Heats[id]).NotBeforeUS; at > h.now {
			see(at)
		}
	}
}

// faultsOfPeople are promises that were broken downwards and children who were lost.
func (h *hall) faultsOfPeople(left map[day.EntryID]bool) (out []string) {
	raced := map[day.EntryID]int{}
	for _, heat := range h.s.SortedHeats() {
		of := heat.Division.Round(heat.Stage, heat.Round)
		if heat.CalledUS < max(h.promises[string(heat.ID)], h.promises[of]) && heat.CalledUS > 0 {
			out = append(out, string(heat.ID)+" was called before its promise")
		}
		// Who was to meet a child that went home may win without a race.
		gone := len(heat.Lanes) == 1 || slices.ContainsFunc(heat.Lanes, func(l day.Lane) bool { return left[l.Entry] })
		for _, l := range heat.Lanes {
			if l.Counts == "" && !gone {
				out = append(out, string(l.Entry)+" has no run in "+string(heat.ID))
			}
			if l.Counts != "" {
				raced[l.Entry]++
			}
		}
	}
	for _, e := range h.s.SortedEntries("") {
		if raced[e.ID] == 0 && !left[e.ID] {
			out = append(out, string(e.ID)+" never raced")
		}
	}
	return out
}

// planKeepsPromises judges a plan by what the hall has heard.
func (h *hall) planKeepsPromises(rest dayplan.Rest, plan dayplan.Plan) {
	for i, slot := range plan.Heats {
		heat := rest.Heats[i]
		r := rest.Rounds[heat.Round]
		told := h.promises[string(heat.ID)]
		if !heat.Drawn {
			told = h.promises[r.Division.Round(r.Stage, r.Number)]
		}
		if slot.EndUS > 0 && heat.Waits() && slot.CallUS < told {
			h.t.Fatalf("%s is planned %d s before its promise", heat.ID, (told-slot.CallUS)/second)
		}
	}
}

// TestForecastExpectsChildrenToLeave: five of twenty children have gone home within half an
// hour. At that rate some six more go in the hour that is left, and each takes half a heat out of
// every round: a day of which that was seen ends minutes earlier than one of which it was not,
// with the same heats left and the same pace.
func TestForecastExpectsChildrenToLeave(t *testing.T) {
	h := newHall(t, 5, 4)
	h.field("a", 20, false, programmetest.Stage("swiss", programmetest.Set{"rounds": 6}))
	h.play(openingUS + 30*60*second)
	stay := dayplan.Seen(h.s)
	for n := range 5 {
		h.give(meet.Withdraw{Entry: day.EntryID(fmt.Sprint("e", n+1)), Reason: day.Reason{Code: day.ReasonTime}})
	}
	leave, rest := dayplan.Seen(h.s), dayplan.RestOf(h.s, h.now, 0)
	later := minutes(dayplan.Likely(rest, stay, 200, 1).At(50)) - minutes(dayplan.Likely(rest, leave, 200, 1).At(50))
	t.Logf("%.1f min earlier", later)
	if later < 3 || later > 25 {
		t.Errorf("a day that children leave ends %.1f min earlier", later)
	}
}
