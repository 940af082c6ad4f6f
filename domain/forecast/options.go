package forecast

import (
	"fmt"
	"math/bits"
)

// Option is another form for all divisions of a day, and what it would give.
type Option struct {
	// Format says the stages in the words of plans; Planned marks the day as it is.
	Format  string
	Planned bool
	Report
	// AdvisedAgainst says why nobody should choose it; empty for most.
	AdvisedAgainst string
}

// Options plays the day as planned and with each other form that its divisions can race
// in, on the same cars. Race times are those of the plan's stages.
func Options(d Day, samples int, seed uint64) ([]Option, error) {
	as, err := Play(d, samples, seed)
	if err != nil {
		return nil, err
	}
	list := []Option{{Format: "as planned", Planned: true, Report: as}}
	for _, f := range formats {
		other := d
		other.Divisions = nil
		fits := true
		for _, division := range d.Divisions {
			first, last := division.Stages[0], division.Stages[len(division.Stages)-1]
			stages := f.stages(division.Entries, d.Benches, first, last)
			fits = fits && stages != nil
			division.Stages = stages
			other.Divisions = append(other.Divisions, division)
		}
		if !fits {
			continue
		}
		report, err := Play(other, samples, seed)
		if err != nil {
			// A field that the form does not take (too small for its groups) has no such option.
			continue
		}
		list = append(list, Option{Format: f.name, Report: report})
	}
	for i := range list {
		if list[i].Fit.LeastRuns < 2 {
			list[i].AdvisedAgainst = fmt.Sprintf("somebody goes home after %s", races(list[i].Fit.LeastRuns))
		}
	}
	return list, nil
}

func races(runs int) string {
	if runs == 1 {
		return "one race"
	}
	return "no race"
}

// format makes the stages of a form for a field.
type format struct {
	name   string
	stages func(entries, benches int, first, last Stage) []Stage
}

// formats are those that are compared, each with what is usual for the field.
var formats = []format{
	{"three timed rounds", func(_, _ int, first, _ Stage) []Stage {
		return []Stage{{Kind: TimedRounds, Race: first.Race, Lanes: first.timedLanes(), Rounds: 3}}
	}},
	{"five timed rounds", func(_, _ int, first, _ Stage) []Stage {
		return []Stage{{Kind: TimedRounds, Race: first.Race, Lanes: first.timedLanes(), Rounds: 5}}
	}},
	{"three timed rounds, then a knockout of the best half", func(entries, _ int, first, last Stage) []Stage {
		if entries < 4 {
			return nil
		}
		best := 1 << (bits.Len(uint(entries)) - 2) // the largest power of two up to half of them, or more
		return []Stage{
			{Kind: TimedRounds, Race: first.Race, Lanes: first.timedLanes(), Rounds: 3},
			{Kind: Knockout, Race: last.Race, Entries: best, ThirdPlace: best >= 4},
		}
	}},
	{"a knockout", func(entries, _ int, _, last Stage) []Stage {
		if entries < 2 {
			return nil
		}
		return []Stage{{Kind: Knockout, Race: last.Race}}
	}},
	{"a knockout with a plate for those beaten at once", func(entries, _ int, _, last Stage) []Stage {
		if entries < 6 {
			return nil
		}
		return []Stage{{Kind: Knockout, Race: last.Race, Plate: true}}
	}},
	{"a knockout that takes two defeats", func(entries, _ int, _, last Stage) []Stage {
		if entries < 3 {
			return nil
		}
		return []Stage{{Kind: DoubleElimination, Race: last.Race}}
	}},
	{"groups of four or five, then a knockout of two of each", func(entries, _ int, _, last Stage) []Stage {
		if entries < 8 {
			return nil
		}
		return []Stage{{Kind: Groups, Race: last.Race, Groups: entries / 4, Advance: 2}}
	}},
	{"Swiss rounds", func(entries, _ int, _, last Stage) []Stage {
		rounds := bits.Len(uint(max(1, entries)-1)) + 1
		if entries < 4 || rounds >= entries {
			return nil
		}
		return []Stage{{Kind: Swiss, Race: last.Race, Rounds: rounds}}
	}},
	{"heats of four, of which two go on", func(entries, benches int, _, last Stage) []Stage {
		if entries < 8 || benches < 4 {
			return nil
		}
		return []Stage{{Kind: Heats, Race: last.Race, Lanes: 4, Advance: 2, BFinal: true}}
	}},
}

// timedLanes keeps the width of a plan's timed rounds.
func (s Stage) timedLanes() int {
	if s.Kind == TimedRounds || s.Kind == PointsRounds {
		return s.Lanes
	}
	return 0
}
