package fairness

import "benchmeet/domain/measure"

// Suggestion is how strongly the evidence speaks for a re-run.
type Suggestion string

// The suggestions. Whatever it is, a named official rules.
const (
	Nothing Suggestion = ""       // no reason to stop
	Look    Suggestion = "look"   // an official should look before the result is official
	Rerun   Suggestion = "re-run" // what was measured is not what the car did
)

// Which run should count after a re-run, in the words of a ruling.
const (
	// CountsRerun is for a run that may show more than the car did.
	CountsRerun = "rerun"
	// CountsBetter is for one that shows at most what it did: the entry keeps it if
	// the second is worse.
	CountsBetter = "better"
)

// Lane is what is known of one lane of a heat that was raced.
type Lane struct {
	Bench string
	// Mean is the mean speed in any unit, the same in all lanes; 0 without a run.
	Mean float64
	// Flags are those of the measurement.
	Flags []measure.Flag
	// Verdict is that of the bench in the day's comparison, empty if there is none.
	Verdict Verdict
	// Suspect says that the run is among the [Fit.Suspects].
	Suspect bool
	// Reruns is how many re-runs the entry has had, Limit how many it may have.
	Reruns, Limit int
}

// Advice is a suggestion for one lane with its grounds.
type Advice struct {
	Suggest Suggestion
	// Reason is the code that the form of a ruling is filled with, Counts which run
	// should count. An official changes both at will. Empty where nothing is
	// suggested.
	Reason string
	Counts string
	// Flags are those of the lane that speak for it, with what the neighbours
	// show; Why are the other grounds.
	Flags []measure.Flag
	Why   []Note
	// AtLimit says that the entry has had all its re-runs.
	AtLimit bool
}

// HeatAdvice is the advice for every lane of a heat, in their order.
type HeatAdvice struct {
	Lanes []Advice
	// Whole suggests to race the heat again, because one cause from outside hit half
	// of it or more.
	Whole bool
	Why   []Note
}

// weight is what one flag is worth.
type weight struct {
	suggest Suggestion
	reason  string
	counts  string
}

// weights are those of all flags that matter; the reasons are codes of rulings
// (common practice). What was corrected or only noted is not among them.
var weights = map[measure.Code]weight{
	measure.NoSignal:       {Rerun, "bench-fault", CountsRerun},
	measure.CutShort:       {Rerun, "bench-fault", CountsBetter},
	measure.NotReached:     {Look, "stalled", CountsBetter},
	measure.EarlyStart:     {Look, "false-start", CountsRerun},
	measure.NoRise:         {Look, "false-start", CountsRerun},
	measure.ManyBridged:    {Rerun, "missed-pulses", CountsBetter},
	measure.ManyExtra:      {Look, "bench-fault", CountsRerun},
	measure.StartMissed:    {Rerun, "missed-pulses", CountsBetter},
	measure.Burst:          {Look, "outside-interference", CountsRerun},
	measure.StrayStamps:    {Look, "outside-interference", CountsRerun},
	measure.OpenGap:        {Rerun, "missed-pulses", CountsBetter},
	measure.SilentEnd:      {Look, "missed-pulses", CountsBetter},
	measure.MarkSilent:     {Look, "missed-pulses", CountsBetter},
	measure.PassesLost:     {Look, "missed-pulses", CountsBetter},
	measure.NoInterval:     {Rerun, "bench-fault", CountsRerun},
	measure.Stalled:        {Look, "stalled", CountsBetter},
	measure.WentSilent:     {Rerun, "bench-fault", CountsRerun},
	measure.Coasting:       {Look, "off-rollers", CountsBetter},
	measure.MainsFlicker:   {Rerun, "outside-interference", CountsRerun},
	measure.HalfSpeed:      {Rerun, "missed-pulses", CountsBetter},
	measure.DoubleSpeed:    {Rerun, "bench-fault", CountsRerun},
	measure.HalfOfOthers:   {Rerun, "bench-fault", CountsBetter},
	measure.DoubleOfOthers: {Rerun, "bench-fault", CountsRerun},
	measure.TooFast:        {Look, "bench-fault", CountsRerun},
	measure.Backwards:      {Look, "bench-fault", CountsRerun},
	measure.Impossible:     {Look, "bench-fault", CountsRerun},
	measure.Restarted:      {Rerun, "power", CountsBetter},
	measure.ClockAmbiguous: {Look, "bench-fault", CountsBetter},
	measure.TotalsDisagree: {Rerun, "missed-pulses", CountsBetter},
}

// AdviseHeat weighs what is known of every lane of a heat. It suggests only, and
// says so; the same evidence always gets the same advice.
func AdviseHeat(lanes []Lane) HeatAdvice {
	h := HeatAdvice{Lanes: make([]Advice, len(lanes))}
	for i, lane := range lanes {
		var others []float64
		for j, o := range lanes {
			if j != i && o.Mean > 0 {
				others = append(others, o.Mean)
			}
		}
		flags := lane.Flags
		if f, off := measure.CompareWithOthers(lane.Mean, others); off && !has(flags, f.Code) {
			// The capacity is cut so that the caller's list is copied and not written to.
			flags = append(flags[:len(flags):len(flags)], f)
		}
		h.Lanes[i] = advise(lane, flags)
	}
	// These are what one cause can do to several lanes at once. A single lane is never enough,
	// though it is half a heat of two.
	for _, reason := range []string{"power", "outside-interference"} {
		hit := 0
		for _, a := range h.Lanes {
			if a.Suggest == Rerun && a.Reason == reason {
				hit++
			}
		}
		if hit >= 2 && 2*hit >= len(lanes) {
			h.Whole = true
			h.Why = append(h.Why, note("advice-whole", "hit", hit, "lanes", len(lanes)), note("advice-official"))
			break
		}
	}
	for i := range h.Lanes {
		h.Lanes[i].limit(lanes[i])
	}
	return h
}

// advise weighs the flags of a lane: the heaviest gives the reason, of equal
// ones the first. The second run counts alone as soon as one ground says that
// the first may show too much.
func advise(lane Lane, flags []measure.Flag) Advice {
	var a Advice
	add := func(w weight) {
		if w.suggest == Rerun && a.Suggest != Rerun || a.Suggest == Nothing {
			a.Suggest, a.Reason = w.suggest, w.reason
		}
		if a.Counts != CountsRerun {
			a.Counts = w.counts
		}
	}
	for _, f := range flags {
		if w, matters := weights[f.Code]; matters {
			a.Flags = append(a.Flags, f)
			add(w)
		}
	}
	if lane.Verdict == Noisy {
		a.Why = append(a.Why, note("advice-noisy", "bench", lane.Bench))
		add(weight{Look, "bench-fault", CountsBetter})
	}
	if lane.Suspect {
		a.Why = append(a.Why, note("advice-suspect"))
		add(weight{Look, "bench-fault", CountsRerun})
	}
	// A level is named and weighs nothing: it is the same for all who ran on the bench.
	if lane.Verdict == ReadsHigh || lane.Verdict == ReadsLow {
		a.Why = append(a.Why, note("advice-level", "bench", lane.Bench))
	}
	return a
}

// limit says that no re-run is left, and whose the decision is.
func (a *Advice) limit(lane Lane) {
	if a.Suggest == Nothing {
		return
	}
	if a.AtLimit = lane.Reruns >= lane.Limit; a.AtLimit {
		a.Why = append(a.Why, note("advice-limit", "limit", lane.Limit))
	}
	a.Why = append(a.Why, note("advice-official"))
}

func has(flags []measure.Flag, code measure.Code) bool {
	for _, f := range flags {
		if f.Code == code {
			return true
		}
	}
	return false
}
