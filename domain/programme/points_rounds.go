package programme

import (
	"cmp"
	"fmt"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/standings"
)

// pointsRounds is the form of rounds of heats of many lanes that are dealt like
// timed rounds: each heat gives points by place, and the sum ranks. Cars with
// equal distances share the points of their places, exactly.
type pointsRounds struct {
	dealt
	// PlacePoints are what the places of a heat are worth, the first place first;
	// without them usualPlacePoints.
	PlacePoints []int64 `json:"place_points,omitempty"`
	// TieBreaks part entries with equal points, in order; without them those of
	// the form. The names are those of package standings.
	TieBreaks []string `json:"tie_breaks,omitempty"`
}

// Kind names the form.
func (pointsRounds) Kind() day.StageKind { return "points-rounds" }

// Less is one round less.
func (f pointsRounds) Less() []Less {
	f.RoundCount--
	return lessRound(f, f.RoundCount > 0)
}

// usualPlacePoints are the points of the places of a heat in a stage that names
// none (common practice, for up to eight lanes).
func usualPlacePoints() []int64 { return []int64{10, 8, 6, 5, 4, 3, 2, 1} }

// Check refuses settings that the form cannot have.
func (p pointsRounds) Check(d day.DivisionID, number int, st day.Stage) error {
	if err := p.checkRounds(d, number); err != nil {
		return err
	}
	points := p.placePoints()
	falling := slices.IsSortedFunc(points, func(a, b int64) int { return cmp.Compare(b, a) })
	if st.Lanes < 2 || len(points) > maxLanes || !falling || points[0] < 1 || points[0] > maxPoints || points[len(points)-1] < 0 {
		return refusal.New("stage-place-points", "division", d, "stage", number, "lanes", maxLanes, "most", maxPoints)
	}
	for i, name := range p.TieBreaks {
		last := name != standings.NextBest || i == len(p.TieBreaks)-1
		if !day.OneOf(name, placeTieBreaks()...) || !last || slices.Contains(p.TieBreaks[:i], name) {
			return refusal.New("stage-place-tie-break", "division", d, "stage", number, "tie_break", name)
		}
	}
	return p.checkDesign(d, number, st)
}

func init() { enter[pointsRounds]() }

// placeTieBreaks are those of rounds for points; a stage that names none has the
// first two (common practice).
func placeTieBreaks() []string {
	return []string{standings.Countback, standings.NextBest, standings.Wins}
}

func (p pointsRounds) placePoints() []int64 {
	if len(p.PlacePoints) == 0 {
		return usualPlacePoints()
	}
	return p.PlacePoints
}

// Tied finds what has to be raced again before the round can be closed.
func (p pointsRounds) Tied(s *day.State, heats []day.HeatID) []TiedLane {
	return tiedLast(s, heats, p.Rank)
}

// Rank orders by the sum of the points. A car without a distance has no place in
// its heat and no points from it.
func (p pointsRounds) Rank(s *day.State, d day.Division, stage int) []Standing {
	drawn := s.Programmes[d.ID].Stages[stage-1]
	breaks := p.TieBreaks
	if len(breaks) == 0 {
		breaks = placeTieBreaks()[:2]
	}
	rules := standings.PointsRules{Unplayed: standings.AsPlayed, Scoring: standings.Scoring{SharePlaces: true}}
	for _, points := range p.placePoints() {
		rules.Scoring.ByPlace = append(rules.Scoring.ByPlace, standings.Whole(points))
	}
	for _, name := range breaks {
		if name != standings.NextBest {
			rules.TieBreaks = append(rules.TieBreaks, name)
		}
	}
	lines := stageLines(s, d, stage)
	ranked, err := standings.RankPoints(pointsEntries(drawn.Seeds, lines), nil, placeResults(s, drawn), rules)
	if err != nil {
		// The settings were checked when the division was added, so this is a
		// mistake in the program.
		panic(fmt.Sprintf("ranking %s stage %d: %v", d.ID, stage, err))
	}
	rank := map[day.EntryID]int{}
	for _, r := range ranked {
		line := lines.of(day.EntryID(r.Entry))
		rank[line.Entry] = r.Rank
		if day.OneOf(r.DecidedBy, placeTieBreaks()...) {
			line.DecidedBy = r.DecidedBy
		}
		points, over, _ := r.Figure.Parts()
		line.Points = &points
		if over > 1 {
			line.PointsOver = over
		}
		lines.put(line)
	}
	out := make([]Standing, 0, len(drawn.Seeds))
	for _, id := range drawn.Seeds { // equals in seed order
		out = append(out, lines.of(id))
	}
	nextBest := slices.Contains(breaks, standings.NextBest)
	compare := func(a, b Standing) int {
		order := cmp.Or(CompareBool(a.Disqualified(), b.Disqualified()), cmp.Compare(rank[a.Entry], rank[b.Entry]))
		if order != 0 || !nextBest {
			return order
		}
		return slices.Compare(best(b), best(a))
	}
	slices.SortStableFunc(out, compare)
	rankLines(out, compare)
	for i := 1; i < len(out); i++ {
		if out[i].Rank > 0 && out[i].Rank != out[i-1].Rank && rank[out[i].Entry] == rank[out[i-1].Entry] {
			out[i].DecidedBy = standings.NextBest
		}
	}
	return disqualifiedLast(out)
}

// pointsEntries are entries as a ranking by points takes them: results of one
// that withdrew stand, a disqualified one has no rank.
func pointsEntries(ids []day.EntryID, lines lines) []standings.PointsEntry {
	out := make([]standings.PointsEntry, 0, len(ids))
	for _, id := range ids {
		e := standings.PointsEntry{ID: string(id)}
		switch lines.of(id).Status {
		case day.StatusDisqualified:
			e.Status = standings.Disqualified
		case day.StatusWithdrawn:
			e.Status = standings.Withdrawn
		}
		out = append(out, e)
	}
	return out
}

// placeResults are the places of a stage's posted heats.
func placeResults(s *day.State, drawn day.StageState) []standings.HeatResult {
	var out []standings.HeatResult
	for i, r := range drawn.Rounds {
		for _, id := range r.Heats {
			h := s.Heats[id]
			if !h.Posted() {
				continue
			}
			places := Places(s, h)
			heat := standings.HeatResult{Round: i + 1}
			for _, l := range h.Lanes {
				place := standings.Place{Entry: string(l.Entry)}
				if ResultOf(s, l).Valued {
					place.Place = places[l.Entry]
				}
				heat.Places = append(heat.Places, place)
			}
			out = append(out, heat)
		}
	}
	return out
}
