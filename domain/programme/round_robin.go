package programme

import (
	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/standings"
)

// roundRobin is the format in which every entry meets every other once, or
// twice with the benches changed, in heats of two for points. A tied heat is a
// draw. The numbers of the tables are drawn by lot (common practice).
type roundRobin struct{}

func init() { enter(day.RoundRobin, roundRobin{}) }

// MethodRoundRobin names the draw in events; raise it when the same seed would
// give another draw.
const MethodRoundRobin = "round-robin-berger/1"

// maxCycles is how often two may meet.
const maxCycles = 2

// Check refuses settings that the form cannot have.
func (roundRobin) Check(d day.DivisionID, number int, st day.Stage) error {
	if err := checkPairs(st, d, number, "cycles", "points", "tie_breaks", "seeding", "seeds"); err != nil {
		return err
	}
	if st.Cycles < 0 || st.Cycles > maxCycles {
		return refusal.New("stage-cycles", "division", d, "stage", number, "most", maxCycles)
	}
	return checkPoints(st, d, number)
}

// TakesLate says whether an entry may come after the first draw.
func (roundRobin) TakesLate(day.Stage, int) bool { return false }

// Rounds is how many rounds the stage has in all.
func (roundRobin) Rounds(s *day.State, d day.Division, stage int) int {
	return len(s.Programmes[d.ID].Stages[stage-1].Tree.Rounds)
}

// Walkover says whether the last car left in a heat need not race.
func (roundRobin) Walkover() bool { return true }

// Tied finds what has to be raced again before the round can be closed.
func (roundRobin) Tied(*day.State, []day.HeatID) []TiedLane { return nil }

// Draw makes the next round from the seeds.
func (roundRobin) Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	return drawnTree(s, MethodRoundRobin, d, stage, round, seeds, func() (*bracket.Draw, error) {
		return bracket.RoundRobin(len(seeds), bracket.RoundRobinOptions{
			Cycles: max(1, d.Stages[stage-1].Cycles), Cars: carsOf(s, seeds), Seeds: seeded(s, d, stage, seeds), LotSeed: lotSeed,
		})
	})
}

// robinTieBreaks are those of a stage that names none (common practice). A count
// of wins is not among them: it would punish whoever won without a race.
func robinTieBreaks() []string {
	return []string{standings.Direct, standings.SonnebornBerger}
}

// Rank orders the stage's entries, best first.
func (roundRobin) Rank(s *day.State, d day.Division, stage int) []Standing {
	return rankPoints(s, d, stage, s.Programmes[d.ID].Stages[stage-1].Seeds, pairResults(s, d, stage, false), standings.PointsRules{
		Unplayed: standings.AsPlayed, TieBreaks: robinTieBreaks(),
	})
}
