package view

import (
	"cmp"
	"encoding/json"
	"math"
	"slices"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/forecast"
	"benchmeet/domain/programme"
)

// formatSamples is how often each form is played, if there is time.
const formatSamples = 300

// FormatDay is a day whose programme can still be chosen.
type FormatDay struct {
	v        MeetView
	day      forecast.Day
	beginsUS int64
	lastUS   int64
	entries  int
	leftOut  []string
	spread   forecast.Spread
	known    bool
}

// NewFormatDay brings the divisions of a meet that are not drawn into the form that can be
// played. Runs are those that cars of the club showed, in this meet and in others.
func NewFormatDay(v MeetView, nowUS int64, benches, adults int, runs []forecast.Shown) FormatDay {
	s := v.State
	opens, _, last := Hours(s.Plan)
	out := FormatDay{v: v, beginsUS: max(nowUS, opens), lastUS: last}
	stops := out.stops(opens)
	out.spread, out.known = forecast.SpreadOf(runs)
	if !out.known {
		out.spread = forecast.UsualSpread
	}
	p := dayplan.Seen(s)
	out.day = forecast.Day{
		Closes: 86_400, Benches: benches,
		HeatSpread: changeSpread, DaySpread: daySpread, FailureRate: usualFailures, RerunRate: usualReruns, Wait: wire.Seconds(p.DrawUS),
	}
	out.day.Stops = stops
	if last > out.beginsUS {
		out.day.Closes = wire.Seconds(last - out.beginsUS)
	}
	if adults == 0 {
		adults = s.AdultsNow()
	}
	if benches == 0 {
		out.day.Benches = min(forecast.MaxBenches, max(1, len(programme.BenchesInService(s))))
	}
	// What was seen is with the adults of the plan: what others need is in proportion.
	crowd := dayplan.Crowd(out.day.Benches, adults)
	out.day.ChangeOver = wire.Seconds(p.PostUS) + wire.Seconds(p.CallUS+p.ChangeUS)*crowd/p.Crowd
	for _, d := range s.SortedDivisions() {
		if len(s.Programmes[d.ID].Stages) > 0 || s.Programmes[d.ID].MergedInto != "" || len(d.Stages) == 0 {
			continue
		}
		entries := 0
		for _, e := range s.SortedEntries(d.ID) {
			if e.Racing() {
				entries++
			}
		}
		if entries < 2 || entries > forecast.MaxEntries || len(out.day.Divisions) == forecast.MaxDivisions {
			continue
		}
		of := forecast.Division{ID: string(d.ID), Entries: entries, CarSD: out.spread.CarSD, RunSD: out.spread.RunSD}
		for _, st := range d.Stages {
			of.Stages = append(of.Stages, playedStage(wire.ShowStage(st)))
		}
		alone := out.day
		alone.Divisions = []forecast.Division{of}
		if alone.Check() != nil {
			out.leftOut = append(out.leftOut, string(d.ID))
			continue
		}
		out.entries += entries
		out.day.Divisions = append(out.day.Divisions, of)
		out.day.Rest = max(out.day.Rest, wire.Seconds(dayplan.CarRestUS(s, d)))
	}
	return out
}

// stops are the tasks of the plan in which nobody races; racing begins behind those that lie
// at its beginning.
func (d *FormatDay) stops(opensUS int64) (out []forecast.Stop) {
	const minuteUS = 60_000_000
	if opensUS == 0 {
		return nil
	}
	tasks := d.v.State.Plan.TimedTasks()
	slices.SortStableFunc(tasks, func(a, b day.TimedTask) int { return cmp.Compare(a.FromMin, b.FromMin) })
	for _, t := range tasks {
		from, to := opensUS+int64(t.FromMin)*minuteUS, opensUS+int64(t.UntilMin)*minuteUS
		switch {
		case !t.Common() || to <= d.beginsUS:
		case from <= d.beginsUS:
			d.beginsUS = to
		default:
			out = append(out, forecast.Stop{From: wire.Seconds(from - d.beginsUS), To: wire.Seconds(to - d.beginsUS)})
		}
	}
	return out
}

// What is usual where a day has not told yet (common practice): how the time between two
// heats of a bench scatters from heat to heat and from day to day, how many runs fail, and
// how many are raced again.
const (
	changeSpread  = 0.35
	daySpread     = 0.2
	usualFailures = 0.01
	usualReruns   = 0.02
)

// Formats compares the programmes, until stop says that it is enough.
func Formats(d FormatDay, stop func() bool) (gen.FormatComparison, error) {
	var options []forecast.Option
	if d.entries > 0 {
		var err error
		if options, err = forecast.Compare(d.day, formatSamples, uint64(d.v.State.Seq), stop); err != nil {
			return gen.FormatComparison{}, err
		}
	}
	out := gen.FormatComparison{
		Seq: d.v.Head.Seq, Begins: wire.Instant(d.beginsUS), Benches: d.day.Benches, Entries: d.entries, Options: []gen.FormatOption{},
		Spread: gen.CarSpread{Car: d.spread.CarSD, Run: d.spread.RunSD, From: gen.Usual, Cars: d.spread.Cars},
	}
	if d.known {
		out.Spread.From = gen.Runs
	}
	late := d.lastUS > d.beginsUS
	if late {
		out.LastRaceBy = wire.OptInstant(d.lastUS)
	}
	if len(d.leftOut) > 0 {
		out.LeftOut = &d.leftOut
	}
	for _, o := range options {
		out.Samples = o.Samples
		out.Options = append(out.Options, d.option(o, late))
	}
	return out, nil
}

func (d FormatDay) option(o forecast.Option, late bool) gen.FormatOption {
	out := gen.FormatOption{
		Format: o.Code, BestCarWins: o.Fit.BestCarWins, Agreement: o.Fit.RankAgreement,
		PairsRight: int(math.Round(10 * (1 + o.Fit.RankAgreement) / 2)), Runs: o.Fit.Runs, RunsAtLeast: o.Fit.LeastRuns,
		LongestWaitMin: int(math.Round(o.Fit.LongestWait / 60)),
		Finish:         gen.FormatFinish{P10: d.at(o.Finish.P10), P50: d.at(o.Finish.P50), P90: d.at(o.Finish.P90)},
	}
	if late {
		out.LateChance = &o.LateChance
	}
	switch {
	case o.AdvisedAgainst != "" && o.Fit.LeastRuns == 0:
		out.AdvisedAgainst = wire.Opt(gen.NoRace)
	case o.AdvisedAgainst != "":
		out.AdvisedAgainst = wire.Opt(gen.OneRace)
	}
	for i, stages := range o.Stages {
		division := gen.FormatDivision{Division: d.day.Divisions[i].ID, Stages: []gen.StageBody{}}
		if o.Planned {
			for _, st := range d.v.State.Divisions[day.DivisionID(division.Division)].Stages {
				division.Stages = append(division.Stages, wire.ShowStage(st))
			}
		} else {
			division.Stages = plannedStages(stages, d.day.Benches, d.day.Divisions[i].Entries)
		}
		out.Divisions = append(out.Divisions, division)
	}
	return out
}

func (d FormatDay) at(seconds float64) time.Time {
	return wire.Instant(d.beginsUS + int64(seconds*1e6))
}

// playedStage is a stage of a plan as it is played: the settings that decide about heats,
// under the same names. Where a rule that is not played sums up the runs of a car, their mean
// orders cars as it does, or nearly so.
func playedStage(b gen.StageBody) forecast.Stage {
	rule := forecast.Rule(wire.Deref(b.Rule))
	if rule != "" && rule != forecast.Best {
		rule = forecast.Mean
	}
	return forecast.Stage{
		Kind: forecast.Kind(b.Kind), Race: b.RaceS, Entries: wire.Deref(b.Entries), Rounds: wire.Deref(b.Rounds), Lanes: b.Lanes,
		Rule: rule, Groups: wire.Deref(b.Groups), Advance: wire.Deref(b.Advance),
		NextBest: wire.Deref(b.NextBest), Cycles: wire.Deref(b.Cycles), Legs: wire.Deref(b.Legs), ThirdPlace: wire.Deref(b.ThirdPlace),
		Plate: wire.Deref(b.Plate), BFinal: wire.Deref(b.BFinal),
	}
}

// plannedStages are stages as a division takes them. Those who go on from groups do so into
// a stage of their own.
func plannedStages(stages []forecast.Stage, benches, entries int) []gen.StageBody {
	out := []gen.StageBody{}
	for _, st := range stages {
		advance := 0
		if st.Groups > 0 {
			st.Advance, advance = 0, st.Advance*st.Groups
		}
		out = append(out, plannedStage(st, benches, entries))
		if advance > 0 {
			out = append(out, plannedStage(forecast.Stage{Kind: forecast.Knockout, Race: st.Race, Entries: advance}, benches, advance))
		}
	}
	return out
}

func plannedStage(st forecast.Stage, benches, entries int) gen.StageBody {
	b := gen.StageBody{
		Kind: wire.Word[gen.StageBodyKind](st.Kind), RaceS: st.Race, Lanes: st.LanesOn(benches, entries), Entries: wire.Opt(st.Entries),
		Rounds: wire.Opt(st.Rounds), Groups: wire.Opt(st.Groups), Advance: wire.Opt(st.Advance), NextBest: wire.Opt(st.NextBest),
		Cycles: wire.Opt(st.Cycles), Legs: wire.Opt(st.Legs), ThirdPlace: wire.Opt(st.ThirdPlace), Plate: wire.Opt(st.Plate),
		BFinal: wire.Opt(st.BFinal),
	}
	if st.Rule != "" {
		b.Rule = wire.Opt(wire.Word[gen.StageBodyRule](st.Rule))
	}
	return b
}

// ShownRuns are the runs of a meet that tell how cars scatter.
func ShownRuns(meet string, s *day.State) (out []forecast.Shown) {
	for _, r := range s.SortedRuns() {
		h, there := s.Heats[r.Heat]
		if !there || r.Entry == "" || r.Void || r.Waiting != day.WaitsNot || r.Figures.DistanceUM <= 0 {
			continue
		}
		field, _ := json.Marshal([]any{meet, h.Division, s.Divisions[h.Division].Stages[h.Stage-1].RaceUS})
		out = append(out, forecast.Shown{Field: string(field), Car: string(s.Entries[r.Entry].Car), Value: float64(r.Figures.DistanceUM)})
	}
	return out
}
