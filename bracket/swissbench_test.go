package bracket

import (
	"fmt"
	"testing"
)

// swissBefore plays the rounds before a round of a Swiss by lot: a win, sometimes a draw, and sometimes an entry
// that misses a round.
func swissBefore(b *testing.B, n int, o SwissOptions) []SwissEntry {
	b.Helper()
	luck := NewLot(uint64(n))
	var played [][]SwissOutcome
	for r := 1; r < o.Round; r++ {
		entries := history(b, n, played, luck)
		round, err := NextSwissRound(entries, SwissOptions{Round: r, Rounds: o.Rounds, Win: o.Win, LotSeed: o.LotSeed})
		if err != nil {
			b.Fatal(err)
		}
		played = append(played, outcomes(round, luck))
	}
	entries, err := SwissHistory(n, played)
	if err != nil {
		b.Fatal(err)
	}
	return entries
}

func BenchmarkSwissRound(b *testing.B) {
	for _, round := range []int{1, 5, 9} {
		for _, n := range []int{64, 256, 512} {
			o := SwissOptions{Round: round, Rounds: 9, Win: 2, LotSeed: 1}
			entries := swissBefore(b, n, o)
			b.Run(fmt.Sprintf("round %d of 9/%d", round, n), func(b *testing.B) {
				for b.Loop() {
					if _, err := NextSwissRound(entries, o); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
