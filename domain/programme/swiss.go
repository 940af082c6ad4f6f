package programme

import (
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/standings"
)

// swiss is the form in which each round pairs entries with about equal points
// who have not met: heats of two for points, a tied heat is a draw. The side at
// the benches plays the part of colour; the odd one out has a bye, which is
// worth a win.
type swiss struct {
	sown
	joinable
	pairPoints
	// RoundCount is how many rounds are paired.
	RoundCount int `json:"rounds,omitempty"`
}

func init() { enter[swiss]() }

// Kind names the form.
func (swiss) Kind() day.StageKind { return "swiss" }

// Less is one round less.
func (f swiss) Less() []Less {
	f.RoundCount--
	return lessRound(f, f.RoundCount > 0)
}

// TableEachRound is true: points stand after each round.
func (swiss) TableEachRound() bool { return true }

// methodSwiss names the draw in events; raise it when the same seed would give
// another draw.
const methodSwiss = "swiss-dutch/3"

// Check refuses settings that the form cannot have.
func (sw swiss) Check(d day.DivisionID, number int, st day.Stage) error {
	if err := checkPairs(st, d, number); err != nil {
		return err
	}
	if sw.RoundCount < 1 || sw.RoundCount > maxRounds {
		return refusal.New("timed-rounds", "division", d, "stage", number, "most", maxRounds)
	}
	return sw.checkPoints(d, number)
}

// TakesLate says whether an entry may come after the first draw.
func (sw swiss) TakesLate(drawn int) bool { return drawn < sw.RoundCount }

// Rounds is how many rounds the stage has in all.
func (sw swiss) Rounds(*day.State, day.Division, int) int { return sw.RoundCount }

// Walkover says whether the last car left in a heat need not race.
func (swiss) Walkover() bool { return true }

// Tied finds what has to be raced again before the round can be closed.
func (swiss) Tied(*day.State, []day.HeatID) []TiedLane { return nil }

// SureRuns leaves a bye out for each in an odd field.
func (sw swiss) SureRuns(_ day.Stage, n int) (int, error) {
	if n < 2 {
		return 0, &bracket.Refusal{Rule: "entries", Says: "a round of pairs needs at least 2 entries"}
	}
	return sw.RoundCount - n%2, nil
}

// Ahead pairs all who still race in each round that is left.
func (sw swiss) Ahead(s *day.State, d day.Division, stage int, cars []int) []RoundAhead {
	drawn := 0
	if p := s.Programmes[d.ID]; stage <= len(p.Stages) {
		drawn = len(p.Stages[stage-1].Rounds)
		cars = carsOf(s, seedsAhead(s, d, stage, drawn+1))
	}
	var out []RoundAhead
	for round := drawn + 1; round <= sw.RoundCount && len(cars) > 1; round++ {
		r := RoundAhead{Stage: stage, Round: round}
		for pair := range len(cars) / 2 {
			r.Heats = append(r.Heats, HeatAhead{Number: pair + 1, Lanes: 2})
		}
		out = append(out, r)
	}
	return out
}

// Draw makes the next round from the seeds.
func (sw swiss) Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	out := day.RoundDrawn{Method: methodSwiss, Heats: []day.DrawnHeat{}}
	if round == 1 {
		// The pairing numbers of who is not seeded are drawn by lot.
		known := seeded(s, d, stage, seeds)
		seeds = slices.Concat(seeds[:known], byRanks(seeds[known:], make([]int, len(seeds)-known), lotSeed))
		out.Seeds = seeds
	}
	field, err := bracket.SwissHistory(len(seeds), sw.history(s, d, stage, round, seeds))
	if err != nil {
		return out, err
	}
	there := 0
	for i, car := range carsOf(s, seeds) {
		field[i].Car = car
		field[i].Absent = !s.Entries[seeds[i]].Racing()
		if !field[i].Absent {
			there++
		}
	}
	if there < 2 {
		return out, refusal.New("pairs-alone", "division", d.ID)
	}
	made, err := bracket.NextSwissRound(field, bracket.SwissOptions{
		Round: round, Rounds: sw.RoundCount, Win: sw.points().Win, LotSeed: lotSeed,
	})
	if err != nil {
		return out, err
	}
	for _, p := range made.Pairs {
		out.Heats = append(out.Heats, day.DrawnHeat{Entries: []day.EntryID{seeds[p.First], seeds[p.Second]}, Reasons: p.Reasons})
	}
	if made.Bye >= 0 {
		out.Byes, out.ByeReasons = []day.EntryID{seeds[made.Bye]}, made.ByeReasons
	}
	return out, nil
}

// history is what came of the stage's rounds before one, as positions in the
// seeds.
func (sw swiss) history(s *day.State, d day.Division, stage, round int, seeds []day.EntryID) [][]bracket.SwissOutcome {
	if round == 1 {
		return nil
	}
	at := make(map[day.EntryID]int, len(seeds))
	for i, id := range seeds {
		at[id] = i
	}
	p := sw.points()
	var out [][]bracket.SwissOutcome
	for _, r := range s.Programmes[d.ID].Stages[stage-1].Rounds[:round-1] {
		outcomes := []bracket.SwissOutcome{}
		for _, id := range r.Heats {
			o, there := pairOutcomeOf(s, s.Heats[id], p)
			if !there {
				continue
			}
			outcomes = append(outcomes, bracket.SwissOutcome{
				First: at[o.first.Entry], Second: at[o.second.Entry], Played: o.played,
				FirstPoints: o.firstPoints, SecondPoints: o.secondPoints,
			})
		}
		for _, id := range r.Byes {
			outcomes = append(outcomes, bracket.SwissOutcome{First: at[id], Second: -1, FirstPoints: p.Win})
		}
		out = append(out, outcomes)
	}
	return out
}

// swissTieBreaks are those of a stage that names none (common practice).
func swissTieBreaks() []string {
	return []string{standings.BuchholzCut1, standings.Buchholz, standings.SonnebornBerger}
}

// Rank orders the stage's entries, best first.
func (sw swiss) Rank(s *day.State, d day.Division, stage int) []Standing {
	return sw.rank(s, d, stage, s.Programmes[d.ID].Stages[stage-1].Seeds, sw.results(s, d, stage, true), standings.PointsRules{
		TieBreaks: swissTieBreaks(),
	})
}
