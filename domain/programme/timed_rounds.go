package programme

import (
	"fmt"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/standings"
)

// timedRounds is the form in which every entry runs once a round and its
// distances rank it.
type timedRounds struct {
	dealt
	// Rule says which of an entry's runs makes its timed result.
	Rule timedRule `json:"rule,omitempty"`
}

func init() { enter[timedRounds]() }

// Kind names the form.
func (timedRounds) Kind() day.StageKind { return "timed-rounds" }

// Less is one round less.
func (f timedRounds) Less() []Less {
	f.RoundCount--
	return lessRound(f, f.RoundCount > 0)
}

// timedRule says which of an entry's runs makes its timed result.
type timedRule string

// Timed rules.
const (
	ruleBest   timedRule = "best"
	ruleMean   timedRule = "mean"
	ruleMedian timedRule = "median"
	ruleSum    timedRule = "sum"
)

// Check refuses settings that the form cannot have.
func (t timedRounds) Check(d day.DivisionID, number int, st day.Stage) error {
	if err := t.checkRounds(d, number); err != nil {
		return err
	}
	if !day.OneOf(t.Rule, ruleBest, ruleMean, ruleMedian, ruleSum) {
		return refusal.New("timed-rule", "division", d, "stage", number, "rule", t.Rule)
	}
	return t.checkDesign(d, number, st)
}

func (timedRounds) foreign(d day.DivisionID, number int, setting string) error {
	if setting == "third_place" {
		return refusal.New("timed-third", "division", d, "stage", number)
	}
	return nil
}

// Tied asks for a decider where the rules want one: after the last round, entries
// that share a rank across a prize or qualifying line race their last run again.
func (t timedRounds) Tied(s *day.State, heats []day.HeatID) []TiedLane {
	return tiedLast(s, heats, t.Rank)
}

// closePairs are those at a prize or qualifying line, once the last round is raced.
func (t timedRounds) closePairs(s *day.State, d day.Division, stage, round int, heats []day.HeatID) []closePair {
	open := func(id day.HeatID) bool { return !s.Heats[id].Through() }
	if round != t.RoundCount || slices.ContainsFunc(heats, open) {
		return nil
	}
	return closeLines(s, d, stage, heats, t.Rank(s, d, stage))
}

// Rank orders the stage's entries, best first.
func (t timedRounds) Rank(s *day.State, d day.Division, stage int) []Standing {
	lines := stageLines(s, d, stage)
	entries := make([]standings.TimedEntry, 0, len(lines.all))
	for _, id := range s.Programmes[d.ID].Stages[stage-1].Seeds {
		entries = append(entries, lines.of(id).timed())
	}
	rules := standings.TimedRules{
		Better: standings.More,
		Rule:   standings.Rule(t.Rule),
		Close:  &standings.Closeness{Confidence: closeConfidence, Lines: decisiveLines(s, d, stage)},
	}
	if s.Rules.Tie == day.TieNextBest {
		rules.TieBreaks = []string{standings.NextBest}
	}
	ranked, err := standings.RankTimed(entries, rules)
	if err != nil {
		// Every rule was checked when the division was added and every figure when
		// it was recorded, so this is a mistake in the program.
		panic(fmt.Sprintf("ranking %s stage %d: %v", d.ID, stage, err))
	}
	out := make([]Standing, 0, len(ranked))
	for _, r := range ranked {
		line := lines.of(day.EntryID(r.Entry))
		line.Rank, line.DecidedBy = r.Rank, r.DecidedBy
		for _, other := range r.TooCloseTo {
			line.TooCloseTo = append(line.TooCloseTo, day.EntryID(other))
		}
		if num, den, fits := r.Figure.Parts(); fits && !r.None && num > 0 {
			line.DistanceUM = (2*num + den) / (2 * den)
		}
		line.UUM = timedU(t.Rule, line.Runs)
		out = append(out, line)
	}
	byDeciders(s, d, stage, out)
	return disqualifiedLast(out)
}

// timed is the line as the ranking takes it.
func (l Standing) timed() standings.TimedEntry {
	e := standings.TimedEntry{ID: string(l.Entry)}
	for _, r := range l.Runs {
		e.Runs = append(e.Runs, standings.Run{Round: r.Round, Value: r.DistanceUM, U: r.UUM, Low: r.LowUM, High: r.HighUM, None: !r.Valued})
	}
	ran := l.valued()
	switch {
	case l.Status == day.StatusDisqualified:
		e.Status = standings.Disqualified
	case l.Status == day.StatusWithdrawn && ran: // without a run it did not start
		e.Status = standings.Withdrawn
	}
	if !ran && e.Status == "" && len(l.Runs) > 0 {
		e.Status = standings.DidNotStart
		for _, r := range l.Runs {
			if r.Status == day.StatusDidNotFinish {
				e.Status = standings.DidNotFinish
			}
		}
	}
	return e
}
