package standings_test

import (
	"fmt"

	"benchmeet/domain/standings"
)

// Two distances in micrometres: A has the longer one, but the uncertainties do not let it be called.
func ExampleRankTimed() {
	rows, err := standings.RankTimed(
		[]standings.TimedEntry{
			{ID: "A", Runs: []standings.Run{{Round: 1, Value: 231_200_000, U: 100_000}}},
			{ID: "B", Runs: []standings.Run{{Round: 1, Value: 231_050_000, U: 100_000}}},
		},
		standings.TimedRules{Better: standings.More, Rule: standings.Best, Close: &standings.Closeness{Confidence: 950}},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range rows {
		fmt.Println(r.Rank, r.Entry, r.Figure, r.DecidedBy, r.TooCloseTo)
	}
	// Output:
	// 1 A 231200000 result [B]
	// 2 B 231050000 result [A]
}

func ExampleRankPoints() {
	win := func(round int, a, b string) standings.Result {
		return standings.Result{Round: round, A: a, B: b, APoints: standings.Whole(1), Played: true}
	}
	rows, err := standings.RankPoints(
		[]standings.PointsEntry{{ID: "A"}, {ID: "B"}, {ID: "C"}},
		[]standings.Result{win(1, "A", "B"), win(2, "B", "C"), win(3, "A", "C")}, nil,
		standings.PointsRules{Unplayed: standings.AsPlayed, TieBreaks: []string{standings.Direct}},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range rows {
		fmt.Println(r.Rank, r.Entry, r.Figure)
	}
	// Output:
	// 1 A 2
	// 2 B 1
	// 3 C 0
}
