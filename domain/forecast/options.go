package forecast

import (
	"fmt"
	"math/bits"
)

// Option is another form for all divisions of a day, and what it would give.
type Option struct {
	// Code names the form; PlannedCode is the day as it is. Format says the same in the
	// words of plans.
	Code    string
	Format  string
	Planned bool
	Report
	// Stages are those of each division, in the order of the day's.
	Stages [][]Stage
	// AdvisedAgainst says why nobody should choose it; empty for most.
	AdvisedAgainst string
	// Samples is how often it was played.
	Samples int
}

// PlannedCode is the code of the day as it is planned.
const PlannedCode = "planned"

// LeastSamples is how often each form is played before a comparison may be ended: fewer
// days say nothing.
const LeastSamples = 40

// Options plays the day as planned and with each other form that its divisions can race
// in, on the same cars. Race times are those of the plan's stages.
func Options(d Day, samples int, seed uint64) ([]Option, error) {
	return Compare(d, samples, seed, nil)
}

// Compare is [Options] that ends sooner when stop says so: it is asked before each day
// beyond the first [LeastSamples] of every form, which all forms are played in turn. Each
// form was then played as often as the others.
func Compare(d Day, samples int, seed uint64, stop func() bool) ([]Option, error) {
	if err := checkSamples(samples); err != nil {
		return nil, err
	}
	as, err := newPlaying(d)
	if err != nil {
		return nil, err
	}
	list, plays := []Option{{Code: PlannedCode, Format: "as planned", Planned: true, Stages: stagesOf(d)}}, []playing{as}
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
		play, err := newPlaying(other)
		if err != nil {
			// A field that the form does not take (too small for its groups) has no such option.
			continue
		}
		list, plays = append(list, Option{Code: f.code, Format: f.name, Stages: stagesOf(other)}), append(plays, play)
	}
	played := 0
	for ; played < samples && (played < LeastSamples || stop == nil || !stop()); played++ {
		for _, p := range plays {
			p.add(seed, uint64(played))
		}
	}
	for i := range list {
		list[i].Report, list[i].Samples = plays[i].report(), played
		if list[i].Fit.LeastRuns < 2 {
			list[i].AdvisedAgainst = fmt.Sprintf("somebody goes home after %s", races(list[i].Fit.LeastRuns))
		}
	}
	return list, nil
}

func stagesOf(d Day) (out [][]Stage) {
	for _, division := range d.Divisions {
		out = append(out, division.Stages)
	}
	return out
}

func races(runs int) string {
	if runs == 1 {
		return "one race"
	}
	return "no race"
}

// format makes the stages of a form for a field.
type format struct {
	code   string
	name   string
	stages func(entries, benches int, first, last Stage) []Stage
}

// formats are those that are compared, each with what is usual for the field.
var formats = []format{
	{"timed-3", "three timed rounds", func(_, _ int, first, _ Stage) []Stage {
		return []Stage{{Kind: TimedRounds, Race: first.Race, Lanes: first.timedLanes(), Rule: first.timedRule(), Rounds: 3}}
	}},
	{"timed-5", "five timed rounds", func(_, _ int, first, _ Stage) []Stage {
		return []Stage{{Kind: TimedRounds, Race: first.Race, Lanes: first.timedLanes(), Rule: first.timedRule(), Rounds: 5}}
	}},
	{"timed-knockout", "three timed rounds, then a knockout of the best half", func(entries, _ int, first, last Stage) []Stage {
		if entries < 4 {
			return nil
		}
		best := 1 << (bits.Len(uint(entries)) - 2) // the largest power of two up to half of them, or more
		return []Stage{
			{Kind: TimedRounds, Race: first.Race, Lanes: first.timedLanes(), Rule: first.timedRule(), Rounds: 3},
			{Kind: Knockout, Race: last.Race, Entries: best, ThirdPlace: best >= 4},
		}
	}},
	{"knockout", "a knockout", func(entries, _ int, _, last Stage) []Stage {
		if entries < 2 {
			return nil
		}
		return []Stage{{Kind: Knockout, Race: last.Race}}
	}},
	{"knockout-plate", "a knockout with a plate for those beaten at once", func(entries, _ int, _, last Stage) []Stage {
		if entries < 6 {
			return nil
		}
		return []Stage{{Kind: Knockout, Race: last.Race, Plate: true}}
	}},
	{"two-defeats", "a knockout that takes two defeats", func(entries, _ int, _, last Stage) []Stage {
		if entries < 3 {
			return nil
		}
		return []Stage{{Kind: DoubleElimination, Race: last.Race}}
	}},
	{"groups-knockout", "groups of four or five, then a knockout of two of each", func(entries, _ int, _, last Stage) []Stage {
		if entries < 8 {
			return nil
		}
		return []Stage{{Kind: Groups, Race: last.Race, Groups: entries / 4, Advance: 2}}
	}},
	{"swiss", "Swiss rounds", func(entries, _ int, _, last Stage) []Stage {
		rounds := bits.Len(uint(max(1, entries)-1)) + 1
		if entries < 4 || rounds >= entries {
			return nil
		}
		return []Stage{{Kind: Swiss, Race: last.Race, Rounds: rounds}}
	}},
	{"heats", "heats of four, of which two go on", func(entries, benches int, _, last Stage) []Stage {
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

// timedRule keeps the rule of a plan's timed rounds.
func (s Stage) timedRule() Rule {
	if s.Kind == TimedRounds && s.Rule != "" {
		return s.Rule
	}
	return Best
}
