package meet

import (
	"benchmeet/bracket"
	"benchmeet/domain/refusal"
	"benchmeet/domain/standings"
)

// roundRobin is the format in which every entry meets every other once, or
// twice with the benches changed, in heats of two for points. A tied heat is a
// draw. The numbers of the tables are drawn by lot (common practice).
type roundRobin struct{}

// MethodRoundRobin names the draw in events; raise it when the same seed would
// give another draw.
const MethodRoundRobin = "round-robin-berger/1"

// maxCycles is how often two may meet.
const maxCycles = 2

func (roundRobin) check(d DivisionID, number int, st Stage) error {
	if err := st.checkPairs(d, number, "cycles", "points", "tie_breaks", "seeding", "seeds"); err != nil {
		return err
	}
	if st.Cycles < 0 || st.Cycles > maxCycles {
		return refusal.New("stage-cycles", "division", d, "stage", number, "most", maxCycles)
	}
	return st.checkPoints(d, number)
}

func (roundRobin) takesLate(Stage, int) bool { return false }

func (roundRobin) rounds(s *State, d Division, stage int) int {
	return len(s.Programmes[d.ID].Stages[stage-1].Tree.Rounds)
}

func (roundRobin) walkover() bool { return true }

func (roundRobin) tied(*State, []HeatID) []tiedLane { return nil }

func (roundRobin) draw(s *State, d Division, stage, round int, seeds []EntryID, lotSeed uint64) (RoundDrawn, error) {
	return s.drawnTree(MethodRoundRobin, d, stage, round, seeds, func() (*bracket.Draw, error) {
		return bracket.RoundRobin(len(seeds), bracket.RoundRobinOptions{
			Cycles: max(1, d.Stages[stage-1].Cycles), Cars: s.cars(seeds), Seeds: s.seeded(d, stage, seeds), LotSeed: lotSeed,
		})
	})
}

// robinTieBreaks are those of a stage that names none (common practice). A count
// of wins is not among them: it would punish whoever won without a race.
func robinTieBreaks() []string {
	return []string{standings.Direct, standings.SonnebornBerger}
}

func (roundRobin) rank(s *State, d Division, stage int) []Standing {
	return s.rankPoints(d, stage, s.Programmes[d.ID].Stages[stage-1].Seeds, s.pairResults(d, stage, false), standings.PointsRules{
		Unplayed: standings.AsPlayed, TieBreaks: robinTieBreaks(),
	})
}
