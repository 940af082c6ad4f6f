package bracket

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// lines writes a plan in short: one line a round, its heats as lanes in brackets.
func lines(d *Draw) []string {
	var out []string
	for _, r := range d.Rounds {
		var heats []string
		for _, h := range r.Heats {
			var lanes []string
			for _, s := range h.Lanes {
				switch s.Kind {
				case PlaceSlot:
					lanes = append(lanes, fmt.Sprintf("%s/%d", s.Heat, s.Place))
				case GroupSlot:
					lanes = append(lanes, fmt.Sprintf("%s%d", s.Group, s.Place))
				case NextBestSlot:
					lanes = append(lanes, fmt.Sprintf("n%d", s.Place))
				default:
					lanes = append(lanes, show(s))
				}
			}
			heats = append(heats, h.Group+"["+strings.Join(lanes, " ")+"]")
		}
		out = append(out, strings.Join(heats, " "))
	}
	return out
}

// The expected draws of this test may never be edited: same input and lot seed, same draw.
func TestDrawsAreFrozen(t *testing.T) {
	tests := []struct {
		name string
		draw func() (*Draw, error)
		want []string
	}{
		{
			"round robin by lot",
			func() (*Draw, error) { return RoundRobin(5, RoundRobinOptions{Cycles: 1, LotSeed: 42}) },
			[]string{
				"[0 3] [4 2]",
				"[3 4] [1 0]",
				"[4 1] [2 3]",
				"[1 2] [0 4]",
				"[2 0] [3 1]",
			},
		},
		{
			"groups, two seeds, clubs apart, a knockout behind",
			func() (*Draw, error) {
				return Groups(8, GroupOptions{Groups: 2, Cycles: 1, Seeds: 2, Clubs: []int{0, 1, 0, 1, 2, 2, 3, 3}, Advance: 2, LotSeed: 42})
			},
			[]string{
				"A[0 7] A[3 4] B[1 5] B[6 2]",
				"A[7 4] A[0 3] B[5 2] B[1 6]",
				"A[3 7] A[4 0] B[6 5] B[2 1]",
				"[A1 B2] [B1 A2]",
				"[W4.1 W4.2]",
			},
		},
		{
			"heats by lot, siblings apart",
			func() (*Draw, error) {
				return Heats(9, HeatsOptions{Lanes: 3, Advance: 1, Cars: []int{5, 5, 5, -1, -1, -1, -1, -1, -1}, LotSeed: 42})
			},
			[]string{
				"[4 2 3] [8 0 6] [1 7 5]",
				"[1.1/1 1.2/1 1.3/1]",
			},
		},
		{
			"timed rounds by a design",
			func() (*Draw, error) {
				d, _, _, err := ShareOut(7, 0, TimedOptions{Lanes: 3, LotSeed: 42})
				return d, err
			},
			[]string{
				"[4 5 0]",
				"[5 1 6]",
				"[1 0 2]",
				"[0 6 3]",
				"[6 2 4]",
				"[2 3 5]",
				"[3 4 1]",
			},
		},
		{
			"double elimination by lot",
			func() (*Draw, error) { return DoubleElimination(5, KnockoutOptions{LotSeed: 42}) },
			[]string{
				"[3 0]",
				"[1 2] [4 W1.1]",
				"[L1.1 L2.1]",
				"[W2.1 W2.2]",
				"[L2.2 W3.1]",
				"[W5.1 L4.1]",
				"[W4.1 W6.1]",
				"[W7.1 L7.1]",
			},
		},
		{
			"knockout with a plate",
			func() (*Draw, error) { return Knockout(6, KnockoutOptions{Plate: true, LotSeed: 42}) },
			[]string{
				"[5 4] [0 2]",
				"[1 W1.1] [3 W1.2]",
				"[L1.1 L2.2] [L1.2 L2.1]",
				"[W3.1 W3.2]",
				"[W2.1 W2.2]",
			},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d, err := tt.draw()
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, lines(d)); diff != "" {
				t.Errorf("the draw changed (-want +got):\n%s", diff)
			}
		})
	}
}

// A third round of eleven, one of whom left, one came late and two share a car, may never be paired otherwise: same
// input and lot seed, same pairing. The reasons are frozen with it.
func TestSwissRoundIsFrozen(t *testing.T) {
	played := func(first, second int, points int64) SwissOutcome {
		return SwissOutcome{First: first, Second: second, FirstPoints: points, SecondPoints: 2 - points, Played: true}
	}
	entries, err := SwissHistory(12, [][]SwissOutcome{
		{
			played(0, 5, 2), played(6, 1, 0), played(2, 7, 2), played(8, 3, 1), played(4, 9, 0),
			{First: 10, Second: -1, FirstPoints: 2},
		},
		{
			played(1, 0, 1), played(10, 2, 0), played(9, 3, 2), played(8, 6, 1), played(5, 4, 2),
			{First: 7, Second: 11, FirstPoints: 2, SecondPoints: 0},
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	entries[4].Absent = true
	entries[0].Car, entries[1].Car = 3, 3
	round, err := NextSwissRound(entries, SwissOptions{Round: 3, Rounds: 5, Win: 2, LotSeed: 42})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, p := range round.Pairs {
		got = append(got, fmt.Sprint(p.First, " ", p.Second, " ", p.Reasons))
	}
	got = append(got, fmt.Sprint("bye ", round.Bye, " ", round.ByeReasons))
	want := []string{
		"2 9 [same-score sides-wished]",
		"0 8 [floats-down sides-wished]",
		"5 1 [floats-down side-of-first]",
		"7 10 [same-score sides-wished]",
		"3 6 [same-score side-stronger]",
		"bye 11 [bye-lowest]",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("the pairing changed (-want +got):\n%s", diff)
	}
}

// Two pairings of these six are equal by every rule: which one a seed gives may never change.
func TestSwissLotIsFrozen(t *testing.T) {
	for seed, want := range [][][2]int{
		{{0, 1}, {2, 3}, {4, 5}}, {{0, 1}, {2, 3}, {4, 5}}, {{0, 2}, {1, 4}, {3, 5}}, {{0, 1}, {2, 3}, {4, 5}},
	} {
		entries := newcomers(6)
		entries[0].Points = 1
		for _, met := range [][2]int{{1, 3}, {2, 4}} {
			entries[met[0]].Opponents, entries[met[1]].Opponents = []int{met[1]}, []int{met[0]}
		}
		round, err := NextSwissRound(entries, SwissOptions{Round: 2, Rounds: 5, Win: 2, LotSeed: uint64(seed)})
		if err != nil {
			t.Fatal(err)
		}
		var got [][2]int
		for _, p := range round.Pairs {
			got = append(got, [2]int{min(p.First, p.Second), max(p.First, p.Second)})
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("seed %d: the pairing changed (-want +got):\n%s", seed, diff)
		}
	}
}
