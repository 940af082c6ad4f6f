package dayplan_test

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
)

// TestOrderIsFeasible plans random meets at random instants and judges the plans by the
// rules alone.
func TestOrderIsFeasible(t *testing.T) { rapid.Check(t, feasible) }

// TestProveOrderIsFeasible does it a thousand times.
func TestProveOrderIsFeasible(t *testing.T) {
	times := 1
	if os.Getenv("BENCHMEET_PROVE") != "" {
		times = 10
	}
	for range times {
		rapid.Check(t, feasible) // a hundred each
	}
}

func feasible(t *rapid.T) {
	h := newHall(t, rapid.Uint64().Draw(t, "seed"), rapid.IntRange(3, 8).Draw(t, "benches"))
	h.noShow, h.again, h.greedy = 0.05, 0.05, rapid.Bool().Draw(t, "greedy")
	shared := rapid.Bool().Draw(t, "siblings")
	for n := range rapid.IntRange(1, 3).Draw(t, "divisions") {
		list := []day.Stage{rapid.SampledFrom(stages()).Draw(t, "stage")}
		if rapid.Bool().Draw(t, "two stages") {
			then := rapid.SampledFrom(stages()).Draw(t, "then")
			then.Entries = 6
			list = append(list, then)
		}
		h.field(day.DivisionID(fmt.Sprint("d", n)), rapid.IntRange(6, 14).Draw(t, "entries"), shared, list...)
	}
	restUS := int64(0)
	if rapid.Bool().Draw(t, "rest") {
		restUS = 240 * second
		h.batteries(restUS)
	}
	for range 3 {
		over := h.play(h.now + int64(rapid.IntRange(0, 1800).Draw(t, "seconds"))*second)
		if rapid.IntRange(0, 3).Draw(t, "out") == 0 && len(programme.BenchesInService(h.s)) > 3 {
			bench := programme.BenchesInService(h.s)[0].ID
			_, busy := h.s.HeatOn(bench)
			over = over || busy // the hall does not know how to go on with a heat at a bench that is out
			h.give(meet.ChangeBenchService{Bench: bench, Out: true, Reason: day.Reason{Code: day.ReasonPower}})
		}
		rest := dayplan.RestOf(h.s, h.now, 0)
		plan := dayplan.Order(rest, dayplan.Seen(h.s))
		for _, fault := range faults(h.s, h.now, restUS, rest, plan) {
			t.Fatalf("%d s into the day: %s", (h.now-openingUS)/second, fault)
		}
		if over {
			return
		}
	}
}

// use is a stretch of time in which something is in a heat.
type use struct {
	from, to int64
	heat     day.HeatID
	given    bool // as it was before the plan
}

// faults judges a plan by the state and the rules; it shares no code with the planner.
func faults(s *day.State, now, restUS int64, rest dayplan.Rest, plan dayplan.Plan) (out []string) {
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	benches := map[day.BenchID][]use{}
	cars := map[day.CarID][]use{}
	drawn := map[day.HeatID]int{}
	last := now
	inService := programme.BenchesInService(s)
	for i, h := range rest.Heats {
		slot := plan.Heats[i]
		if slot.EndUS == 0 {
			if !h.Possible {
				say("%s is not planned", h.ID)
			}
			continue
		}
		if !h.Possible {
			last = max(last, slot.EndUS)
		}
		race := s.Divisions[rest.Rounds[h.Round].Division].Stages[rest.Rounds[h.Round].Stage-1].RaceUS
		from := slot.CallUS
		state, there := s.Heats[h.ID]
		standing := there && (state.Phase == day.PhaseCalled || state.Phase == day.PhaseRacing)
		if standing {
			from = now
		}
		switch {
		case from < now:
			say("%s is called in the past", h.ID)
		case !standing && slot.EndUS-slot.CallUS < race:
			say("%s has no time for its race", h.ID)
		case slot.EndUS < from:
			say("%s ends before it is called", h.ID)
		}
		known := map[day.CarID]bool{}
		if there {
			drawn[h.ID]++
			for _, l := range state.Lanes {
				if l.State != day.LaneDone {
					known[s.Entries[l.Entry].Car] = true
				}
			}
			if need := min(len(known), len(inService)); !standing && len(slot.Benches) != need {
				say("%s has %d benches and needs %d", h.ID, len(slot.Benches), need)
			}
		} else if len(slot.Benches) == 0 || len(slot.Benches) > len(inService) {
			say("%s, which is not drawn, has %d benches", h.ID, len(slot.Benches))
		}
		for car := range known {
			cars[car] = append(cars[car], use{from, slot.EndUS, h.ID, standing})
		}
		for _, b := range slot.Benches {
			benches[b] = append(benches[b], use{from, slot.EndUS, h.ID, standing})
			if !standing && s.Benches[b].OutOfService {
				say("%s stands on bench %s, which is out", h.ID, b)
			}
		}
	}
	for _, h := range s.Heats {
		if open := h.Phase == day.PhaseDrawn || h.Phase == day.PhaseCalled || h.Phase == day.PhaseRacing; open && drawn[h.ID] != 1 {
			say("%s is open and stands in the plan %d times", h.ID, drawn[h.ID])
		}
		for _, l := range h.Lanes {
			if h.StartedUS > 0 && l.Counts != "" && restUS > 0 {
				end := h.StartedUS + s.Divisions[h.Division].Stages[h.Stage-1].RaceUS
				if car := s.Entries[l.Entry].Car; end <= now {
					cars[car] = append(cars[car], use{h.StartedUS, end, h.ID, true})
				}
			}
		}
	}
	for b, uses := range benches {
		for _, clash := range clashes(uses, 0) {
			say("bench %s: %s", b, clash)
		}
	}
	for c, uses := range cars {
		for _, clash := range clashes(uses, restUS) {
			say("car %s: %s", c, clash)
		}
	}
	if plan.FinishUS != last {
		say("the day ends at %d, the plan says %d", last, plan.FinishUS)
	}
	return append(out, orderFaults(s, rest, plan)...)
}

// clashes are stretches that overlap, or have less than a rest between them.
func clashes(uses []use, rest int64) (out []string) {
	slices.SortFunc(uses, func(a, b use) int { return int(a.from/second - b.from/second) })
	for i, a := range uses {
		for _, b := range uses[i+1:] {
			if !(a.given && b.given) && b.from < a.to+rest && a.from < b.to+rest {
				out = append(out, fmt.Sprintf("%s from %d to %d and %s from %d to %d", a.heat, a.from, a.to, b.heat, b.from, b.to))
			}
		}
	}
	return out
}

// orderFaults judges the order of legs and rounds.
func orderFaults(s *day.State, rest dayplan.Rest, plan dayplan.Plan) (out []string) {
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for i, a := range rest.Heats {
		for k, b := range rest.Heats {
			x, y := plan.Heats[i], plan.Heats[k]
			if x.EndUS == 0 || y.EndUS == 0 {
				continue
			}
			from, to := rest.Rounds[a.Round], rest.Rounds[b.Round]
			if from.Division != to.Division {
				continue
			}
			if a.Round == b.Round && a.Number == b.Number && a.Leg < b.Leg && y.CallUS < x.EndUS {
				say("leg %s is called at %d, before %s has ended at %d", b.ID, y.CallUS, a.ID, x.EndUS)
			}
			if b.Drawn || to.Drawn {
				continue
			}
			before := from.Stage < to.Stage || from.Stage == to.Stage && from.Number < to.Number
			switch {
			case !before:
			case to.Apart && from.Stage == to.Stage && from.Number == to.Number-1:
				if y.CallUS < x.CallUS {
					say("%s of a round that is drawn later is called before %s", b.ID, a.ID)
				}
			case !to.Apart && y.CallUS < x.EndUS:
				say("%s is called at %d, before %s of an earlier round has ended at %d", b.ID, y.CallUS, a.ID, x.EndUS)
			}
		}
	}
	return out
}
