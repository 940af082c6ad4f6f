package board

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
	"benchmeet/domain/programme"
)

// Compared is what a comparison of the day's benches adds to the advice on
// re-runs. It is a report, made outside of the state; the zero value adds nothing.
type Compared struct {
	Verdicts map[day.BenchID]fairness.Verdict
	Suspects map[day.RunID]bool
	// Doubted are the races of a bench that a failed reference check puts in doubt and
	// that no ruling has looked at since, by bench; the instant is that of the check.
	Doubted map[day.BenchID]Doubt
	// Incomplete are runs whose end has come and that lack a part of their stamps, with
	// the instant at which that was found.
	Incomplete map[day.RunID]int64
}

// Doubt is how many races of a bench are in doubt, and since when.
type Doubt struct {
	Races   int
	SinceUS int64
}

// advise weighs what is known of every lane of a heat, in their order. A run that
// was counted by hand has no speed to compare the others with.
func advise(s *day.State, h day.Heat, c Compared) fairness.HeatAdvice {
	lanes := make([]fairness.Lane, len(h.Lanes))
	for i, l := range h.Lanes {
		lanes[i] = fairness.Lane{
			Bench: s.Plate(l.Bench), Verdict: c.Verdicts[l.Bench], Suspect: l.Counts != "" && c.Suspects[l.Counts],
			Reruns: s.Entries[l.Entry].Reruns, Limit: s.Rules.RerunsPerEntry,
		}
		if r, ran := s.Runs[l.Counts]; ran && r.Source == day.SourceBench {
			lanes[i].Mean, lanes[i].Flags = float64(r.Figures.MeanUMPS), r.Figures.Flags
		}
	}
	return fairness.AdviseHeat(lanes)
}

// adviceTasks are the runs of a provisional heat that an official should look
// at, and the heat itself where one cause hit half of it. A ruling about the run,
// whatever it says, answers.
func adviceTasks(s *day.State, h day.Heat, usual fairness.Usual, c Compared) []Task {
	if h.Phase != day.PhaseProvisional {
		return nil
	}
	var out []Task
	advice := advise(s, h, c)
	for i, l := range h.Lanes {
		r := s.Runs[l.Counts]
		a := advice.Lanes[i]
		if !s.Counting(r) || s.RuledOn(r) {
			continue
		}
		if n, off := programme.FarOff(s, usual, r); off {
			a = farOff(a, n, r)
		}
		if a.Suggest == fairness.Nothing || r.Source == day.SourceHand && len(a.Why) == 0 {
			continue
		}
		d := prefilled(s, Task{
			Kind: TaskDoubtful, SinceUS: r.AtUS, Run: r.ID, Heat: h.ID, Entry: l.Entry, Bench: r.Bench, Division: h.Division,
		}, IncidentOf(r.Figures))
		d.Suggest, d.Counts, d.Why, d.AtLimit = a.Suggest, day.RerunCounts(a.Counts), a.Why, a.AtLimit
		d.Reason = day.ReasonCode(a.Reason) // it knows more than the incident alone
		d.Flags = slices.Clone(r.Figures.Flags)
		for _, f := range a.Flags {
			if !slices.ContainsFunc(d.Flags, func(own measure.Flag) bool { return own.Code == f.Code }) {
				d.Flags = append(d.Flags, f) // what the neighbours show
			}
		}
		out = append(out, d)
	}
	if advice.Whole && len(out) > 0 {
		d := Task{Kind: TaskWholeHeat, SinceUS: h.PostedUS, Heat: h.ID, Division: h.Division}
		d.Suggest, d.Why = fairness.Rerun, advice.Why
		for _, a := range advice.Lanes {
			if a.Suggest == fairness.Rerun && day.OneOf(day.ReasonCode(a.Reason), day.ReasonPower, day.ReasonOutside) {
				d.Reason = day.ReasonCode(a.Reason)
				break
			}
		}
		out = append(out, d)
	}
	return out
}

// farOff is the advice on a run that is far off: to look at it, and to let what comes of
// it count alone.
func farOff(a fairness.Advice, n fairness.Note, r day.Run) fairness.Advice {
	a.Why = append([]fairness.Note{n}, a.Why...)
	if a.Suggest == fairness.Nothing {
		a.Suggest, a.Reason = fairness.Look, string(day.ReasonBenchFault)
		if r.Source == day.SourceHand {
			a.Reason = string(day.ReasonVolunteer)
		}
	}
	a.Counts = fairness.CountsRerun
	return a
}
