package programme

import (
	"cmp"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/standings"
)

// groups is the form of several round robins side by side; the stage behind it
// takes the best of every group by their places. The field is dealt by lot in a
// first stage, and else by rank.
type groups struct {
	drawnWhole
	sown
	apart
	meetings
	pairPoints
	// Groups is how many groups the field is dealt to.
	Groups int `json:"groups,omitempty"`
}

// Kind names the form.
func (groups) Kind() day.StageKind { return "groups" }

// methodGroups names the draw in events; raise it when the same seed would give
// another draw.
const methodGroups = "groups-berger/2"

// maxGroups is how many groups a stage may have.
const maxGroups = 64

// byDrawOrder is the DecidedBy of a line that nothing but the order of the draw
// put behind another of its group: as many of each group are to go on.
const byDrawOrder = "draw-order"

// Check refuses settings that the form cannot have.
func (g groups) Check(d day.DivisionID, number int, st day.Stage) error {
	if err := checkPairs(st, d, number); err != nil {
		return err
	}
	if g.Groups < 2 || g.Groups > maxGroups {
		return refusal.New("stage-groups", "division", d, "stage", number, "most", maxGroups)
	}
	return cmp.Or(g.checkCycles(d, number), g.checkPoints(d, number))
}

func init() { enter[groups]() }

// Tied finds what has to be raced again before the round can be closed.
func (groups) Tied(*day.State, []day.HeatID) []TiedLane { return nil }

// SureRuns is how often everybody races.
func (g groups) SureRuns(_ day.Stage, n int) (int, error) {
	return leastRuns(bracket.Groups(n, bracket.GroupOptions{Groups: g.Groups, Cycles: g.times()}))
}

// Ahead is what lies ahead in the stage.
func (g groups) Ahead(s *day.State, d day.Division, stage int, cars []int) []RoundAhead {
	return treeAhead(s, d, stage, func() (*bracket.Draw, error) {
		return bracket.Groups(len(cars), bracket.GroupOptions{Groups: g.Groups, Cycles: g.times(), Seeds: len(cars)})
	})
}

// Draw makes the next round from the seeds.
func (g groups) Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	return drawnTree(s, methodGroups, d, stage, round, seeds, func() (*bracket.Draw, error) {
		o := bracket.GroupOptions{Groups: g.Groups, Cycles: g.times(), Cars: carsOf(s, seeds), LotSeed: lotSeed}
		o.Seeds = seeded(s, d, stage, seeds)
		if g.SeparateClubs {
			o.Clubs = teamsOf(s, seeds)
		}
		return bracket.Groups(len(seeds), o)
	})
}

// Rank orders by place in the group, then by points for each heat, since groups
// may differ in size. So the first are the winners of groups, and whoever takes
// as many as there are groups, or twice as many, takes as many of each.
func (g groups) Rank(s *day.State, d day.Division, stage int) []Standing {
	drawn := s.Programmes[d.ID].Stages[stage-1]
	results := g.results(s, d, stage, false)
	heats := map[day.EntryID]int64{}
	for _, r := range results {
		heats[day.EntryID(r.A)]++
		heats[day.EntryID(r.B)]++
	}
	var out []Standing
	for _, group := range drawn.Tree.Groups {
		members := make([]day.EntryID, 0, len(group.Entries))
		for _, at := range group.Entries {
			members = append(members, seedAt(drawn.Seeds, at))
		}
		lines := g.rank(s, d, stage, members, resultsOf(results, members), standings.PointsRules{
			Unplayed: standings.AsPlayed, TieBreaks: robinTieBreaks(),
		})
		for i := range lines {
			lines[i].Group = group.Name
			if lines[i].Rank == 0 {
				continue
			}
			lines[i].GroupPlace = i + 1
			if lines[i].DecidedBy == standings.Shared {
				lines[i].DecidedBy = byDrawOrder
			}
		}
		out = append(out, lines...)
	}
	compare := func(a, b Standing) int {
		return cmp.Or(
			CompareBool(a.Disqualified(), b.Disqualified()),
			cmp.Compare(a.GroupPlace, b.GroupPlace),
			// a/heats(a) against b/heats(b), the better first
			cmp.Compare(*b.Points*max(1, heats[a.Entry]), *a.Points*max(1, heats[b.Entry])),
		)
	}
	slices.SortStableFunc(out, compare)
	rankLines(out, compare)
	return out
}

// resultsOf are the results among the members of a group.
func resultsOf(all []standings.Result, members []day.EntryID) []standings.Result {
	var out []standings.Result
	for _, r := range all {
		if slices.Contains(members, day.EntryID(r.A)) {
			out = append(out, r)
		}
	}
	return out
}

// groupsBefore numbers the groups that entries come from, so that a tree can keep
// them apart; nil where the stage before had none.
func groupsBefore(s *day.State, d day.Division, stage int, seeds []day.EntryID) []int {
	if stage == 1 {
		return nil
	}
	before := s.Programmes[d.ID].Stages[stage-2]
	if before.Tree == nil || len(before.Tree.Groups) == 0 {
		return nil
	}
	of := map[day.EntryID]int{}
	for i, g := range before.Tree.Groups {
		for _, at := range g.Entries {
			of[seedAt(before.Seeds, at)] = i
		}
	}
	out := make([]int, len(seeds))
	for i, id := range seeds {
		out[i] = of[id]
	}
	return out
}
