package meet

import (
	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// andDecider adds the drawing of a decider to events that leave the legs of a
// heat level, and takes it back where they do not any more and nobody has begun it.
func andDecider(s *day.State, m Meta, heat day.HeatID, events ...day.Event) []day.Event {
	if h, there := s.Heats[heat]; there && h.Leg == 0 {
		return events // and no copy of the state is made for most heats
	}
	after := with(s, m.NowUS, events...)
	h, there := after.Heats[heat]
	if !there || h.Leg == 0 {
		return events
	}
	first := programme.FirstLeg(after, h)
	winners, known := programme.LegWinners(after, first)
	if !known {
		return events
	}
	_, drawn := after.Heats[first.ID.Leg(day.ThirdLeg)]
	level := bracket.DecideLegs(winners[:2]) < 0
	if level && !drawn {
		if _, decided := programme.Match(after, first); decided {
			return events // both are out
		}
		e := day.DeciderDrawn{Heat: first.ID}
		there := 0
		for _, l := range first.Lanes {
			e.Again = append(e.Again, begins(after, l.Entry))
			if after.Entries[l.Entry].Racing() {
				there++
			}
		}
		if e.Walkover = there < 2; e.Walkover && !after.RoundClosed(first) {
			e.ProtestUntilUS = m.NowUS + after.Rules.ProtestUS
		}
		return append(events, e)
	}
	third := after.Heats[first.ID.Leg(day.ThirdLeg)]
	if drawn && !level && untouched(after, third) && !(third.Begun() && third.Posted()) {
		return append(events, day.DeciderDropped{Heat: first.ID, Kept: third.Begun()})
	}
	return events
}

// untouched says whether no car stands at a bench for a heat and none has a run.
func untouched(s *day.State, h day.Heat) bool {
	for _, l := range h.Lanes {
		if l.Counts != "" || l.Better != "" || day.OneOf(l.State, day.LaneCalled, day.LaneReady, day.LaneRacing) {
			return false
		}
	}
	return true
}
