package bracket

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// blockSets returns heats as sets in a fixed order, entries from 1.
func blockSets(heats [][]int) [][]int {
	var sets [][]int
	for _, h := range fromOne(heats) {
		sets = append(sets, slices.Sorted(slices.Values(h)))
	}
	slices.SortFunc(sets, slices.Compare)
	return sets
}

func readHeats(t *testing.T, name string) [][]int {
	t.Helper()
	var heats [][]int
	for _, row := range readNumbers(t, name) {
		heats = append(heats, row[1:])
	}
	return heats
}

// The classical designs (Fisher and Yates; Cochran and Cox, chapter 11), from memory, and their efficiency factors.
func TestBalancedDesigns(t *testing.T) {
	tests := []struct {
		v, k, lambda, b, r int
		num, den           int
	}{
		{4, 3, 2, 4, 3, 8, 9},
		{6, 3, 2, 10, 5, 4, 5},
		{7, 3, 1, 7, 3, 7, 9},
		{7, 4, 2, 7, 4, 7, 8},
		{9, 3, 1, 12, 4, 3, 4},
		{13, 4, 1, 13, 4, 13, 16},
		{16, 6, 2, 16, 6, 8, 9},
	}
	for _, tt := range tests {
		name := fmt.Sprintf("bibd_%d_%d_%d", tt.v, tt.k, tt.lambda)
		t.Run(name, func(t *testing.T) {
			d, known := FindDesign(tt.v, tt.k)
			if !known {
				t.Fatal("the design is not known")
			}
			num, den := d.Efficiency()
			if diff := cmp.Diff([]int{tt.lambda, tt.b, tt.r, tt.num, tt.den}, []int{d.Meets, len(d.Heats), d.Runs, num, den}); diff != "" {
				t.Errorf("lambda, b, r, efficiency (-want +got):\n%s", diff)
			}
			want := readHeats(t, name+".csv")
			for i := range want {
				slices.Sort(want[i])
			}
			slices.SortFunc(want, slices.Compare)
			if diff := cmp.Diff(want, blockSets(d.Heats)); diff != "" {
				t.Errorf("heats (-want +got):\n%s", diff)
			}
		})
	}
}

// Youden 1937 and Williams 1949, from memory.
func TestYoudenAndWilliamsSquares(t *testing.T) {
	for name, at := range map[string][2]int{
		"youden_7_3.csv": {7, 3}, "youden_13_4.csv": {13, 4}, "latin_williams_4.csv": {4, 4}, "latin_williams_6.csv": {6, 6},
	} {
		d, known := FindDesign(at[0], at[1])
		if !known {
			t.Errorf("%s: the design is not known", name)
			continue
		}
		if diff := cmp.Diff(readHeats(t, name), fromOne(d.Heats)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}

// Every known design is even in runs and meetings; squares are even in lanes, the others differ by one at most; a
// Williams square has every order of succession once.
func TestEveryDesignIsEven(t *testing.T) {
	found := 0
	for v := 2; v <= 60; v++ {
		for k := 2; k <= 8; k++ {
			d, known := FindDesign(v, k)
			if !known {
				continue
			}
			found++
			b := MeasureBalance(v, d.Heats)
			if b.RunsLeast != d.Runs || b.RunsMost != d.Runs || b.MeetsLeast != d.Meets || b.MeetsMost != d.Meets {
				t.Errorf("%d in heats of %d (%s): runs %d, meets %d, measured %+v", v, k, d.Kind, d.Runs, d.Meets, b)
			}
			spread := 1
			if d.Kind != BalancedDesign {
				spread = 0
			}
			if b.LaneMost-b.LaneLeast > spread {
				t.Errorf("%d in heats of %d (%s): a lane from %d to %d times", v, k, d.Kind, b.LaneLeast, b.LaneMost)
			}
			if d.Kind == WilliamsSquare {
				after := map[[2]int]int{}
				for _, h := range d.Heats {
					for i := 1; i < len(h); i++ {
						after[[2]int{h[i-1], h[i]}]++
					}
				}
				if len(after) != v*(v-1) {
					t.Errorf("order %d: %d orders of succession, want %d", v, len(after), v*(v-1))
				}
			}
		}
	}
	if found < 60 {
		t.Errorf("only %d designs are known", found)
	}
}

func TestShareOut(t *testing.T) {
	tests := []struct {
		name    string
		n, runs int
		o       TimedOptions
		kind    DesignKind
		want    Balance
	}{
		{"7 cars on 3 benches by design", 7, 0, TimedOptions{Lanes: 3}, YoudenSquare, Balance{7, 3, 3, 1, 1, 1, 1}},
		{"the design twice", 7, 6, TimedOptions{Lanes: 3}, YoudenSquare, Balance{14, 6, 6, 2, 2, 2, 2}},
		{"4 cars on 4 benches", 4, 4, TimedOptions{Lanes: 4}, WilliamsSquare, Balance{4, 4, 4, 4, 4, 1, 1}},
		{"4 cars on 10 benches", 4, 4, TimedOptions{Lanes: 10}, WilliamsSquare, Balance{4, 4, 4, 4, 4, 1, 1}},
		{"9 cars on 3 benches in four rounds", 9, 4, TimedOptions{Lanes: 3}, BalancedDesign, Balance{12, 4, 4, 1, 1, 1, 2}},
		{"rounds that no design fits", 8, 3, TimedOptions{Lanes: 4}, NearBalance, Balance{6, 3, 3, 0, 2, 0, 1}},
		{
			"siblings never meet, so no design", 7, 3,
			TimedOptions{Lanes: 3, Cars: []int{1, 1, -1, -1, -1, -1, -1}},
			NearBalance,
			Balance{9, 3, 3, 0, 1, 0, 2},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d, kind, balance, err := ShareOut(tt.n, tt.runs, tt.o)
			if err != nil {
				t.Fatal(err)
			}
			if kind != tt.kind {
				t.Errorf("kind %q, want %q", kind, tt.kind)
			}
			if diff := cmp.Diff(tt.want, balance); diff != "" {
				t.Errorf("balance (-want +got):\n%s", diff)
			}
			if got := d.HeatsTotal(); got != balance.Heats {
				t.Errorf("%d heats planned, %d measured", got, balance.Heats)
			}
		})
	}
}

// No round holds an entry twice, whatever the design.
func TestShareOutRounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 20).Draw(t, "n")
		d, _, balance, err := ShareOut(n, rapid.IntRange(1, 6).Draw(t, "runs"), TimedOptions{Lanes: rapid.IntRange(2, 8).Draw(t, "lanes")})
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range d.Rounds {
			busy := map[int]bool{}
			for _, h := range r.Heats {
				for _, e := range entriesOf(h) {
					if busy[e] {
						t.Fatalf("entry %d runs twice in round %d", e, r.Number)
					}
					busy[e] = true
				}
			}
		}
		if balance.RunsLeast != balance.RunsMost {
			t.Fatalf("runs from %d to %d", balance.RunsLeast, balance.RunsMost)
		}
	})
}

func TestShareOutRefuses(t *testing.T) {
	for name, try := range map[string]func() error{
		"no design and no rounds": func() error { _, _, _, err := ShareOut(8, 0, TimedOptions{Lanes: 4}); return err },
		"nobody":                  func() error { _, _, _, err := ShareOut(0, 1, TimedOptions{Lanes: 4}); return err },
		"negative rounds":         func() error { _, _, _, err := ShareOut(8, -1, TimedOptions{Lanes: 4}); return err },
		"no lane":                 func() error { _, _, _, err := ShareOut(8, 1, TimedOptions{}); return err },
	} {
		var refusal *Refusal
		if err := try(); !errors.As(err, &refusal) {
			t.Errorf("%s: got %v, want a refusal", name, err)
		}
	}
}
