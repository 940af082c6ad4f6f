package dayplan

import (
	"cmp"
	"maps"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// CutCode names what is left out of a day: that of [programme.Less], or one of these.
type CutCode string

// Cuts beside those of a form.
const (
	cutFewerRounds CutCode = "fewer-rounds" // as programme.Less names it

	CutLastStage  CutCode = "no-last-stage"   // the last stage, of a division that is not drawn
	CutAfterStage CutCode = "end-after-stage" // all behind the stage that is under way
	CutAfterRound CutCode = "end-after-round" // all behind the round that is drawn last
)

// Cut is something that can be left out of a day so that it ends earlier.
type Cut struct {
	Code     CutCode
	Division day.DivisionID
	// Stage is the one that is shortened, or behind which nothing comes.
	Stage int
	// FinishUS is when the last race is likely over then, SavesUS how much earlier that is.
	FinishUS, SavesUS int64
	// Entries is how many race less often than was planned, at most.
	Entries int
	// RunsBefore and RunsAfter are how often each child of the division races at least,
	// with what it has raced in already; both 0 where that is not known.
	RunsBefore, RunsAfter int
	// ByUS is when it is likely too late for it: when what it leaves out is drawn, or its
	// first round is; 0 where that is not known.
	ByUS int64
	// Now says that it can be carried out at this moment.
	Now bool
	// Stages is the programme of the division then, where it is carried out by changing
	// that; nothing where by ending the division.
	Stages []day.Stage
}

// lessener is a form that can do without something.
type lessener interface{ Less() []programme.Less }

// tabled is a form that ranks everybody after each of its rounds, so that it can end after
// any of them.
type tabled interface{ TableEachRound() bool }

// endsAfterRound says whether the last stage of a division is under way in rounds that each
// leave a table, and has more of them ahead: the division can be ended after the one that is
// drawn.
func endsAfterRound(s *day.State, d day.Division) bool {
	stage, round := s.Programmes[d.ID].Round()
	if stage == 0 || stage < len(d.Stages) || s.Programmes[d.ID].EndedEarly {
		return false
	}
	st, form := programme.FormOf(d, stage)
	ranks, can := st.Form.(tabled)
	return can && ranks.TableEachRound() && round < form.Rounds(s, d, stage)
}

// Cuts are what can be left out of the rest of a day by changing the programme of a
// division before its draw, or by ending it early, as far as the day ends a minute earlier
// for it, beside the day as it stands. What saves most comes first. It costs a play of the
// day for each.
func Cuts(s *day.State, nowUS, opensUS int64) ([]Cut, Plan) {
	rest, p := RestOf(s, nowUS, opensUS), Seen(s)
	c := cutting{s: s, nowUS: nowUS, opensUS: opensUS, pace: p, stands: Order(rest, p), rest: rest}
	for _, d := range s.SortedDivisions() {
		at := s.Programmes[d.ID]
		switch {
		case at.MergedInto != "" || at.EndedEarly:
		case len(at.Stages) == 0:
			c.undrawn(d)
		default:
			c.drawn(d)
		}
	}
	slices.SortStableFunc(c.out, func(a, b Cut) int { return cmp.Compare(b.SavesUS, a.SavesUS) })
	return c.out, c.stands
}

type cutting struct {
	s              *day.State
	nowUS, opensUS int64
	pace           Pace
	rest           Rest
	stands         Plan
	out            []Cut
}

// undrawn tries what the programme of a division can do without before its draw.
func (c *cutting) undrawn(d day.Division) {
	by := c.startOf(d.ID, 1, 1)
	for i, st := range d.Stages {
		form, can := st.Form.(lessener)
		if !can {
			continue
		}
		for _, cut := range form.Less() {
			less := d
			less.Stages = slices.Clone(d.Stages)
			less.Stages[i].Form = cut.Form
			c.try(Cut{Code: CutCode(cut.Code), Stage: i + 1, ByUS: by, Now: true, Stages: less.Stages}, d, less)
		}
	}
	if last := len(d.Stages); last > 1 {
		less := d
		less.Stages = d.Stages[:last-1]
		c.try(Cut{Code: CutLastStage, Stage: last, ByUS: by, Now: true, Stages: less.Stages}, d, less)
	}
}

// drawn tries an early end of a division that is under way.
func (c *cutting) drawn(d day.Division) {
	at := c.s.Programmes[d.ID]
	stage, round := at.Round()
	closed := len(at.OpenRounds(stage)) == 0
	if stage < len(d.Stages) {
		less := d
		less.Stages = d.Stages[:stage]
		_, form := programme.FormOf(d, stage)
		c.try(Cut{
			Code: CutAfterStage, Stage: stage, ByUS: c.startOf(d.ID, stage+1, 1), Now: closed && round == form.Rounds(c.s, d, stage),
		}, d, less)
	}
	if endsAfterRound(c.s, d) {
		c.try(Cut{Code: CutAfterRound, Stage: stage, ByUS: c.startOf(d.ID, stage, round+1), Now: closed}, d, d)
	}
}

// try keeps a cut that is sound and saves a minute.
func (c *cutting) try(cut Cut, d, less day.Division) {
	if programme.CheckDivision(less) != nil {
		return
	}
	other := *c.s
	other.Divisions = maps.Clone(c.s.Divisions)
	other.Divisions[d.ID] = less
	if cut.Code == CutAfterRound {
		other.Programmes = maps.Clone(c.s.Programmes)
		at := other.Programmes[d.ID]
		at.EndedEarly = true
		other.Programmes[d.ID] = at
	}
	plan := Order(RestOf(&other, c.nowUS, c.opensUS), c.pace)
	cut.Division, cut.FinishUS, cut.SavesUS = d.ID, plan.FinishUS, c.stands.FinishUS-plan.FinishUS
	if cut.SavesUS < worthUS {
		return
	}
	before, known := programme.SureRunsNow(c.s, d.ID)
	if known {
		after := programme.SureRunsWith(less, before.Entries)
		if slices.ContainsFunc(after.Stages, func(st programme.SureStage) bool { return st.Says != "" }) {
			return // it could not be drawn
		}
		cut.RunsBefore, cut.RunsAfter = before.Runs, after.Runs
		cut.Entries = before.Stages[min(cut.Stage, len(before.Stages))-1].Entries
		switch cut.Code {
		case CutAfterStage:
			cut.Entries = before.Stages[cut.Stage].Entries
		case CutAfterRound:
			_, round := c.s.Programmes[d.ID].Round()
			gone := before.Stages[cut.Stage-1].Runs - min(round, before.Stages[cut.Stage-1].Runs)
			cut.RunsAfter = max(0, before.Runs-gone)
		case "no-third-place": // the beaten semi-finalists
			cut.Entries = 2
		}
	}
	c.out = append(c.out, cut)
}

// startOf is when a round likely begins; 0 where that is not known.
func (c *cutting) startOf(division day.DivisionID, stage, number int) int64 {
	for i, r := range c.rest.Rounds {
		if r.Division == division && r.Stage == stage && r.Number == number {
			return c.stands.Rounds[i].StartUS
		}
	}
	return 0
}
