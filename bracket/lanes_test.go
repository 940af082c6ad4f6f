package bracket

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// laneTimes counts how often each of the entries 0..n-1 stands in each lane of a plan.
func laneTimes(d *Draw, n, lanes int) [][]int {
	times := make([][]int, n)
	for e := range times {
		times[e] = make([]int, lanes)
	}
	for _, r := range d.Rounds {
		for _, h := range r.Heats {
			for lane, s := range h.Lanes {
				times[s.Entry][lane]++
			}
		}
	}
	return times
}

// In full heats with as many rounds as lanes everybody has each lane once; with fewer rounds nobody has one twice, and
// with more nobody has one more than once oftener than another (König 1916: a regular bipartite graph of degree k is
// the sum of k perfect matchings). All plans of up to 60 entries and 10 lanes, by lot, by seed and with siblings.
func TestProveLanesOfFullHeatsAreLevel(t *testing.T) {
	plans := 0
	for lanes := 1; lanes <= 10; lanes++ {
		for n := lanes; n <= 60; n += lanes {
			rounds := []int{lanes}
			if proveTimes(0, 1) == 1 || n <= 24 {
				rounds = []int{1, lanes/2 + 1, lanes, lanes + 1, 2*lanes + 1}
			}
			for _, rounds := range rounds {
				cars := upTo(n)
				for e := range cars {
					cars[e] = e / 2
				}
				ways := map[string]func() (*Draw, error){
					"by lot":  func() (*Draw, error) { return TimedRounds(n, rounds, TimedOptions{Lanes: lanes, LotSeed: 7}) },
					"by seed": func() (*Draw, error) { return TimedRounds(n, rounds, TimedOptions{Lanes: lanes, Order: DealBySeed}) },
					"shared out": func() (*Draw, error) {
						d, _, balance, err := ShareOut(n, rounds, TimedOptions{Lanes: lanes, LotSeed: 7})
						if err == nil && balance.LaneMost-balance.LaneLeast > 1 {
							t.Errorf("%d entries, %d lanes, %d rounds: the balance says %+v", n, lanes, rounds, balance)
						}
						return d, err
					},
				}
				if n >= 2*lanes && lanes > 1 {
					ways["with siblings"] = func() (*Draw, error) {
						return TimedRounds(n, rounds, TimedOptions{Lanes: lanes, LotSeed: 7, Cars: cars})
					}
				}
				for name, draw := range ways {
					d, err := draw()
					if err != nil {
						t.Fatal(err)
					}
					plans++
					for e, of := range laneTimes(d, n, lanes) {
						sum := 0
						for _, times := range of {
							sum += times
						}
						if sum != rounds || slices.Min(of) != rounds/lanes || slices.Max(of) != (rounds+lanes-1)/lanes {
							t.Fatalf("%d entries, %d lanes, %d rounds, %s: entry %d had the lanes %v times", n, lanes, rounds, name, e, of)
						}
					}
				}
			}
		}
	}
	t.Logf("%d plans", plans)
}

// Heats of unequal sizes: no way to share out the lanes of the same heats is more level. All ways are tried.
func TestLanesOfUnevenHeatsAreAsLevelAsCanBe(t *testing.T) {
	spread := func(heats [][]int) int {
		times := map[[2]int]int{}
		for _, h := range heats {
			for lane, e := range h {
				times[[2]int{e, lane}]++
			}
		}
		sum := 0
		for _, n := range times {
			sum += n * n
		}
		return sum
	}
	var least func(heats [][]int, from int) int
	least = func(heats [][]int, from int) int {
		if from == len(heats) {
			return spread(heats)
		}
		best := 1 << 30
		own := slices.Clone(heats[from])
		permute(own, upTo(len(own)), 0, func() {
			heats[from] = own
			best = min(best, least(heats, from+1))
		})
		return best
	}
	for _, tt := range []struct{ n, lanes, rounds int }{{3, 2, 3}, {5, 2, 2}, {5, 3, 3}, {7, 3, 2}, {7, 4, 2}, {3, 2, 5}} {
		t.Run(fmt.Sprint(tt), func(t *testing.T) {
			for seed := range uint64(5) {
				d, err := TimedRounds(tt.n, tt.rounds, TimedOptions{Lanes: tt.lanes, LotSeed: seed})
				if err != nil {
					t.Fatal(err)
				}
				heats := d.entryHeats()
				if got, want := spread(heats), least(heats, 0); got != want {
					t.Errorf("seed %d: the squares sum to %d, at least %d is possible: %v", seed, got, want, d.entryHeats())
				}
			}
		})
	}
	rapid.Check(t, func(t *rapid.T) { // Heats in which anybody meets anybody.
		n, lanes := rapid.IntRange(3, 6).Draw(t, "entries"), rapid.IntRange(2, 3).Draw(t, "lanes")
		var heats [][]int
		for i := range rapid.IntRange(1, 4).Draw(t, "heats") {
			heats = append(heats, rapid.Permutation(upTo(n)).Draw(t, "heat")[:lanes-i%2])
		}
		levelLanes(heats)
		got := spread(heats)
		if want := least(heats, 0); got != want {
			t.Fatalf("the squares sum to %d, at least %d is possible: %v", got, want, heats)
		}
	})
}

// Lanes that no heat has do not count as lanes that somebody missed.
func TestBalanceCountsTheLanesInUse(t *testing.T) {
	_, _, b, err := ShareOut(6, 4, TimedOptions{Lanes: 4}) // Two heats of three.
	if err != nil {
		t.Fatal(err)
	}
	if b.LaneLeast != 1 || b.LaneMost != 2 {
		t.Errorf("4 runs on 3 lanes are from %d to %d times on a lane", b.LaneLeast, b.LaneMost)
	}
}

// Where everybody runs in every heat of a square of even order, everybody follows everybody else once on the same lane
// (Williams 1949, turned to the lanes).
func TestEverybodyFollowsEverybodyOnALane(t *testing.T) {
	for n := 2; n <= 10; n += 2 {
		d, kind, _, err := ShareOut(n, n, TimedOptions{Lanes: n, LotSeed: 5})
		if err != nil || kind != WilliamsSquare {
			t.Fatal(kind, err)
		}
		for way, step := range map[string][2]int{"on a lane": {1, 0}, "in a heat": {0, 1}} {
			after := map[[2]int]int{}
			heats := d.entryHeats()
			for i := step[0]; i < n; i++ {
				for lane := step[1]; lane < n; lane++ {
					after[[2]int{heats[i-step[0]][lane-step[1]], heats[i][lane]}]++
				}
			}
			if len(after) != n*(n-1) {
				t.Errorf("%d entries: %d orders of succession %s, want %d", n, len(after), way, n*(n-1))
			}
		}
	}
}
