package dayplan_test

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

// TestImproveByHand: on two benches, two single heats of a division stand before the
// semi-finals of another, whose final waits six minutes for them. A heat takes 195 s and 45 s
// for the change: in the order that stands the day ends 240 + 240 + 240 + 195 + 360 + 195 s
// after it began; with the semi-finals first, the others are raced while the final waits.
func TestImproveByHand(t *testing.T) {
	h := newHall(t, 1, 2)
	h.field("a", 4, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "mean"}))
	h.field("b", 4, false, programmetest.Stage("knockout", nil))
	for _, id := range []day.DivisionID{"a", "b"} {
		h.now++
		h.give(meet.DrawRound{Division: id})
	}
	rest, pace := dayplan.RestOf(h.s, h.now, 0), dayplan.Seen(h.s)
	stood := dayplan.Order(rest, pace)
	if want := h.now + (3*240+195+360+195)*second; stood.FinishUS != want {
		t.Fatalf("as it stands the day ends at %d s", (stood.FinishUS-h.now)/second)
	}
	better, found := dayplan.Improve(rest, pace, 1)
	if !found {
		t.Fatal("nothing better was found")
	}
	// 240 + 195 to the end of the semi-finals, 360 to the draw: the first of the two other
	// heats is changed over at 720 s, the second at 960, before the final's turn.
	want := []day.HeatID{"b-1.1.1", "b-1.1.2", "a-1.1.1", "a-1.1.2"}
	end := h.now + (2*240+2*240+195)*second
	if !slices.Equal(better.Order, want) || better.Plan.FinishUS != end || better.SavesUS != stood.FinishUS-end {
		t.Errorf("order %v, the day ends at %d s, %d s earlier", better.Order, (better.Plan.FinishUS-h.now)/second, better.SavesUS/second)
	}
}

// TestImproveKeepsWhatWasTold: the same day, but the two single heats were told before the
// other division was drawn: they do not come five minutes later for its sake.
func TestImproveKeepsWhatWasTold(t *testing.T) {
	h := newHall(t, 1, 2)
	h.field("a", 4, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "mean"}))
	h.give(meet.DrawRound{Division: "a"})
	h.give(meet.TellTimes{OpensUS: h.now})
	h.now++
	h.field("b", 4, false, programmetest.Stage("knockout", nil))
	h.give(meet.DrawRound{Division: "b"})
	if better, found := dayplan.Improve(dayplan.RestOf(h.s, h.now, 0), dayplan.Seen(h.s), 1); found {
		t.Errorf("told heats are moved: %v", better.Order)
	}
}

// TestProveImproveIsNeverWorse: in days as halls play them, an improved order ends earlier
// than the one that stands by what it says, has every heat that waits once, keeps all rules,
// calls none before its promise, and is the same when asked again.
func TestProveImproveIsNeverWorse(t *testing.T) {
	days := 8
	if os.Getenv("BENCHMEET_PROVE") != "" {
		days = 400
	}
	improved, saved := 0, int64(0)
	for seed := range days {
		h := newHall(t, uint64(seed), 4+seed%5)
		forms := stages()
		for n := range 2 + seed%3 {
			h.field(day.DivisionID(fmt.Sprint("d", n)), 6+(seed+5*n)%12, n == 1 && seed%2 == 0, forms[(seed+3*n)%len(forms)])
		}
		for over := false; !over; over = h.play(h.now + 900*second) {
			rest, pace := dayplan.RestOf(h.s, h.now, 0), dayplan.Seen(h.s)
			stood := dayplan.Order(rest, pace)
			better, found := dayplan.Improve(rest, pace, 1)
			if !found {
				continue
			}
			improved++
			saved += better.SavesUS
			for _, fault := range faults(h.s, h.now, 0, better.Rest, better.Plan) {
				t.Errorf("day %d at %d s: %s", seed, (h.now-openingUS)/second, fault)
			}
			if better.Plan.FinishUS != stood.FinishUS-better.SavesUS || better.SavesUS < 60*second {
				t.Errorf("day %d: %d s saved, the day ends %d s earlier", seed, better.SavesUS/second, (stood.FinishUS-better.Plan.FinishUS)/second)
			}
			var waits []day.HeatID
			for _, x := range h.s.Heats {
				if x.Phase == day.PhaseDrawn {
					waits = append(waits, x.ID)
				}
			}
			if got := slices.Sorted(slices.Values(better.Order)); !slices.Equal(got, slices.Sorted(slices.Values(waits))) {
				t.Errorf("day %d: %v in the order, %v wait", seed, got, waits)
			}
			if again, _ := dayplan.Improve(rest, pace, 1); !slices.Equal(again.Order, better.Order) {
				t.Errorf("day %d: asked again, another order", seed)
			}
			s, err := dayplan.Suppose(h.s, dayplan.Supposed{Order: better.Order})
			if err != nil {
				t.Fatal(err)
			}
			if end := dayplan.Order(dayplan.RestOf(s, h.now, 0), pace).FinishUS; end != better.Plan.FinishUS {
				t.Errorf("day %d: the board in that order ends %d s later than said", seed, (end-better.Plan.FinishUS)/second)
			}
		}
	}
	t.Logf("%d times a better order in %d days, %d min saved each", improved, days, saved/second/60/int64(max(1, improved)))
	if improved == 0 {
		t.Error("no day was improved: nothing was tried")
	}
}
