package bracket

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// What was asked for and is not in the draw is said; what is in it is not.
func TestNothingIsLeftOutWithoutANote(t *testing.T) {
	knockout := func(n int, o KnockoutOptions) func() (*Draw, error) {
		return func() (*Draw, error) { o.Seeds = n; return Knockout(n, o) }
	}
	heats := func(n int, o HeatsOptions) func() (*Draw, error) {
		return func() (*Draw, error) { o.Seeds = n; return Heats(n, o) }
	}
	groups := func(n int, o GroupOptions) func() (*Draw, error) {
		return func() (*Draw, error) { o.Cycles = 1; return Groups(n, o) }
	}
	for name, tt := range map[string]struct {
		draw func() (*Draw, error)
		want []Note
	}{
		"a plate of one":                       {knockout(5, KnockoutOptions{Plate: true, ThirdPlace: true}), []Note{{Code: NoPlate}}},
		"a plate of two":                       {knockout(6, KnockoutOptions{Plate: true, ThirdPlace: true}), nil},
		"a plate without a third place":        {knockout(5, KnockoutOptions{Plate: true}), nil},
		"a plate of two who meet in the final": {knockout(2, KnockoutOptions{Plate: true}), []Note{{Code: NoPlate}}},
		"a third place of three":               {knockout(3, KnockoutOptions{ThirdPlace: true}), []Note{{Code: NoThirdPlace}}},
		"a third place of four":                {knockout(4, KnockoutOptions{ThirdPlace: true}), nil},
		"a third place behind groups":          {groups(8, GroupOptions{Groups: 2, Advance: 2, ThirdPlace: true}), nil},
		"a third place of two behind groups": {
			groups(8, GroupOptions{Groups: 2, Advance: 1, ThirdPlace: true}), []Note{{Code: NoThirdPlace}},
		},
		"a third place of groups alone": {groups(8, GroupOptions{Groups: 2, ThirdPlace: true}), []Note{{Code: NoThirdPlace}}},
		"more next best than the final has lanes": {
			heats(13, HeatsOptions{Heats: 3, Lanes: 6, Advance: 2, NextBest: 2}), []Note{{Code: FewerNextBest, Round: 1, Left: 2}},
		},
		"as many next best as the final has lanes": {heats(13, HeatsOptions{Heats: 3, Lanes: 8, Advance: 2, NextBest: 2}), nil},
		"next best of a final that is full": {
			heats(8, HeatsOptions{Heats: 4, Lanes: 4, Advance: 1, NextBest: 5}), []Note{{Code: FewerNextBest, Round: 1, Left: 5}},
		},
		"a B-final of nobody":       {heats(4, HeatsOptions{Lanes: 4, Advance: 1, BFinal: true}), []Note{{Code: NoBFinal}}},
		"a B-final without a final": {heats(8, HeatsOptions{Lanes: 4, BFinal: true}), []Note{{Code: NoBFinal}}},
		"a B-final":                 {heats(8, HeatsOptions{Lanes: 4, Advance: 2, BFinal: true}), nil},
	} {
		t.Run(name, func(t *testing.T) {
			d, err := tt.draw()
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, d.Notes); diff != "" {
				t.Errorf("notes (-want +got):\n%s", diff)
			}
		})
	}
}
