package meet

import (
	"cmp"
	"slices"

	"benchmeet/domain/refusal"
	"benchmeet/domain/standings"
)

// CloseRule says what results mean that lie too close together to call at a prize
// or qualifying line.
type CloseRule string

// Close rules; an empty one is CloseSay.
const (
	CloseSay     CloseRule = "say"     // the longer distance ranks, and the closeness is said
	CloseDecider CloseRule = "decider" // the two race a decider before the round is closed
)

// CountsDecider is for a re-run that decides between two entries whose results are
// too close to call. The earlier run stays the result, whatever the decider gives:
// a third entry must not lose its place to an attempt that it did not have. The
// better decider ranks before the other; where both are equal, the results do.
const CountsDecider RerunCounts = "decider"

// closePair is two entries on both sides of a line whose results are too close to
// call.
type closePair struct{ upper, lower tiedLane }

// open says whether one of the two has not been given its decider yet.
func (s *State) open(p closePair) bool {
	return slices.ContainsFunc([]tiedLane{p.upper, p.lower}, func(l tiedLane) bool {
		lane, there := s.laneOf(l)
		return there && !lane.Decided
	})
}

func (s *State) laneOf(l tiedLane) (Lane, bool) {
	h := s.Heats[l.heat]
	i, in := h.lane(l.entry)
	if !in {
		return Lane{}, false
	}
	return h.Lanes[i], true
}

// closePairs are the pairs of a division's last drawn round that the rules want a
// decider of: at a prize or qualifying line after the last of timed rounds, and in
// the heats of two of a knockout, where each is a line. In heats for points a
// narrow win is a win, for no place hangs on it alone.
func (s *State) closePairs(d Division) []closePair {
	if s.Rules.Close != CloseDecider {
		return nil
	}
	stage, round := s.Programmes[d.ID].round()
	last, drawn := s.Programmes[d.ID].current()
	if !drawn || last.Closed {
		return nil
	}
	open := func(id HeatID) bool { return !s.Heats[id].through() }
	switch st, form := formatOf(d, stage); st.Kind {
	case TimedRounds:
		if round == st.Rounds && !slices.ContainsFunc(last.Heats, open) {
			return s.closeLines(d, stage, last.Heats, form.rank(s, d, stage))
		}
	case Knockout, DoubleElimination:
		if st.Legs > 1 {
			return nil // the third leg is its decider
		}
		var out []closePair
		for _, id := range last.Heats {
			if order, _ := s.Order(s.Heats[id]); !open(id) && len(order) == 2 && tooClose(order[0], order[1]) {
				out = append(out, closePair{tiedLane{id, order[0].Entry}, tiedLane{id, order[1].Entry}})
			}
		}
		return out
	}
	return nil
}

// through says whether every lane of the heat has a result or races a decider.
func (h Heat) through() bool {
	return !slices.ContainsFunc(h.Lanes, func(l Lane) bool { return l.State != LaneDone && !l.Deciding })
}

func (s *State) closeLines(d Division, stage int, heats []HeatID, lines []Standing) []closePair {
	var out []closePair
	for _, at := range s.decisiveLines(d, stage) {
		if at >= len(lines) || !s.closeLine(lines[at-1], lines[at]) {
			continue
		}
		if pair, there := s.pairOf(heats, lines[at-1], lines[at]); there {
			out = append(out, pair)
		}
	}
	return out
}

// pairOf finds the lanes of two neighbours of a table; false unless both raced in
// the heats.
func (s *State) pairOf(heats []HeatID, upper, lower Standing) (closePair, bool) {
	lanes := s.tiedLanes(heats, []EntryID{upper.Entry, lower.Entry})
	if len(lanes) != 2 {
		return closePair{}, false
	}
	if lanes[0].entry != upper.Entry {
		lanes[0], lanes[1] = lanes[1], lanes[0]
	}
	return closePair{lanes[0], lanes[1]}, true
}

// closeLine says whether two neighbours of a table are too close to call and can
// both race. Equal results are left to the rule for ties.
func (s *State) closeLine(a, b Standing) bool {
	return a.Rank > 0 && b.Rank > 0 && a.DistanceUM != b.DistanceUM &&
		slices.Contains(a.TooCloseTo, b.Entry) && s.Entries[a.Entry].Racing() && s.Entries[b.Entry].Racing()
}

// decidersDue are the lanes that still have to be given a decider.
func (s *State) decidersDue(d Division) []tiedLane {
	var out []tiedLane
	for _, p := range s.closePairs(d) {
		for _, l := range []tiedLane{p.upper, p.lower} {
			if lane, there := s.laneOf(l); there && !lane.Decided && !slices.Contains(out, l) {
				out = append(out, l)
			}
		}
	}
	return out
}

// mayDecide refuses a decider that no pair needs. The first of an entry in a round
// is owed; another one is a re-run like others, with a reason of its own.
func (s *State) mayDecide(h Heat, l Lane, reason ReasonCode) error {
	d := s.Divisions[h.Division]
	is := func(p closePair) bool { return p.upper.entry == l.Entry || p.lower.entry == l.Entry }
	switch {
	case !slices.ContainsFunc(s.closePairs(d), is):
		return refusal.New("decider-nothing", "number", s.number(l.Entry))
	case l.Decided && reason == ReasonTie:
		return refusal.New("decider-once", "number", s.number(l.Entry))
	}
	return nil
}

// decidedByDecider is the word in Standing.DecidedBy.
const decidedByDecider = "decider"

// byDeciders puts neighbours that are too close to call into the order of their
// deciders, once both have had theirs.
func (s *State) byDeciders(d Division, stage int, lines []Standing) {
	p := s.Programmes[d.ID].Stages[stage-1]
	if s.Rules.Close != CloseDecider || len(p.Rounds) == 0 {
		return
	}
	heats := p.Rounds[len(p.Rounds)-1].Heats
	for _, at := range s.decisiveLines(d, stage) {
		if at >= len(lines) || !slices.Contains(lines[at-1].TooCloseTo, lines[at].Entry) {
			continue
		}
		pair, there := s.pairOf(heats, lines[at-1], lines[at])
		if !there {
			continue
		}
		upper, _ := s.laneOf(pair.upper)
		lower, _ := s.laneOf(pair.lower)
		switch c := s.compareDeciders(upper, lower); {
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

// compareDeciders is above zero where the first lane had the better decider, and
// zero while one is missing or where both are equal. A car that did not make its
// decider comes behind one that did.
func (s *State) compareDeciders(a, b Lane) int {
	if !a.Decided || !b.Decided || a.Deciding || b.Deciding {
		return 0
	}
	worth := func(l Lane) int64 {
		if l.Decider == "" {
			return -1
		}
		return s.worth(l.Decider)
	}
	return cmp.Compare(worth(a), worth(b))
}

// tooClose says whether two distances differ by no more than is known of them
// allows, as standings marks it: at 95 %, in whole numbers. Equal ones are left to
// the rule for ties.
func tooClose(a, b LaneResult) bool {
	if !a.Valued || !b.Valued || a.DistanceUM == b.DistanceUM {
		return false
	}
	return (&standings.Closeness{Confidence: closeConfidence}).TooClose(a.asRun(), b.asRun())
}
