package sheet

import (
	"encoding/json"
	"fmt"

	"benchmeet/domain/standings"
)

type rankScoring struct {
	Win    json.Number   `json:"win"`
	Draw   json.Number   `json:"draw"`
	Loss   json.Number   `json:"loss"`
	Bye    json.Number   `json:"bye"`
	Places []json.Number `json:"places"`
	// SharePlaces is true where it is not named, as in a meet.
	SharePlaces *bool `json:"share_places"`
}

type rankResult struct {
	Round   int             `json:"round"`
	A       string          `json:"a"`
	B       *string         `json:"b"`
	APoints *json.Number    `json:"a_points"`
	BPoints *json.Number    `json:"b_points"`
	AScore  json.Number     `json:"a_score"`
	BScore  json.Number     `json:"b_score"`
	Played  *bool           `json:"played"`
	Places  map[string]*int `json:"places"`
}

func rankPoints(in RankInput) (any, error) {
	scoring, err := in.Scoring.read()
	if err != nil {
		return nil, err
	}
	rules := standings.PointsRules{
		Scoring: scoring, Unplayed: in.Unplayed, TieBreaks: in.TieBreaks,
		Statuses: standings.StatusRules(in.StatusRules), Rounds: in.Rounds,
	}
	entries := make([]standings.PointsEntry, len(in.Entries))
	index := map[string]int{}
	for i, id := range in.Entries {
		entries[i] = standings.PointsEntry{ID: id, Status: in.Statuses[id], Rating: in.Ratings[id]}
		index[id] = i
	}
	// A status or rating of somebody who is not listed would be lost without a word.
	if err := rankStatusesKnown(in, index); err != nil {
		return nil, err
	}
	var results []standings.Result
	var heats []standings.HeatResult
	for i, r := range in.Results {
		if r.Places != nil {
			if r.A != "" || r.B != nil {
				return nil, Refuse("results: number %d names places and two entries; a heat of many has places alone", i+1)
			}
			heats = append(heats, r.places())
			continue
		}
		result, err := r.read(scoring)
		if err != nil {
			return nil, fmt.Errorf("results: number %d: %w", i+1, err)
		}
		results = append(results, result)
	}
	rows, err := standings.RankPoints(entries, results, heats, rules)
	if err != nil {
		return nil, Refuse("%w", err)
	}
	return showPoints(rows), nil
}

// read fills what the scoring does not name: a win 1, a draw half a win, a bye a win.
func (s *rankScoring) read() (standings.Scoring, error) {
	if s == nil {
		s = &rankScoring{}
	}
	scoring := standings.Scoring{SharePlaces: s.SharePlaces == nil || *s.SharePlaces}
	// In this order, for a draw and a bye that are not named rest on the win.
	for _, field := range []struct {
		name      string
		text      json.Number
		into      *standings.Fraction
		otherwise func() standings.Fraction
	}{
		{"win", s.Win, &scoring.Win, func() standings.Fraction { return standings.Whole(1) }},
		{"draw", s.Draw, &scoring.Draw, func() standings.Fraction { return scoring.Win.Over(2) }},
		{"bye", s.Bye, &scoring.Bye, func() standings.Fraction { return scoring.Win }},
	} {
		if field.text == "" {
			*field.into = field.otherwise()
			continue
		}
		f, err := rankDecimal(field.text)
		if err != nil {
			return scoring, fmt.Errorf("scoring.%s: %w", field.name, err)
		}
		*field.into = f
	}
	if s.Loss != "" {
		if loss, err := rankDecimal(s.Loss); err != nil {
			return scoring, fmt.Errorf("scoring.loss: %w", err)
		} else if loss.Sign() != 0 {
			return scoring, Refuse("scoring.loss must be 0: subtract it from the other points")
		}
	}
	for i, text := range s.Places {
		f, err := rankDecimal(text)
		if err != nil {
			return scoring, fmt.Errorf("scoring.places: place %d: %w", i+1, err)
		}
		scoring.ByPlace = append(scoring.ByPlace, f)
	}
	return scoring, nil
}

func rankDecimal(text json.Number) (standings.Fraction, error) {
	if text == "" {
		return standings.Fraction{}, nil
	}
	return standings.ParseFraction(text.String())
}

func (r rankResult) read(scoring standings.Scoring) (standings.Result, error) {
	result := standings.Result{Round: r.Round, A: r.A, Played: r.Played == nil || *r.Played}
	if r.APoints == nil && r.B != nil || r.BPoints == nil && r.B != nil {
		return result, fmt.Errorf("a_points and b_points of %s and %s must both be given", r.A, *r.B)
	}
	if r.B != nil {
		if *r.B == "" {
			return result, fmt.Errorf("b is empty; null stands for a bye")
		}
		result.B = *r.B
	} else {
		// A bye is worth what the scoring says, unless the file gives points for it below.
		result.APoints, result.Played = scoring.Bye, false
	}
	for _, field := range []struct {
		name string
		text *json.Number
		into *standings.Fraction
	}{
		{"a_points", r.APoints, &result.APoints},
		{"b_points", r.BPoints, &result.BPoints},
		{"a_score", &r.AScore, &result.AScore},
		{"b_score", &r.BScore, &result.BScore},
	} {
		if field.text == nil {
			continue
		}
		f, err := rankDecimal(*field.text)
		if err != nil {
			return result, fmt.Errorf("%s: %w", field.name, err)
		}
		*field.into = f
	}
	return result, nil
}

func (r rankResult) places() standings.HeatResult {
	heat := standings.HeatResult{Round: r.Round}
	for _, id := range sortedKeys(r.Places) {
		p := standings.Place{Entry: id}
		if place := r.Places[id]; place != nil {
			p.Place = *place
		}
		heat.Places = append(heat.Places, p)
	}
	return heat
}

func showPoints(ranked []standings.Standing) []RankRow {
	out := []RankRow{}
	for _, s := range ranked {
		row := showStanding(s)
		row.Points = number(s.Figure.Decimal(9))
		for _, t := range s.TieBreaks {
			if !t.None {
				row.TieBreaks[t.Name] = number(t.Value.Decimal(9))
			}
		}
		out = append(out, row)
	}
	return out
}
