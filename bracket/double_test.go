package bracket

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// testdata/knockout_counts.csv: everybody but the champion loses twice, the champion at most once.
func TestDoubleEliminationCounts(t *testing.T) {
	header := readCSV(t, "knockout_counts.csv")[0]
	least, most := slices.Index(header, "double_elim_min"), slices.Index(header, "double_elim_max")
	for _, row := range readNumbers(t, "knockout_counts.csv") {
		n := row[0]
		d, err := DoubleElimination(n, KnockoutOptions{Seeds: n})
		if err != nil {
			t.Fatal(err)
		}
		if got := d.HeatsTotal(); got != row[most] {
			t.Errorf("%d entries: %d heats planned, want %d", n, got, row[most])
		}
		if got := len(play(t, d, func(a, b int) bool { return a < b }).Heats); got != row[least] {
			t.Errorf("%d entries, favourites win: %d heats run, want %d", n, got, row[least])
		}
		// The second seed loses to the first once, comes back and wins the second final.
		lost := map[int]int{}
		res := play(t, d, func(a, b int) bool { return a < b })
		for _, order := range res.Heats {
			lost[order[1]]++
		}
		delete(res.Heats, d.Rounds[len(d.Rounds)-2].Heats[0].ID)
		final := d.Rounds[len(d.Rounds)-2].Heats[0].ID
		res.Heats[final] = []int{1, 0}
		second := d.Rounds[len(d.Rounds)-1].Heats[0].ID
		if v, _ := d.Lanes(second, res); v.State != Ready {
			t.Errorf("%d entries: the second final is %s after the one who had lost won the first", n, v.State)
		}
		res.Heats[second] = []int{1, 0}
		if got := len(res.Heats); got != row[most] {
			t.Errorf("%d entries: %d heats with the second final, want %d", n, got, row[most])
		}
		if got := d.Placings(res)[0]; got != (Placing{Entry: 1, Rank: 1, Done: true}) {
			t.Errorf("%d entries: the champion is %v", n, got)
		}
	}
}

// Whatever happens, everyone but the champion is beaten exactly twice and the places end as they should.
func TestDoubleEliminationEndsFair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 100).Draw(t, "n")
		d, err := DoubleElimination(n, KnockoutOptions{
			Seeds: rapid.IntRange(0, n).Draw(t, "seeds"), LotSeed: rapid.Uint64Range(0, 1000).Draw(t, "lot"),
		})
		if err != nil {
			t.Fatal(err)
		}
		luck := NewLot(rapid.Uint64Range(0, MaxLotSeed).Draw(t, "luck"))
		res := play(t, d, func(int, int) bool { return luck.Intn(2) == 0 })
		lost := make([]int, n)
		for _, order := range res.Heats {
			lost[order[1]]++
		}
		places := d.Placings(res)
		champion := places[0].Entry
		for e, times := range lost {
			if e == champion && times > 1 || e != champion && times != 2 {
				t.Fatalf("entry %d of %d lost %d times; champion is %d", e, n, times, champion)
			}
		}
		if len(places) != n || places[1].Rank != 2 || !places[n-1].Done {
			t.Fatalf("places %v", places)
		}
		if n > 2 && places[2].Rank != 3 {
			t.Fatalf("nobody is third: %v", places)
		}
	})
}

// The expected plan may not be edited: same input, same draw.
func TestDoubleEliminationIsFrozen(t *testing.T) {
	d, err := DoubleElimination(6, KnockoutOptions{Seeds: 6})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"winners 1.1 3 4",
		"winners 1.2 2 5",
		"winners 2.1 0 W1.1",
		"winners 2.2 1 W1.2",
		"losers 3.1 L1.1 L2.2",
		"losers 3.2 L1.2 L2.1",
		"winners 4.1 W2.1 W2.2",
		"losers 5.1 W3.1 W3.2",
		"losers 6.1 W5.1 L4.1",
		" 7.1 W4.1 W6.1",
		" 8.1 W7.1 L7.1",
	}
	var got []string
	for _, r := range d.Rounds {
		for _, h := range r.Heats {
			got = append(got, fmt.Sprint(r.Part, " ", h.ID, " ", show(h.Lanes[0]), " ", show(h.Lanes[1])))
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("the draw changed (-want +got):\n%s", diff)
	}
}

// show writes a slot in short.
func show(s Slot) string {
	switch s.Kind {
	case WinnerSlot:
		return "W" + s.Heat
	case LoserSlot:
		return "L" + s.Heat
	}
	return fmt.Sprint(s.Entry)
}

func TestDoubleEliminationRefuses(t *testing.T) {
	for rule, try := range map[string]func() (*Draw, error){
		"third-place": func() (*Draw, error) { return DoubleElimination(4, KnockoutOptions{ThirdPlace: true}) },
		"entries":     func() (*Draw, error) { return DoubleElimination(MaxDoubleEntries+1, KnockoutOptions{}) },
		"seeds":       func() (*Draw, error) { return DoubleElimination(4, KnockoutOptions{Seeds: 9}) },
	} {
		var refusal *Refusal
		if _, err := try(); !errors.As(err, &refusal) || refusal.Rule != rule {
			t.Errorf("got %v, want a refusal by the rule %q", err, rule)
		}
	}
}
