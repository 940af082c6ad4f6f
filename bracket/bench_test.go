package bracket

import (
	"fmt"
	"testing"
)

func BenchmarkKnockoutWithClubs(b *testing.B) {
	for _, n := range []int{64, 256, 1024} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			clubs := make([]int, n)
			lot := NewLot(1)
			for i := range clubs {
				clubs[i] = lot.Intn(n/8) - 1
			}
			for b.Loop() {
				if _, err := Knockout(n, KnockoutOptions{Seeds: n / 4, Clubs: clubs, LotSeed: 2}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkDoubleElimination(b *testing.B) {
	for _, n := range []int{64, 256, 1024} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := DoubleElimination(n, KnockoutOptions{Seeds: n}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkTimedRound(b *testing.B) {
	for _, n := range []int{24, 100, 400} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := TimedRounds(n, 4, TimedOptions{Lanes: 6, LotSeed: 2}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
