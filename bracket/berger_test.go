package bracket

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// readTable returns the rounds of a printed table: round, board, first, second.
func readTable(t *testing.T, name string) [][]Pairing {
	t.Helper()
	var rounds [][]Pairing
	for _, row := range readNumbers(t, name) {
		for len(rounds) < row[0] {
			rounds = append(rounds, nil)
		}
		rounds[row[0]-1] = append(rounds[row[0]-1], Pairing{row[2], row[3]})
	}
	if len(rounds) == 0 {
		t.Fatalf("%s has no rounds", name)
	}
	return rounds
}

// FIDE Handbook C.05 Annex 1: the tables for 3-4 to 13-14 players; 15-16 from memory of the rule.
func TestBergerTables(t *testing.T) {
	for n := 4; n <= 16; n += 2 {
		want := readTable(t, fmt.Sprintf("berger_%02d.csv", n))
		if diff := cmp.Diff(want, Berger(n)); diff != "" {
			t.Errorf("table of %d (-want +got):\n%s", n, diff)
		}
		if diff := cmp.Diff(want, Berger(n-1)); diff != "" {
			t.Errorf("table of %d (-want +got):\n%s", n-1, diff)
		}
	}
}

// FIDE Handbook C.05 Annex 1: exchange of the last two rounds of the first cycle; rows derived.
func TestDoubleBergerTable(t *testing.T) {
	if diff := cmp.Diff(readTable(t, "berger_double_06.csv"), BergerCycles(6, 2)); diff != "" {
		t.Errorf("double table of 6 (-want +got):\n%s", diff)
	}
}

func TestBergerProperties(t *testing.T) {
	for n := 2; n <= 64; n += 2 {
		met := map[Pairing]bool{}
		sides := make([]int, n+1)
		for r, round := range Berger(n) {
			busy := map[int]bool{}
			for _, p := range round {
				if busy[p.First] || busy[p.Second] {
					t.Fatalf("%d players, round %d: somebody plays twice in %v", n, r+1, round)
				}
				busy[p.First], busy[p.Second] = true, true
				met[Pairing{min(p.First, p.Second), max(p.First, p.Second)}] = true
				sides[p.First]++
			}
		}
		if len(met) != n*(n-1)/2 {
			t.Errorf("%d players: %d pairs met, want %d", n, len(met), n*(n-1)/2)
		}
		for player := 1; player <= n; player++ {
			want := n/2 - 1
			if player <= n/2 {
				want = n / 2
			}
			if sides[player] != want {
				t.Errorf("%d players: player %d has the first side %d times, want %d", n, player, sides[player], want)
			}
		}
	}
}

// With the exchange nobody has one side three times running, in two cycles or more; only four players in three
// cycles or more cannot be spared it.
func TestCyclesNeverGiveOneSideThreeTimes(t *testing.T) {
	for n := 4; n <= 30; n += 2 {
		for cycles := 2; cycles <= 4 && (n > 4 || cycles == 2); cycles++ {
			run, last := make([]int, n+1), make([]int, n+1)
			for r, round := range BergerCycles(n, cycles) {
				for _, p := range round {
					for side, player := range []int{p.First, p.Second} {
						if last[player] == side+1 {
							run[player]++
						} else {
							run[player], last[player] = 1, side+1
						}
						if run[player] > 2 {
							t.Fatalf("%d players, %d cycles: player %d has one side three times up to round %d", n, cycles, player, r+1)
						}
					}
				}
			}
		}
	}
}
