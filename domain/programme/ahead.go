package programme

import (
	"cmp"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// RoundAhead is a round that is not drawn yet, as far as the form of its stage says
// beforehand what it will be; or what may still come to a round that is drawn.
type RoundAhead struct {
	Stage, Round int
	// Drawn says that the round is drawn and that Heats may be added to it: deciders of
	// legs.
	Drawn bool
	// Apart says that it is drawn once all heats of the round before are under way;
	// else once that one is closed.
	Apart bool
	// Heats are as many as there can be: fewer where cars leave. Without a sibling in the
	// division, and where nobody leaves, all that are not only possible are raced.
	Heats []HeatAhead
}

// HeatAhead is a heat that is not drawn yet.
type HeatAhead struct {
	// Number is its number in the round as far as that is known beforehand; Leg is its
	// leg where there are several.
	Number, Leg int
	// Lanes is how many cars it has, if nobody leaves.
	Lanes int
	// Entries are those of its cars that are known already.
	Entries []day.EntryID
	// Possible marks a heat that results may make needless: a second final, the decider
	// of two legs.
	Possible bool
}

// Ahead is what lies ahead of a division: the rounds of all its stages that are not drawn,
// in order. A stage behind the next one has as many cars as can come into it. Nothing lies
// ahead where the programme was ended, where the division races in another one, or where a
// stage cannot be drawn for so many. It costs a draw of every stage whose form is drawn as
// a whole.
func Ahead(s *day.State, d day.Division) []RoundAhead {
	p := s.Programmes[d.ID]
	if p.EndedEarly || p.MergedInto != "" {
		return nil
	}
	var out []RoundAhead
	stage, round := p.Round()
	field := seedsAhead(s, d, max(stage, 1), round+1)
	if stage > 0 {
		_, form := FormOf(d, stage)
		out = form.Ahead(s, d, stage, nil)
	}
	cars := siblingsFirst(carsOf(s, field))
	for next := stage + 1; next <= len(d.Stages); next++ {
		st, form := FormOf(d, next)
		if st.Entries > 0 {
			cars = cars[:min(len(cars), st.Entries)]
		}
		if len(cars) == 0 {
			return out
		}
		out = append(out, form.Ahead(s, d, next, cars)...)
	}
	return out
}

// seedsAhead are the entries that take part in the rest of a stage, as far as is known now.
// While the entries are open all of them are expected to come.
func seedsAhead(s *day.State, d day.Division, stage, round int) []day.EntryID {
	var field []day.EntryID
	if round == 1 && !s.Programmes[d.ID].EntriesClosed {
		field = candidates(s, d, stage)
	} else {
		field = seedsOf(s, d, stage, round)
	}
	return slices.DeleteFunc(slices.Clone(field), func(id day.EntryID) bool { return !s.Entries[id].Racing() })
}

// siblingsFirst puts the cars that most entries share first: whoever goes on of a field,
// no more of one car can be among them.
func siblingsFirst(cars []int) []int {
	of := map[int]int{}
	for _, car := range cars {
		of[car]++
	}
	return slices.SortedStableFunc(slices.Values(cars), func(a, b int) int {
		return cmp.Or(cmp.Compare(of[b], of[a]), cmp.Compare(a, b))
	})
}

// treeAhead are the rounds that are not drawn of a stage that is drawn as a whole: of the
// draw that stands, or of one as draw would make it.
func treeAhead(s *day.State, d day.Division, stage int, draw func() (*bracket.Draw, error)) []RoundAhead {
	p := s.Programmes[d.ID]
	if stage > len(p.Stages) {
		made, err := draw()
		if err != nil {
			return nil
		}
		return roundsOfTree(d, made, made.Rounds, stage, nil, bracket.Results{})
	}
	st := p.Stages[stage-1]
	out := decidersAhead(s, d, stage)
	return append(out, roundsOfTree(d, st.Tree, st.Tree.Rounds[len(st.Rounds):], stage, st.Seeds, treeResults(s, d, stage, st.Seeds))...)
}

func roundsOfTree(
	d day.Division, tree *bracket.Draw, rounds []bracket.Round, stage int, seeds []day.EntryID, results bracket.Results,
) []RoundAhead {
	if len(rounds) == 0 {
		return nil
	}
	views := map[string]bracket.HeatView{}
	for _, v := range tree.Follow(results) {
		views[v.ID] = v
	}
	_, form := FormOf(d, stage)
	var out []RoundAhead
	for _, r := range rounds {
		round := RoundAhead{Stage: stage, Round: r.Number}
		for i, h := range r.Heats {
			v := views[h.ID]
			if v.State == bracket.NotNeeded || v.State == bracket.Decided || v.State == bracket.Walkover && form.Walkover() {
				continue
			}
			heat := HeatAhead{Number: i + 1, Possible: h.IfNeeded && v.State != bracket.Ready}
			for _, at := range v.Lanes {
				if at != bracket.Vacant {
					heat.Lanes++
				}
				if id := seedAt(seeds, at); id != "" {
					heat.Entries = append(heat.Entries, id)
				}
			}
			if tree.Legs < 2 {
				round.Heats = append(round.Heats, heat)
				continue
			}
			for leg := 1; leg <= day.ThirdLeg; leg++ {
				heat.Leg, heat.Possible = leg, leg == day.ThirdLeg
				round.Heats = append(round.Heats, heat)
			}
		}
		if len(round.Heats) > 0 {
			out = append(out, round)
		}
	}
	return out
}

// decidersAhead are the deciders that may come to rounds of a stage that are drawn: of
// heats whose first two legs are not both posted.
func decidersAhead(s *day.State, d day.Division, stage int) []RoundAhead {
	var out []RoundAhead
	for i, r := range s.Programmes[d.ID].Stages[stage-1].Rounds {
		round := RoundAhead{Stage: stage, Round: i + 1, Drawn: true}
		for _, id := range r.Heats {
			h := s.Heats[id]
			if h.Leg != 1 {
				continue
			}
			if _, known := LegWinners(s, h); known || len(legs(s, h)) == day.ThirdLeg {
				continue
			}
			heat := HeatAhead{Number: h.Number, Leg: day.ThirdLeg, Lanes: len(h.Lanes), Possible: true}
			for _, l := range h.Lanes {
				heat.Entries = append(heat.Entries, l.Entry)
			}
			round.Heats = append(round.Heats, heat)
		}
		if len(round.Heats) > 0 {
			out = append(out, round)
		}
	}
	return out
}

// evenHeats are n cars dealt to heats of at most so many lanes, the sizes of which differ
// by one at most; no car stands in one twice.
func evenHeats(cars []int, lanes int) []HeatAhead {
	n, most := len(cars), 0
	of := map[int]int{}
	for _, car := range cars {
		of[car]++
		most = max(most, of[car])
	}
	lanes = max(lanes, 1)
	heats := min(n, max((n+lanes-1)/lanes, most))
	out := make([]HeatAhead, 0, heats)
	for i := range heats {
		size := n / heats
		if i < n%heats {
			size++
		}
		out = append(out, HeatAhead{Number: i + 1, Lanes: size})
	}
	return out
}
