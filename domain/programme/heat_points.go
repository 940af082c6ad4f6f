package programme

import (
	"cmp"
	"fmt"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/standings"
)

// heatPoints are what the cars of a heat of two get for its outcome.
type heatPoints struct {
	Win  int64 `json:"win"`
	Draw int64 `json:"draw"`
	Loss int64 `json:"loss"`
}

// usualPoints are the points of a stage that names none (common practice); whole
// numbers, so that half a win is one point.
func usualPoints() heatPoints { return heatPoints{Win: 2, Draw: 1, Loss: 0} }

// pairPoints is what forms have whose heats of two give points.
type pairPoints struct {
	// Points are what heats are worth; without them usualPoints.
	Points *heatPoints `json:"points,omitempty"`
	// TieBreaks part entries with equal points, in order; without them those of
	// the form. The names are those of package standings.
	TieBreaks []string `json:"tie_breaks,omitempty"`
}

// maxPoints is the most that a heat may be worth.
const maxPoints = 1000

// checkPoints refuses points and tie-breaks that a stage for points cannot have.
func (g pairPoints) checkPoints(d day.DivisionID, number int) error {
	if p := g.points(); p.Loss < 0 || p.Draw < p.Loss || p.Win <= p.Draw || p.Win > maxPoints {
		return refusal.New("stage-points", "division", d, "stage", number, "most", maxPoints)
	}
	for i, name := range g.TieBreaks {
		if !slices.Contains(pointsTieBreaks(), name) || slices.Contains(g.TieBreaks[:i], name) {
			return refusal.New("stage-tie-break", "division", d, "stage", number, "tie_break", name)
		}
	}
	return nil
}

// pointsTieBreaks are the tie-breaks of heats of two among entries without
// ratings.
func pointsTieBreaks() []string {
	return slices.DeleteFunc(standings.PointsTieBreaks(), func(name string) bool {
		return name == standings.AverageRating || name == standings.Countback
	})
}

func (g pairPoints) points() heatPoints {
	if g.Points == nil {
		return usualPoints()
	}
	return *g.Points
}

// pairOutcome is what came of a posted heat of two.
type pairOutcome struct {
	first, second             LaneResult
	firstPoints, secondPoints int64
	// played is false where a car did not race: the other wins without a race.
	played bool
}

// pairOutcomeOf gives the points of a heat: the longer distance wins, equal ones are a
// draw. A car without a distance loses, so two of them lose both.
func pairOutcomeOf(s *day.State, h day.Heat, p heatPoints) (pairOutcome, bool) {
	if !h.Posted() || len(h.Lanes) != 2 {
		return pairOutcome{}, false
	}
	o := pairOutcome{first: ResultOf(s, h.Lanes[0]), second: ResultOf(s, h.Lanes[1]), firstPoints: p.Loss, secondPoints: p.Loss}
	a, b := o.first, o.second
	o.played = raced(a) && raced(b)
	switch {
	case a.Valued && b.Valued && a.DistanceUM == b.DistanceUM:
		o.firstPoints, o.secondPoints = p.Draw, p.Draw
	case better(a, b):
		o.firstPoints = p.Win
	case better(b, a):
		o.secondPoints = p.Win
	}
	return o, true
}

// better says whether one car beats the other: by its distance, by having one,
// or because the other is out.
func better(a, b LaneResult) bool {
	switch {
	case a.Out:
		return false
	case a.Valued && b.Valued:
		return a.DistanceUM > b.DistanceUM
	}
	return a.Valued || b.Out
}

func raced(r LaneResult) bool { return r.Run != "" || r.Status == day.StatusDidNotFinish }

// results are the outcomes of a stage's posted heats and, where a bye gives
// points, its byes.
func (g pairPoints) results(s *day.State, d day.Division, stage int, byes bool) []standings.Result {
	p := g.points()
	var out []standings.Result
	for i, r := range s.Programmes[d.ID].Stages[stage-1].Rounds {
		for _, id := range r.Heats {
			o, there := pairOutcomeOf(s, s.Heats[id], p)
			if !there {
				continue
			}
			out = append(out, standings.Result{
				Round: i + 1, A: string(o.first.Entry), B: string(o.second.Entry), Played: o.played,
				APoints: standings.Whole(o.firstPoints), BPoints: standings.Whole(o.secondPoints),
				AScore: standings.Whole(o.first.DistanceUM), BScore: standings.Whole(o.second.DistanceUM),
			})
		}
		for _, id := range r.Byes {
			if byes {
				out = append(out, standings.Result{Round: i + 1, A: string(id), APoints: standings.Whole(p.Win)})
			}
		}
	}
	return out
}

// rank orders entries of a stage by the points of the results among them.
// Results of a withdrawn entry stand; a disqualified one has no rank.
func (g pairPoints) rank(
	s *day.State, d day.Division, stage int, among []day.EntryID, results []standings.Result, rules standings.PointsRules,
) []Standing {
	p := g.points()
	lines := stageLines(s, d, stage)
	rules.Scoring = standings.Scoring{Win: standings.Whole(p.Win), Draw: standings.Whole(p.Draw), Bye: standings.Whole(p.Win)}
	if len(g.TieBreaks) > 0 {
		rules.TieBreaks = g.TieBreaks
	}
	ranked, err := standings.RankPoints(pointsEntries(among, lines), results, nil, rules)
	if err != nil {
		// The settings were checked when the division was added, so this is a
		// mistake in the program.
		panic(fmt.Sprintf("ranking %s stage %d: %v", d.ID, stage, err))
	}
	for _, r := range ranked {
		line := lines.of(day.EntryID(r.Entry))
		line.Rank = r.Rank
		if r.DecidedBy != "points" && r.DecidedBy != "status" {
			line.DecidedBy = r.DecidedBy
		}
		points, _, _ := r.Figure.Parts()
		line.Points = &points
		lines.put(line)
	}
	out := make([]Standing, 0, len(among))
	for _, id := range among { // equals in seed order
		out = append(out, lines.of(id))
	}
	slices.SortStableFunc(out, func(a, b Standing) int { return cmp.Compare(a.Rank, b.Rank) })
	return disqualifiedLast(out)
}
