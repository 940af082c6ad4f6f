package standings

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Buchholz and its cuts are sums over the rounds, whatever their order: an entry that chose not to play once, and whose
// own points equal its best opponent's, has the same median wherever that round was. Only the entries that this
// exchanges nothing else for are asked: all others' rounds stand where they were.
func TestMedianDoesNotDependOnTheOrderOfRounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const n, rounds = 6, 4
		// Everything but the last round may change places: what is left unplayed at the end counts for opponents.
		var played [][]Result
		for r := range rounds {
			order := rapid.Permutation([]int{0, 1, 2, 3, 4, 5}).Draw(t, "pairs")
			var round []Result
			for i := 0; i < n; i += 2 {
				a, b := fmt.Sprint("E", order[i]), fmt.Sprint("E", order[i+1])
				full := r == rounds-1 // the last is played by all, so that nobody has left before the end
				result := rapid.IntRange(0, 5).Draw(t, "result")
				if full {
					result = min(result, 2)
				}
				won := Half(int64(min(result, 2)))
				switch {
				case result < 3:
					round = append(round, Result{A: a, B: b, APoints: won, BPoints: Whole(1).Sub(won), Played: true})
				case result == 3:
					round = append(round, Result{A: a, B: b, APoints: Whole(1)})
				case result == 4: // neither came
					round = append(round, Result{A: a, B: b})
				default:
					round = append(round, Result{A: a, APoints: Half(1)}, Result{A: b})
				}
			}
			played = append(played, round)
		}
		figures := func(order []int) map[string][]string {
			var entries []PointsEntry
			for e := range n {
				entries = append(entries, PointsEntry{ID: fmt.Sprint("E", e)})
			}
			var results []Result
			for r, from := range order {
				for _, x := range played[from] {
					x.Round = r + 1
					results = append(results, x)
				}
			}
			rows, err := RankPoints(entries, results, nil, PointsRules{TieBreaks: []string{MedianBuchholz, BuchholzCut1, BuchholzCut2, Buchholz}})
			if err != nil {
				t.Fatal(err)
			}
			out := map[string][]string{}
			for _, row := range rows {
				for _, v := range row.TieBreaks {
					out[row.Entry] = append(out[row.Entry], v.Value.String())
				}
			}
			return out
		}
		order := append(rapid.Permutation([]int{0, 1, 2}).Draw(t, "order"), 3)
		if diff := cmp.Diff(figures([]int{0, 1, 2, 3}), figures(order)); diff != "" {
			t.Fatalf("in the order %v (-as played +so):\n%s", order, diff)
		}
	})
}
