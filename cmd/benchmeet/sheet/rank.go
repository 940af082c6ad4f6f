package sheet

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"

	"benchmeet/domain/standings"
)

// RankHelp shows the formats of rankings.
const RankHelp = `
Ranks entries from measured runs, or from points that they won from each other or by places.

  {"measure": "distance_m", "better": "more", "rule": "best", "tie_breaks": ["next-best"],
   "close": {"confidence": 0.95, "lines": [3]},
   "entries": ["A", "B", "C"],
   "statuses": {"C": "withdrawn"},
   "runs": [{"round": 1, "entry": "A", "value": 231.2, "u": 0.1},
            {"round": 1, "entry": "B", "value": 230.95, "u": 0.1},
            {"round": 1, "entry": "C", "value": null}]}

  measure     distance_m, laps or time_s
  better      more or less (less for time_s, more for the others)
  rule        best, mean, median, sum or best-two (the mean of the two best)
  tie_breaks  next-best, latest, and the names of the rules, in the order in which they are asked
  u           standard uncertainty of the value; low and high: the ends of its 95 % interval, where that is
              lopsided, each of which goes before u on its side. u 0 is exact. Without u and an end that side is
              not known
  close       names results whose difference is smaller than their uncertainty allows; with lines, only
              between entries on different sides of a line drawn after so many rows. A result that is not known
              to above (a lower bound: low alone) cannot be told from any that is greater; one of which nothing
              is known cannot be told from its neighbours in the table

  {"scoring": {"win": 1, "draw": 0.5, "loss": 0, "bye": 1, "places": [5, 3, 2, 1], "share_places": true},
   "tie_breaks": ["buchholz-cut-1", "buchholz", "sonneborn-berger", "direct"], "unplayed": "2023",
   "entries": ["A", "B", "C"], "ratings": {"A": 1500},
   "results": [{"round": 1, "a": "A", "b": "B", "a_points": 1, "b_points": 0, "played": true},
               {"round": 1, "a": "C", "b": null, "a_points": 1},
               {"round": 2, "places": {"A": 1, "B": 2, "C": null}}]}

  results     b null is a bye; played false is a forfeit; a_score and b_score serve difference and scored;
              places are of a heat of many, scored by scoring.places; who share a place share the points of the
              places that they take (two firsts of 5 3 2 1 have 4 each), unless share_places is false
  unplayed    how rounds not played count in tie-breaks: 2023 (FIDE C.07 of that year), before-2023,
              or as-played for round robins
  tie_breaks  buchholz, buchholz-cut-1, buchholz-cut-2, median, sonneborn-berger, direct, head-to-head, koya,
              progressive, progressive-cut-1, average-rating, wins, countback, difference, scored

In both: statuses are did-not-start, did-not-finish, disqualified or withdrawn, by entry, and hold whatever runs or
results it has; status_rules say what they do: stands, last or unranked (unranked, last, unranked, stands). An entry
without a run did not start. Figures are read as exact decimals
of at most nine places; a null value is no run. Equal ranks are shared: 1 2 2 4. An entry without a rank has
null. decided_by names what parted an entry last from one level with it.
`

// RankInput is either measured runs or results for points, with the rules to rank
// them by.
type RankInput struct {
	Measure     string                      `json:"measure"`
	Better      standings.Better            `json:"better"`
	Rule        standings.Rule              `json:"rule"`
	TieBreaks   []string                    `json:"tie_breaks"`
	Close       *rankClose                  `json:"close"`
	Entries     []string                    `json:"entries"`
	Runs        []rankRun                   `json:"runs"`
	Statuses    map[string]standings.Status `json:"statuses"`
	StatusRules rankStatusRules             `json:"status_rules"`

	Scoring  *rankScoring       `json:"scoring"`
	Unplayed standings.Unplayed `json:"unplayed"`
	Ratings  map[string]int64   `json:"ratings"`
	Results  []rankResult       `json:"results"`
	Rounds   int                `json:"rounds"`
}

type rankStatusRules struct {
	DidNotStart  standings.StatusRule `json:"did-not-start"`
	DidNotFinish standings.StatusRule `json:"did-not-finish"`
	Disqualified standings.StatusRule `json:"disqualified"`
	Withdrawn    standings.StatusRule `json:"withdrawn"`
}

type rankClose struct {
	Confidence json.Number `json:"confidence"`
	Lines      []int       `json:"lines"`
}

type rankRun struct {
	Round int          `json:"round"`
	Entry string       `json:"entry"`
	Value *json.Number `json:"value"`
	U     *json.Number `json:"u"`
	Low   *json.Number `json:"low"`
	High  *json.Number `json:"high"`
}

// RankRow is a line of a ranking, exact to nine decimal places.
type RankRow struct {
	Rank       *int                   `json:"rank"`
	Entry      string                 `json:"entry"`
	Points     json.Number            `json:"points,omitempty"`
	Value      json.Number            `json:"value,omitempty"`
	Runs       *int                   `json:"runs,omitempty"`
	Status     standings.Status       `json:"status,omitempty"`
	TieBreaks  map[string]json.Number `json:"tie_breaks,omitempty"`
	DecidedBy  string                 `json:"decided_by,omitempty"`
	TooCloseTo []string               `json:"too_close_to,omitempty"`
}

// Rank ranks; the answer is a list of RankRow.
func Rank(in RankInput) (any, error) {
	switch {
	case in.Measure != "" && (in.Scoring != nil || in.Results != nil):
		return nil, Refuse("the file names a measure and a scoring; rank runs and points apart")
	case in.Measure != "":
		return rankRuns(in)
	case in.Scoring != nil || in.Results != nil:
		return rankPoints(in)
	}
	return nil, errors.New(`the file names neither a "measure" nor a "scoring"; see: benchmeet help rank`)
}

// rankUnit is the unit of measured values here: nine decimal places, so that decimals are whole numbers.
const rankUnit = 1_000_000_000

func rankRuns(in RankInput) (any, error) {
	rules := standings.TimedRules{
		Better: in.Better, Rule: in.Rule, TieBreaks: in.TieBreaks, Statuses: standings.StatusRules(in.StatusRules),
	}
	// The measure says which end is the good one, unless the file does.
	switch in.Measure {
	case "distance_m", "laps":
		if rules.Better == "" {
			rules.Better = standings.More
		}
	case "time_s":
		if rules.Better == "" {
			rules.Better = standings.Less
		}
	default:
		return nil, Refuse("the measure %q is not known; known are: distance_m, laps, time_s", in.Measure)
	}
	if in.Close != nil {
		// The ranking counts the confidence in thousandths.
		confidence, err := rankWhole(in.Close.Confidence, 1000)
		if err != nil {
			return nil, fmt.Errorf("close.confidence: %w", err)
		}
		rules.Close = &standings.Closeness{Confidence: int(confidence), Lines: in.Close.Lines}
	}
	entries := make([]standings.TimedEntry, len(in.Entries))
	index := map[string]int{}
	for i, id := range in.Entries {
		entries[i] = standings.TimedEntry{ID: id, Status: in.Statuses[id]}
		index[id] = i
	}
	if err := rankStatusesKnown(in, index); err != nil {
		return nil, err
	}
	for i, r := range in.Runs {
		at, known := index[r.Entry]
		if !known {
			return nil, Refuse("runs: number %d is of entry %q, which is not listed under entries", i+1, r.Entry)
		}
		run, err := r.read()
		if err != nil {
			return nil, fmt.Errorf("runs: %w", err)
		}
		entries[at].Runs = append(entries[at].Runs, run)
	}
	rows, err := standings.RankTimed(entries, rules)
	if err != nil {
		return nil, Refuse("%w", err)
	}
	return showRuns(rows), nil
}

// read returns the run in whole units. What is left out is not known.
func (r rankRun) read() (standings.Run, error) {
	run := standings.Run{Round: r.Round}
	if r.Value == nil {
		run.None = true
		return run, nil
	}
	for _, field := range []struct {
		name string
		text *json.Number
		into func(int64)
	}{
		{"value", r.Value, func(v int64) { run.Value = v }},
		{"u", r.U, func(v int64) { run.U, run.Exact = v, v == 0 }},
		{"low", r.Low, func(v int64) { run.Low = &v }},
		{"high", r.High, func(v int64) { run.High = &v }},
	} {
		if field.text == nil {
			continue
		}
		v, err := rankWhole(*field.text, rankUnit)
		if err != nil {
			return run, fmt.Errorf("%s of entry %s in round %d: %w", field.name, r.Entry, r.Round, err)
		}
		field.into(v)
	}
	return run, nil
}

// rankStatusesKnown refuses a status or rating of somebody who is not listed.
func rankStatusesKnown(in RankInput, index map[string]int) error {
	for _, id := range sortedKeys(in.Statuses) {
		if _, known := index[id]; !known {
			return Refuse("statuses: entry %q is not listed under entries", id)
		}
	}
	for _, id := range sortedKeys(in.Ratings) {
		if _, known := index[id]; !known {
			return Refuse("ratings: entry %q is not listed under entries", id)
		}
	}
	return nil
}

// rankWhole reads a decimal as a whole number of the unit, exactly.
func rankWhole(text json.Number, unit int64) (int64, error) {
	f, err := standings.ParseFraction(text.String())
	if err != nil {
		return 0, err
	}
	whole, den, fits := f.Mul(standings.Whole(unit)).Parts()
	if !fits || den != 1 {
		return 0, fmt.Errorf("%s has too many digits; at most %d decimal places are read", text, len(fmt.Sprint(unit))-1)
	}
	return whole, nil
}

func showRuns(ranked []standings.Standing) []RankRow {
	out := []RankRow{}
	for _, s := range ranked {
		row := showStanding(s)
		row.Runs = &s.Counted
		if !s.None {
			row.Value = number(s.Figure.Over(rankUnit).Decimal(9))
		}
		for _, t := range s.TieBreaks {
			if !t.None {
				row.TieBreaks[t.Name] = number(t.Value.Over(rankUnit).Decimal(9))
			}
		}
		out = append(out, row)
	}
	return out
}

// showStanding fills what rows of every kind have in common.
func showStanding(s standings.Standing) RankRow {
	row := RankRow{
		Entry: s.Entry, Status: s.Status, DecidedBy: s.DecidedBy, TooCloseTo: s.TooCloseTo,
		TieBreaks: map[string]json.Number{},
	}
	if s.Rank > 0 {
		row.Rank = &s.Rank
	}
	return row
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// number writes an exact decimal as a JSON number.
func number(text string) json.Number { return json.Number(text) }
