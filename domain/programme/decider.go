package programme

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// DeciderOpen says whether one of the two has not been given its decider yet.
func DeciderOpen(s *day.State, p closePair) bool {
	return slices.ContainsFunc([]TiedLane{p.Upper, p.Lower}, func(l TiedLane) bool {
		lane, there := laneOf(s, l)
		return there && !lane.Decided
	})
}

func laneOf(s *day.State, l TiedLane) (day.Lane, bool) {
	h := s.Heats[l.Heat]
	i, in := h.Lane(l.Entry)
	if !in {
		return day.Lane{}, false
	}
	return h.Lanes[i], true
}

// ClosePairs are the pairs of a division's last drawn round that the rules want a
// decider of, where its form has any. In heats for points a narrow win is a win, for
// no place hangs on it alone.
func ClosePairs(s *day.State, d day.Division) []closePair {
	if s.Rules.Close != day.CloseDecider {
		return nil
	}
	stage, round := s.Programmes[d.ID].Round()
	last, drawn := s.Programmes[d.ID].Current()
	if !drawn || last.Closed {
		return nil
	}
	if form, is := d.Stages[stage-1].Form.(closeCaller); is {
		return form.closePairs(s, d, stage, round, last.Heats)
	}
	return nil
}

// closeHeats are the heats of two that are too close to call.
func closeHeats(s *day.State, heats []day.HeatID) []closePair {
	var out []closePair
	for _, id := range heats {
		order, _ := FinishOf(s, s.Heats[id])
		if s.Heats[id].Through() && len(order) == 2 && tooClose(order[0], order[1]) {
			out = append(out, closePair{TiedLane{id, order[0].Entry}, TiedLane{id, order[1].Entry}})
		}
	}
	return out
}

func closeLines(s *day.State, d day.Division, stage int, heats []day.HeatID, lines []Standing) []closePair {
	var out []closePair
	for _, at := range decisiveLines(s, d, stage) {
		if at >= len(lines) || !closeLine(s, lines[at-1], lines[at]) {
			continue
		}
		if pair, there := pairOf(s, heats, lines[at-1], lines[at]); there {
			out = append(out, pair)
		}
	}
	return out
}

// pairOf finds the lanes of two neighbours of a table; false unless both raced in
// the heats.
func pairOf(s *day.State, heats []day.HeatID, upper, lower Standing) (closePair, bool) {
	lanes := tiedLanes(s, heats, []day.EntryID{upper.Entry, lower.Entry})
	if len(lanes) != 2 {
		return closePair{}, false
	}
	if lanes[0].Entry != upper.Entry {
		lanes[0], lanes[1] = lanes[1], lanes[0]
	}
	return closePair{lanes[0], lanes[1]}, true
}

// closeLine says whether two neighbours of a table are too close to call and can
// both race. Equal results are left to the rule for ties.
func closeLine(s *day.State, a, b Standing) bool {
	return a.Rank > 0 && b.Rank > 0 && a.DistanceUM != b.DistanceUM &&
		slices.Contains(a.TooCloseTo, b.Entry) && s.Entries[a.Entry].Racing() && s.Entries[b.Entry].Racing()
}

// DecidersDue are the lanes that still have to be given a decider.
func DecidersDue(s *day.State, d day.Division) []TiedLane {
	var out []TiedLane
	for _, p := range ClosePairs(s, d) {
		for _, l := range []TiedLane{p.Upper, p.Lower} {
			if lane, there := laneOf(s, l); there && !lane.Decided && !slices.Contains(out, l) {
				out = append(out, l)
			}
		}
	}
	return out
}

// MayDecide refuses a decider that no pair needs. The first of an entry in a round
// is owed; another one is a re-run like others, with a reason of its own.
func MayDecide(s *day.State, h day.Heat, l day.Lane, reason day.ReasonCode) error {
	d := s.Divisions[h.Division]
	is := func(p closePair) bool { return p.Upper.Entry == l.Entry || p.Lower.Entry == l.Entry }
	switch {
	case !slices.ContainsFunc(ClosePairs(s, d), is):
		return refusal.New("decider-nothing", "number", s.Number(l.Entry))
	case l.Decided && reason == day.ReasonTie:
		return refusal.New("decider-once", "number", s.Number(l.Entry))
	}
	return nil
}

// decidedByDecider is the word in Standing.DecidedBy.
const decidedByDecider = "decider"

// byDeciders puts neighbours that are too close to call into the order of their
// deciders, once both have had theirs.
func byDeciders(s *day.State, d day.Division, stage int, lines []Standing) {
	p := s.Programmes[d.ID].Stages[stage-1]
	if s.Rules.Close != day.CloseDecider || len(p.Rounds) == 0 {
		return
	}
	heats := p.Rounds[len(p.Rounds)-1].Heats
	for _, at := range decisiveLines(s, d, stage) {
		if at >= len(lines) || !slices.Contains(lines[at-1].TooCloseTo, lines[at].Entry) {
			continue
		}
		pair, there := pairOf(s, heats, lines[at-1], lines[at])
		if !there {
			continue
		}
		upper, _ := laneOf(s, pair.Upper)
		lower, _ := laneOf(s, pair.Lower)
		switch c := compareDeciders(s, upper, lower); {
		case c == 0:
		case c > 0 && lines[at-1].Rank != lines[at].Rank:
			lines[at].DecidedBy = decidedByDecider
		case c < 0 && lines[at-1].Rank != lines[at].Rank:
			a, b := lines[at-1], lines[at]
			a.Rank, b.Rank = b.Rank, a.Rank
			a.DecidedBy, b.DecidedBy = decidedByDecider, a.DecidedBy
			lines[at-1], lines[at] = b, a
		}
	}
}
