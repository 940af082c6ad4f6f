package programme

import (
	"cmp"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/standings"
)

// roundRobin is the form in which every entry meets every other once, or
// twice with the benches changed, in heats of two for points. A tied heat is a
// draw. The numbers of the tables are drawn by lot (common practice).
type roundRobin struct {
	drawnWhole
	sown
	meetings
	pairPoints
}

func init() { enter[roundRobin]() }

// Kind names the form.
func (roundRobin) Kind() day.StageKind { return "round-robin" }

// TableEachRound is true: points stand after each round.
func (roundRobin) TableEachRound() bool { return true }

// methodRoundRobin names the draw in events; raise it when the same seed would
// give another draw.
const methodRoundRobin = "round-robin-berger/1"

// maxCycles is how often two may meet.
const maxCycles = 2

// meetings is what forms have in which each two of a field or group meet.
type meetings struct {
	// Cycles is how often they do; 0 is once.
	Cycles int `json:"cycles,omitempty"`
}

func (m meetings) times() int { return max(1, m.Cycles) }

func (m meetings) checkCycles(d day.DivisionID, number int) error {
	if m.Cycles < 0 || m.Cycles > maxCycles {
		return refusal.New("stage-cycles", "division", d, "stage", number, "most", maxCycles)
	}
	return nil
}

// Check refuses settings that the form cannot have.
func (r roundRobin) Check(d day.DivisionID, number int, st day.Stage) error {
	return cmp.Or(checkPairs(st, d, number), r.checkCycles(d, number), r.checkPoints(d, number))
}

// Tied finds what has to be raced again before the round can be closed.
func (roundRobin) Tied(*day.State, []day.HeatID) []TiedLane { return nil }

// Draw makes the next round from the seeds.
func (r roundRobin) Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	return drawnTree(s, methodRoundRobin, d, stage, round, seeds, func() (*bracket.Draw, error) {
		return bracket.RoundRobin(len(seeds), bracket.RoundRobinOptions{
			Cycles: r.times(), Cars: carsOf(s, seeds), Seeds: seeded(s, d, stage, seeds), LotSeed: lotSeed,
		})
	})
}

// SureRuns is how often everybody races.
func (r roundRobin) SureRuns(_ day.Stage, n int) (int, error) {
	return leastRuns(bracket.RoundRobin(n, bracket.RoundRobinOptions{Cycles: r.times()}))
}

// Ahead is what lies ahead in the stage.
func (r roundRobin) Ahead(s *day.State, d day.Division, stage int, cars []int) []RoundAhead {
	return treeAhead(s, d, stage, func() (*bracket.Draw, error) {
		return bracket.RoundRobin(len(cars), bracket.RoundRobinOptions{Cycles: r.times(), Seeds: len(cars)})
	})
}

// robinTieBreaks are those of a stage that names none (common practice). A count
// of wins is not among them: it would punish whoever won without a race.
func robinTieBreaks() []string {
	return []string{standings.Direct, standings.SonnebornBerger}
}

// Rank orders the stage's entries, best first.
func (r roundRobin) Rank(s *day.State, d day.Division, stage int) []Standing {
	return r.rank(s, d, stage, s.Programmes[d.ID].Stages[stage-1].Seeds, r.results(s, d, stage, false), standings.PointsRules{
		Unplayed: standings.AsPlayed, TieBreaks: robinTieBreaks(),
	})
}
