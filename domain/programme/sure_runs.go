package programme

import (
	"errors"

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
	// Code is the rule of the draw that is broken then.
	Code string
	// Fits is the smallest number of rounds for which a design for its lanes is
	// known; 0 where the stage wants none, or none is known.
	Fits int
}

// mostSure bounds the field that is reckoned for: a page shows it at every change.
const mostSure = 256

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
		_, form := FormOf(d, i+1)
		runs, err := form.SureRuns(st, n)
		var no *bracket.Refusal
		switch {
		case errors.As(err, &no):
			line.Says, line.Code = no.Says, no.Rule
		case err != nil:
			line.Says = err.Error()
		default:
			line.Runs = runs
		}
		if f, is := form.(interface{ designFor(st day.Stage, n int) int }); is {
			line.Fits = f.designFor(st, n)
		}
		if all {
			out.Runs += line.Runs
		}
		out.Stages = append(out.Stages, line)
	}
	return out
}
