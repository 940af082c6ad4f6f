package club_test

import (
	"testing"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// A roller is asked back about only where it is another one altogether, and only once.
func TestRollersThatAreAskedAbout(t *testing.T) {
	with := func(um int64) day.Bench {
		b := bench("b9", 9)
		b.CircumferenceUM = um
		return b
	}
	tests := []struct {
		name   string
		others []int64
		um     int64
		sure   bool
		asked  bool
	}{
		{"the first bench", nil, 942_480, false, false},
		{"a little smaller than the others", []int64{94_248, 94_100}, 62_832, false, false},
		{"twice as large", []int64{94_248, 94_100}, 188_496, false, false},
		{"ten times", []int64{94_248, 94_100}, 942_480, false, true},
		{"ten times, for sure", []int64{94_248, 94_100}, 942_480, true, false},
		{"a tenth", []int64{94_248}, 9_425, false, true},
		{"the diameter of the roller", []int64{94_248}, 30_000, false, true},
		{"beside one that is wrong itself", []int64{94_248, 942_480, 94_100}, 94_000, false, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := club.New()
			for i, um := range test.others {
				b := bench(day.BenchID(rune('a'+i)), i+1)
				b.CircumferenceUM = um
				club.Evolve(s, club.BenchRegistered{Bench: b}, 1)
			}
			if _, err := club.Decide(s, club.RegisterBench{Bench: with(test.um), Sure: test.sure}, meet.Meta{}); (err != nil) != test.asked {
				t.Errorf("got %v", err)
			}
		})
	}
}
