package meet_test

import (
	"fmt"
	"slices"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
)

// check is what must hold of every state.
func (d *randomDay) check(c meet.Command) {
	for _, says := range []string{
		faultOfHeats(d.s), faultOfBenches(d.s), faultOfRuns(d.s), faultOfNumbers(d.s), faultOfSeeds(d.s),
		faultOfStandings(d.s), d.faultOfDecisions(), faultOfPacks(d.s),
	} {
		if says != "" {
			d.t.Fatalf("after %T %+v: %s", c, c, says)
		}
	}
}

// faultOfHeats finds a heat that is posted with a lane open, or that nothing can
// bring on.
func faultOfHeats(s *day.State) string {
	for _, h := range s.SortedHeats() {
		states := map[day.LaneState]int{}
		for _, l := range h.Lanes {
			states[l.State]++
			if l.State != day.LaneDone && !s.Entries[l.Entry].Racing() {
				return fmt.Sprintf("%s waits for %s, who has left", h.ID, l.Entry)
			}
			if l.State != day.LaneDone && l.Counts != "" {
				return fmt.Sprintf("%s of %s has a result and races", l.Entry, h.ID)
			}
		}
		atBench := states[day.LaneCalled] + states[day.LaneReady] + states[day.LaneRacing]
		fits := map[day.Phase]bool{
			day.PhaseDrawn:       states[day.LaneWaiting] > 0 && atBench == 0,
			day.PhaseCalled:      states[day.LaneCalled]+states[day.LaneReady] > 0 && states[day.LaneRacing] == 0,
			day.PhaseRacing:      states[day.LaneRacing] > 0 && atBench == states[day.LaneRacing],
			day.PhaseProvisional: states[day.LaneDone] == len(h.Lanes),
			day.PhaseOfficial:    states[day.LaneDone] == len(h.Lanes),
		}
		if !fits[h.Phase] {
			return fmt.Sprintf("%s is %s with lanes %v", h.ID, h.Phase, states)
		}
	}
	return ""
}

// faultOfBenches finds an entry, a car or a bench that is in two places.
func faultOfBenches(s *day.State) string {
	seen := map[string]day.HeatID{}
	for _, h := range s.SortedHeats() {
		for _, l := range h.Lanes {
			if l.State == day.LaneDone || l.State == day.LaneWaiting {
				continue
			}
			for _, thing := range []string{
				"entry " + string(l.Entry), "car " + string(s.Entries[l.Entry].Car), "bench " + string(l.Bench), "run " + string(l.Armed),
			} {
				if other, twice := seen[thing]; twice {
					return fmt.Sprintf("%s is in %s and in %s", thing, other, h.ID)
				}
				seen[thing] = h.ID
			}
		}
	}
	return ""
}

// faultOfRuns finds a run that counts twice, or counts and does not say so.
func faultOfRuns(s *day.State) string {
	seen := map[day.RunID]bool{}
	for _, h := range s.SortedHeats() {
		for _, l := range h.Lanes {
			for _, id := range []day.RunID{l.Counts, l.Better} {
				if id == "" {
					continue
				}
				r, there := s.Runs[id]
				switch {
				case !there:
					return fmt.Sprintf("%s of %s counts run %s, which is not there", l.Entry, h.ID, id)
				case seen[id]:
					return fmt.Sprintf("run %s counts twice", id)
				case r.Void || r.Waiting != day.WaitsNot || r.Heat != h.ID || r.Entry != l.Entry:
					return fmt.Sprintf("run %s counts for %s in %s and says %+v", id, l.Entry, h.ID, r)
				}
				seen[id] = true
			}
		}
	}
	return ""
}

// faultOfPacks finds an entry with two packs of the club, a hurt pack that lies
// not aside, one in two cars at the same time, and a race before the pack was known.
func faultOfPacks(s *day.State) string {
	lent, racing := map[day.EntryID]day.PackID{}, map[day.PackID]day.HeatID{}
	for _, p := range inspection.SortedPacks(s) {
		if p.Hurt && !p.Aside {
			return fmt.Sprintf("%s is hurt and not aside", p.ID)
		}
		if !p.Lent || p.Entry == "" {
			continue
		}
		if other, twice := lent[p.Entry]; twice {
			return fmt.Sprintf("%s has %s and %s", p.Entry, other, p.ID)
		}
		lent[p.Entry] = p.ID
	}
	for _, h := range s.SortedHeats() {
		for _, l := range h.Lanes {
			if _, known := s.Packs[l.Pack]; l.Pack != "" && !known {
				return fmt.Sprintf("%s of %s races with %s, which nobody knows", l.Entry, h.ID, l.Pack)
			}
			if l.State != day.LaneRacing || l.Pack == "" {
				continue
			}
			if other, twice := racing[l.Pack]; twice {
				return fmt.Sprintf("%s races in %s and in %s", l.Pack, other, h.ID)
			}
			racing[l.Pack] = h.ID
		}
	}
	return ""
}

func faultOfNumbers(s *day.State) string {
	for id, e := range s.Entries {
		if s.Numbers[e.StartNumber] != id {
			return fmt.Sprintf("start number %d of %s leads to %s", e.StartNumber, id, s.Numbers[e.StartNumber])
		}
	}
	if len(s.Numbers) != len(s.Entries) {
		return fmt.Sprintf("%d numbers for %d entries", len(s.Numbers), len(s.Entries))
	}
	return ""
}

// faultOfStandings finds an entry listed twice and ranks that are not 1 1 3.
func faultOfStandings(s *day.State) string {
	for _, v := range s.SortedDivisions() {
		seen := map[day.EntryID]bool{}
		before := 0
		for i, l := range programme.Standings(s, v.ID) {
			switch {
			case seen[l.Entry]:
				return fmt.Sprintf("%s is listed twice in %s", l.Entry, v.ID)
			case l.Rank == 0:
				before = -1
			case before < 0 || l.Rank != i+1 && l.Rank != before:
				return fmt.Sprintf("line %d of %s has rank %d after %d", i+1, v.ID, l.Rank, before)
			default:
				before = l.Rank
			}
			seen[l.Entry] = true
		}
	}
	return ""
}

// faultOfDecisions finds an offered step that would be refused.
func (d *randomDay) faultOfDecisions() string {
	s := d.s
	board.CallBoardOf(s)
	for _, b := range s.SortedBenches() {
		if o, err := board.AssignmentOf(s, b.ID); err != nil || o.Heat != "" && o.Run == "" {
			return fmt.Sprintf("bench %s has the order %+v, %v", b.ID, o, err)
		}
	}
	for _, x := range board.Tasks(s, d.now) {
		var c meet.Command
		switch x.Kind {
		case board.TaskClose:
			c = meet.CloseRound{Division: x.Division}
		case board.TaskPublish, board.TaskCorrection:
			c = meet.PublishResults{Division: x.Division}
		case board.TaskNotThere:
			c = meet.RuleStatus{Heat: x.Heat, Entry: x.Entry, Status: day.StatusDidNotStart, Reason: day.Reason{Code: day.ReasonNotThere}}
		case board.TaskOverdue:
			c = meet.RuleStatus{Heat: x.Heat, Entry: x.Entry, Status: day.StatusDidNotFinish, Reason: day.Reason{Code: day.ReasonStalled}}
		case board.TaskWaitingRun:
			c = meet.SetRunAside{Run: x.Run, Reason: day.Reason{Code: day.ReasonOther}}
		case board.TaskProtest:
			c = meet.RuleProtest{ID: x.Protest, Reason: day.Reason{Code: day.ReasonProtest}}
		default:
			continue
		}
		meta := d.meta()
		meta.Actor = "steward" // lodged no protest
		if events, err := meet.Decide(s, c, meta); err != nil || len(events) == 0 {
			return fmt.Sprintf("the decision %+v is offered and gives %v, %v", x, events, err)
		}
	}
	for _, v := range s.SortedDivisions() {
		programme.Outdated(s, v.ID)
		for _, id := range programme.Winners(s, v.ID) {
			if !slices.ContainsFunc(programme.Standings(s, v.ID), func(l programme.Standing) bool { return l.Entry == id && l.Rank == 1 }) {
				return fmt.Sprintf("%s wins %s and is not first", id, v.ID)
			}
		}
	}
	return ""
}
