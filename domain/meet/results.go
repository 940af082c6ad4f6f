package meet

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// andPost adds to events what follows for a heat: the posting of its result, and
// where legs are raced, its decider. It is the one place that decides when a
// result goes up.
func andPost(s *day.State, m Meta, heat day.HeatID, events ...day.Event) []day.Event {
	if heat == "" {
		return events
	}
	return andDecider(s, m, heat, andResult(s, m, heat, events...)...)
}

// andResult adds the posting of a heat to events that settle its last lane or
// change a result that is provisional: who loses by the change may protest too.
func andResult(s *day.State, m Meta, heat day.HeatID, events ...day.Event) []day.Event {
	after := with(s, m.NowUS, events...)
	h, there := after.Heats[heat]
	if !there || h.Phase == day.PhaseOfficial {
		return events
	}
	post := day.ResultsPosted{Heat: heat, ProtestUntilUS: m.NowUS + after.Rules.ProtestUS}
	if after.RoundClosed(h) {
		post.ProtestUntilUS = 0 // official at once: the ruling that led here is the correction
	}
	switch {
	case h.Posted():
		was, _ := programme.FinishOf(s, s.Heats[heat])
		is, _ := programme.FinishOf(after, h)
		if !slices.Equal(was, is) {
			return append(events, post)
		}
		return events
	case h.Settled():
		return append(events, post)
	case walksOver(after, h):
		post.Walkover = true
		for _, l := range h.Lanes {
			if run := kept(l); run != "" {
				post.Keeps = append(post.Keeps, day.LaneNow{Entry: l.Entry, Keeps: run})
			}
		}
		return append(events, post)
	}
	return events
}

// walksOver says whether the only car left in a heat need not race any more.
func walksOver(s *day.State, h day.Heat) bool {
	_, form := programme.FormOf(s.Divisions[h.Division], h.Stage)
	if !form.Walkover() || h.Phase == day.PhaseRacing {
		return false
	}
	left := 0
	for _, l := range h.Lanes {
		switch {
		case l.State != day.LaneDone:
			left++
		case !programme.ResultOf(s, l).Out:
			return false // a result to beat is there
		}
	}
	return left <= 1
}

// PublishResults publishes a division's final standings. Publishing again after
// a correction gives the next number.
type PublishResults struct {
	Division day.DivisionID
}

func (c PublishResults) decide(s *day.State, m Meta) ([]day.Event, error) {
	d, err := programme.Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	if !programme.Through(s, d) {
		return nil, refusal.New("programme-open", "division", d.ID)
	}
	for _, h := range s.SortedHeats() {
		if h.Division == d.ID && h.Phase != day.PhaseOfficial {
			return nil, refusal.New("heat-open", "heat", h.ID, "status", h.Phase)
		}
	}
	number := len(s.Programmes[d.ID].Published) + 1
	if number > 1 && !programme.PublishedIsOld(s, d.ID) {
		return nil, nil
	}
	return []day.Event{day.ResultsPublished{Division: d.ID, Number: number, Ranks: programme.PlacesNow(s, d.ID), By: m.Actor}}, nil
}
