package programme

import (
	"fmt"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/standings"
)

// timedRounds is the format in which every entry runs once a round and its
// distances rank it.
type timedRounds struct{}

func init() { enter(day.TimedRounds, timedRounds{}) }

// MethodTimedRounds names the draw in events; raise it when the same seed would
// give another draw.
const MethodTimedRounds = "timed-rounds-lot/1"

// closeConfidence is where results count as too close to call, in thousandths.
const closeConfidence = 950

// Check refuses settings that the form cannot have.
func (timedRounds) Check(d day.DivisionID, number int, st day.Stage) error {
	switch {
	case st.Rounds < 1 || st.Rounds > maxRounds:
		return refusal.New("timed-rounds", "division", d, "stage", number, "most", maxRounds)
	case !day.OneOf(st.Rule, RuleBest, RuleMean, RuleMedian, RuleSum):
		return refusal.New("timed-rule", "division", d, "stage", number, "rule", st.Rule)
	case st.ThirdPlace:
		return refusal.New("timed-third", "division", d, "stage", number)
	}
	if err := checkLaneDesign(st, d, number); err != nil {
		return err
	}
	return st.Only(d, number, "rounds", "rule", "lane_design", "late")
}

// TakesLate is not possible where all rounds were drawn with the first.
func (timedRounds) TakesLate(st day.Stage, drawn int) bool {
	return drawn < st.Rounds && !st.LaneDesign
}

// Rounds is how many rounds the stage has in all.
func (timedRounds) Rounds(s *day.State, d day.Division, stage int) int {
	if tree := s.Programmes[d.ID].Stages[stage-1].Tree; tree != nil {
		return len(tree.Rounds)
	}
	return d.Stages[stage-1].Rounds
}

// Walkover says whether the last car left in a heat need not race.
func (timedRounds) Walkover() bool { return false }

// Tied asks for a decider where the rules want one: after the last round, entries
// that share a rank across a prize or qualifying line race their last run again.
func (t timedRounds) Tied(s *day.State, heats []day.HeatID) []TiedLane {
	return tiedLast(s, heats, t.Rank)
}

// valued says whether a line has a distance that ranks.
func (l Standing) valued() bool {
	return slices.ContainsFunc(l.Runs, func(r TimedRun) bool { return r.Valued })
}

// Draw makes the next round from the seeds.
func (timedRounds) Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	if d.Stages[stage-1].LaneDesign {
		return designedRound(s, d, stage, round, seeds, lotSeed)
	}
	out := day.RoundDrawn{Method: MethodTimedRounds, Heats: []day.DrawnHeat{}}
	var numbers []int // of those who still race, as positions in seeds
	for i, id := range seeds {
		if s.Entries[id].Racing() {
			numbers = append(numbers, i)
		}
	}
	if len(numbers) == 0 {
		return out, refusal.New("no-entries", "division", d.ID)
	}
	cars := carsOf(s, seeds)
	carOf := make([]int, len(numbers))
	for k, i := range numbers {
		carOf[k] = cars[i]
	}
	made, err := bracket.TimedRound(numbers, bracket.TimedOptions{
		Round:   round,
		Lanes:   min(d.Stages[stage-1].Lanes, len(BenchesInService(s))),
		Cars:    carOf,
		Earlier: earlierHeats(s, d, stage, round, seeds),
		LotSeed: lotSeed,
	})
	if err != nil {
		return out, err
	}
	for _, h := range made.Heats {
		heat := day.DrawnHeat{Entries: []day.EntryID{}}
		for _, slot := range h.Lanes {
			heat.Entries = append(heat.Entries, seeds[slot.Entry])
		}
		out.Heats = append(out.Heats, heat)
	}
	return out, nil
}

// Rank orders the stage's entries, best first.
func (timedRounds) Rank(s *day.State, d day.Division, stage int) []Standing {
	st := d.Stages[stage-1]
	lines := stageLines(s, d, stage)
	entries := make([]standings.TimedEntry, 0, len(lines))
	for _, id := range s.Programmes[d.ID].Stages[stage-1].Seeds {
		entries = append(entries, lines[id].timed())
	}
	rules := standings.TimedRules{
		Better: standings.More,
		Rule:   standings.Rule(st.Rule),
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
		line := lines[day.EntryID(r.Entry)]
		line.Rank, line.DecidedBy = r.Rank, r.DecidedBy
		for _, other := range r.TooCloseTo {
			line.TooCloseTo = append(line.TooCloseTo, day.EntryID(other))
		}
		if num, den, fits := r.Figure.Parts(); fits && !r.None && num > 0 {
			line.DistanceUM = (2*num + den) / (2 * den)
		}
		line.UUM = timedU(st.Rule, line.Runs)
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
