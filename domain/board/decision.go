package board

import (
	"cmp"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
	"benchmeet/domain/programme"
)

// DecisionKind says what somebody has to decide.
type DecisionKind string

// Decision kinds.
const (
	DecideWaitingRun DecisionKind = "waiting-run"   // accept, or set aside
	DecideAsked      DecisionKind = "rerun-asked"   // a bench asks for a re-run: grant, or turn down
	DecideProtest    DecisionKind = "protest"       // uphold, or turn down
	DecideNotThere   DecisionKind = "not-there"     // the call is over and a car is not ready
	DecideTie        DecisionKind = "tie"           // a heat that needs an order has none
	DecideDoubtful   DecisionKind = "doubtful-run"  // the pulses are in doubt: re-run?
	DecideClose      DecisionKind = "close-round"   // all heats posted, protest time over
	DecideDraw       DecisionKind = "draw-round"    // the next round can be drawn
	DecideSeed       DecisionKind = "seed-order"    // the first stage is to be seeded by hand or by rating
	DecideFewRuns    DecisionKind = "few-runs"      // somebody would end below the runs that are promised
	DecidePublish    DecisionKind = "publish"       // the programme is through
	DecideOutdated   DecisionKind = "outdated-draw" // a draw stands on a result that changed
	DecideOverdue    DecisionKind = "overdue-run"   // a run should have come by now
	DecideOutBench   DecisionKind = "bench-out"     // a bench is out of service
	DecideCorrection DecisionKind = "publish-again" // a published standing has changed
	DecideDecider    DecisionKind = "decider"       // a result too close to call at a line: race a decider
	DecideDoubted    DecisionKind = "runs-in-doubt" // a reference check found that a bench has moved
	DecideWholeHeat  DecisionKind = "whole-heat"    // one cause from outside hit half of a heat: race it again?
	DecidePodium     DecisionKind = "podium-check"  // a car on the podium is held and looked at again
	DecideRepair     DecisionKind = "repair-late"   // the time to put a car right is over
	DecidePacks      DecisionKind = "packs-missing" // lent packs did not come back
)

// overdueUS is how long after its race a run may take to come in before the
// list asks about it, in µs: a phone may have to find the network again.
const overdueUS = 30_000_000

// Decision is one line of the list of what needs a decision now.
type Decision struct {
	Kind     DecisionKind
	SinceUS  int64
	Division day.DivisionID
	Heat     day.HeatID
	Entry    day.EntryID
	Run      day.RunID
	Protest  day.ProtestID
	Bench    day.BenchID
	// Few are those who would end below the runs that the rules promise.
	Few []programme.FewRuns
	// Reason and By say why something is asked for, and who asks; without By, Reason
	// is the likely one.
	Reason day.ReasonCode
	By     string
	// Incident is what the pulses of a run look like, and Consequence what the rules
	// say of it: they prefill the ruling.
	Incident    day.Incident
	Consequence day.Consequence
	// Suggest, Counts and Why are the advice on a doubtful run: how strongly the
	// evidence speaks for a re-run, which run should count, and the grounds beside
	// Flags. AtLimit says that the rules leave the entry no re-run.
	Suggest fairness.Suggestion
	Counts  day.RerunCounts
	Flags   []measure.Flag
	Why     []fairness.Note
	AtLimit bool
	// Races is how many races of the bench are in doubt.
	Races int
}

// Decisions lists what needs a decision at an instant, the oldest first.
func Decisions(s *day.State, nowUS int64) []Decision { return DecisionsKnowing(s, nowUS, Compared{}) }

// DecisionsKnowing is Decisions where the benches have been compared.
func DecisionsKnowing(s *day.State, nowUS int64, c Compared) []Decision {
	var out []Decision
	for _, r := range s.SortedRuns() {
		if !r.Void && r.Waiting != day.WaitsNot {
			out = append(out, Decision{Kind: DecideWaitingRun, SinceUS: r.AtUS, Run: r.ID, Heat: r.Heat, Entry: r.Entry, Bench: r.Bench, Division: s.Heats[r.Heat].Division})
		}
	}
	for id, p := range s.Protests {
		if !p.Ruled {
			out = append(out, Decision{Kind: DecideProtest, SinceUS: p.LodgedUS, Protest: id, Heat: p.Heat, Entry: p.Entry, Division: s.Heats[p.Heat].Division})
		}
	}
	for _, h := range s.SortedHeats() {
		out = append(out, heatDecisions(s, h, nowUS)...)
		out = append(out, adviceDecisions(s, h, c)...)
	}
	for _, d := range s.SortedDivisions() {
		out = append(out, divisionDecisions(s, d, nowUS)...)
	}
	out = append(out, tableDecisions(s, nowUS)...)
	for _, b := range s.SortedBenches() {
		if doubt := c.Doubted[b.ID]; doubt.Races > 0 {
			out = append(out, Decision{Kind: DecideDoubted, SinceUS: doubt.SinceUS, Bench: b.ID, Races: doubt.Races})
		}
		if b.OutOfService {
			out = append(out, Decision{Kind: DecideOutBench, Bench: b.ID})
		}
	}
	slices.SortStableFunc(out, func(a, b Decision) int {
		return cmp.Or(
			cmp.Compare(a.SinceUS, b.SinceUS),
			cmp.Compare(a.Kind, b.Kind),
			cmp.Compare(a.Heat, b.Heat),
			cmp.Compare(a.Entry, b.Entry),
			cmp.Compare(a.Run, b.Run),
			cmp.Compare(a.Protest, b.Protest),
		)
	})
	return out
}

func heatDecisions(s *day.State, h day.Heat, nowUS int64) []Decision {
	var out []Decision
	for _, l := range h.Lanes {
		if Unanswered(s, h, l) {
			out = append(out, Decision{Kind: DecideAsked, SinceUS: l.Asked.AtUS, Division: h.Division, Heat: h.ID, Entry: l.Entry, Run: l.Counts, Bench: l.Bench, Reason: l.Asked.Reason.Code, By: l.Asked.By})
		}
	}
	switch h.Phase {
	case day.PhaseCalled:
		for _, l := range h.Lanes {
			if l.State == day.LaneCalled && s.RaceClock(nowUS) >= h.DeadlineUS {
				out = append(out, Decision{Kind: DecideNotThere, SinceUS: h.DeadlineUS, Heat: h.ID, Entry: l.Entry, Bench: l.Bench, Division: h.Division})
			}
		}
	case day.PhaseRacing:
		due := h.StartedUS + s.Divisions[h.Division].Stages[h.Stage-1].RaceUS + overdueUS
		for _, l := range h.Lanes {
			if l.State == day.LaneRacing && nowUS >= due {
				out = append(out, prefilled(s, Decision{Kind: DecideOverdue, SinceUS: due, Heat: h.ID, Entry: l.Entry, Bench: l.Bench, Division: h.Division}, day.BenchFailed))
			}
		}
	}
	return out
}

func divisionDecisions(s *day.State, d day.Division, nowUS int64) []Decision {
	p := s.Programmes[d.ID]
	if p.MergedInto != "" {
		return nil // its host asks
	}
	stage, _ := p.Round()
	if stage == 0 && !p.EndedEarly {
		switch {
		case p.EntriesClosed && programme.WantsSeeds(s, d, 1):
			return []Decision{{Kind: DecideSeed, Division: d.ID}}
		case p.EntriesClosed:
			return []Decision{{Kind: DecideDraw, Division: d.ID}}
		}
		return nil
	}
	var out []Decision
	if !p.EndedEarly && programme.Outdated(s, d.ID) {
		out = append(out, Decision{Kind: DecideOutdated, Division: d.ID})
	}
	if few := programme.TooFewRuns(s, d.ID); len(few) > 0 && len(p.Published) == 0 {
		out = append(out, Decision{Kind: DecideFewRuns, SinceUS: p.DrawnUS(), Division: d.ID, Few: few})
	}
	if last, drawn := p.Current(); drawn && !last.Closed {
		_, form := programme.FormOf(d, stage)
		tied := form.Tied(s, last.Heats)
		for _, l := range tied {
			out = append(out, Decision{Kind: DecideTie, SinceUS: s.Heats[l.Heat].PostedUS, Division: d.ID, Heat: l.Heat, Entry: l.Entry})
		}
		due := programme.DecidersDue(s, d)
		for _, l := range due {
			out = append(out, Decision{
				Kind: DecideDecider, SinceUS: s.Heats[l.Heat].PostedUS, Division: d.ID, Heat: l.Heat, Entry: l.Entry, Counts: day.CountsDecider,
			})
		}
		since, ready := closable(s, last, nowUS)
		if ready && len(tied) == 0 && len(due) == 0 {
			out = append(out, Decision{Kind: DecideClose, SinceUS: since, Division: d.ID})
		}
		return out
	}
	if _, open := programme.OpenHeat(s, d.ID); open {
		return out // a closed round races again in part
	}
	switch {
	case !programme.Through(s, d):
		out = append(out, Decision{Kind: DecideDraw, SinceUS: p.DrawnUS(), Division: d.ID})
	case len(p.Published) == 0:
		out = append(out, Decision{Kind: DecidePublish, SinceUS: p.DrawnUS(), Division: d.ID})
	case programme.PublishedIsOld(s, d.ID):
		out = append(out, Decision{Kind: DecideCorrection, SinceUS: p.Published[len(p.Published)-1].AtUS, Division: d.ID})
	}
	return out
}

// closable says whether CloseRound would need no reason now, and since when.
func closable(s *day.State, r day.RoundState, nowUS int64) (since int64, ready bool) {
	for _, id := range r.Heats {
		h := s.Heats[id]
		if !h.Posted() || s.RaceClock(nowUS) < h.ProtestUntilUS {
			return 0, false
		}
		since = max(since, h.ProtestUntilUS)
	}
	_, protested := programme.OpenProtest(s, r.Heats)
	return since, !protested
}
