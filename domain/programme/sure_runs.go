package programme

import (
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// SureRuns says how often every child of a division races whatever the results,
// so that a plan which sends somebody home after one race is seen in time.
type SureRuns struct {
	// Entries is the field that it was reckoned for.
	Entries int
	// Runs is how often everybody races: in the first stage, and in those to which
	// all go on.
	Runs   int
	Stages []SureStage
}

// SureStage is what one stage makes sure for everybody who comes into it.
type SureStage struct {
	Stage, Entries, Runs int
	// Says is why the stage cannot be drawn for so many; Runs is then 0.
	Says string
	// Fits is the smallest number of rounds for which a design for its lanes is
	// known; 0 where the stage wants none, or none is known.
	Fits int
}

// mostSure bounds the field that is reckoned for: a page shows it at every change.
const mostSure = 256

// sureRunner is a form that knows how often everybody of a field of n races in a
// stage, whatever the results.
type sureRunner interface {
	sureRuns(st day.Stage, n int) (int, error)
}

// SureRunsNow reckons for the field of a division: those who were drawn, or those
// entered so far. It is false for a division without entries, or too many.
func SureRunsNow(s *day.State, division day.DivisionID) (SureRuns, bool) {
	d, there := s.Divisions[division]
	if !there {
		return SureRuns{}, false
	}
	n := 0
	if p := s.Programmes[division]; len(p.Stages) > 0 {
		n = len(p.Stages[0].Seeds)
	} else {
		for _, e := range s.SortedEntries(division) {
			if e.Racing() {
				n++
			}
		}
	}
	if n == 0 || n > mostSure {
		return SureRuns{}, false
	}
	return SureRunsWith(d, n), true
}

// SureRunsWith reckons for a field of n. It costs a draw of every stage.
func SureRunsWith(d day.Division, n int) SureRuns {
	out := SureRuns{Entries: n}
	all := true
	for i, st := range d.Stages {
		if st.Entries > 0 && st.Entries < n {
			n, all = st.Entries, false
		}
		line := SureStage{Stage: i + 1, Entries: n}
		runs, err := forms[st.Kind].(sureRunner).sureRuns(st, n)
		switch no, is := err.(*bracket.Refusal); {
		case is:
			line.Says = no.Says
		case err != nil:
			line.Says = err.Error()
		default:
			line.Runs = runs
		}
		if design, known := bracket.FindDesign(n, min(st.Lanes, n)); st.LaneDesign && known {
			line.Fits = design.Runs
		}
		if all {
			out.Runs += line.Runs
		}
		out.Stages = append(out.Stages, line)
	}
	return out
}

// leastRuns is the least over all entries of a draw, each heat having so many legs.
func leastRuns(d *bracket.Draw, err error) (int, error) {
	if err != nil {
		return 0, err
	}
	return slices.Min(d.RunsAtLeast()) * max(1, d.Legs), nil
}

func (timedRounds) sureRuns(st day.Stage, _ int) (int, error) { return st.Rounds, nil }

func (knockout) sureRuns(st day.Stage, n int) (int, error) {
	return leastRuns(bracket.Knockout(n, bracket.KnockoutOptions{Seeds: n, ThirdPlace: st.ThirdPlace, Plate: st.Plate, Legs: st.Legs}))
}

func (doubleElimination) sureRuns(_ day.Stage, n int) (int, error) {
	return leastRuns(bracket.DoubleElimination(n, bracket.KnockoutOptions{Seeds: n}))
}

func (roundRobin) sureRuns(st day.Stage, n int) (int, error) {
	return leastRuns(bracket.RoundRobin(n, bracket.RoundRobinOptions{Cycles: max(1, st.Cycles)}))
}

func (groups) sureRuns(st day.Stage, n int) (int, error) {
	return leastRuns(bracket.Groups(n, bracket.GroupOptions{Groups: st.Groups, Cycles: max(1, st.Cycles)}))
}

// sureRuns of a Swiss leaves a bye out for each in an odd field.
func (swiss) sureRuns(st day.Stage, n int) (int, error) {
	if n < 2 {
		return 0, &bracket.Refusal{Rule: "entries", Says: "a round of pairs needs at least 2 entries"}
	}
	return st.Rounds - n%2, nil
}

func (manyLanes) sureRuns(st day.Stage, n int) (int, error) {
	return leastRuns(bracket.Heats(n, bracket.HeatsOptions{
		Lanes: st.Lanes, Heats: st.Heats, Order: st.HeatOrder, Advance: st.Advance, NextBest: st.NextBest, Seeds: n,
	}))
}
