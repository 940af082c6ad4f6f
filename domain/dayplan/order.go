package dayplan

import (
	"slices"

	"benchmeet/domain/day"
)

// Plan is the rest of a day as it will likely go.
type Plan struct {
	// Heats are in the order of Rest.Heats.
	Heats []Slot
	// Rounds are in the order of Rest.Rounds.
	Rounds []Span
	// FinishUS is when the last heat that is not only possible is posted; the instant of
	// the plan where nothing is left.
	FinishUS int64
	// HoldsUp is what makes the day as long as it is.
	HoldsUp Cause
}

// Slot is where a heat stands in a plan. Instants are in µs; all are 0 for a heat that is
// not planned: a decider that is only possible, or any heat while no bench is in service.
type Slot struct {
	// CallUS is when it is called, EndUS when it is posted.
	CallUS, EndUS int64
	// Ahead is how many heats are called before it.
	Ahead int
	// Benches are those on which it stands, or is likely to.
	Benches []day.BenchID
	// Why is what it waited for last before its call.
	Why Cause
}

// Span is when a round likely begins and ends; 0 and 0 for one that is not planned.
type Span struct{ StartUS, EndUS int64 }

// Cause is what a heat waits for.
type Cause struct {
	Code CauseCode
	// Round is the position of the round that is waited for, with CauseRound.
	Round int
	// Heat is the position of the heat that is waited for; -1 where it is none.
	Heat int
	// Entry is the one whose car is in it or rests from it, with CauseCar.
	Entry day.EntryID
	// Task is the one that is waited for, with CauseTask.
	Task day.TaskKind
	// ForUS is how much of the rest of the day goes by for it, in the cause of a plan.
	ForUS int64
}

// CauseCode says what kind of thing a heat waits for.
type CauseCode string

// Causes.
const (
	CauseNothing    CauseCode = ""           // it can be called now
	CauseBenches    CauseCode = "benches"    // others have the benches
	CauseCar        CauseCode = "car"        // a car is in another heat, or rests
	CauseRound      CauseCode = "round"      // a round before has to be raced and closed
	CauseTold       CauseCode = "told"       // it was told to be later
	CauseLeg        CauseCode = "leg"        // the leg before
	CauseInspection CauseCode = "inspection" // its cars are not through the inspection, in a rehearsed day
	CauseTask       CauseCode = "task"       // a task of the day, or a lunch of one of its children
)

// Order plans the rest of a day in the order that stands, every length as likely as it is.
func Order(r Rest, p Pace) Plan {
	g := newGame(&r)
	g.run(meanLengths(&r, p))
	return g.plan(&r)
}

// lengths are how long what is left takes, in µs.
type lengths struct {
	// heats is how long each heat has its benches from its call on, or from now on where
	// it was called.
	heats []int64
	// change is how long each of its benches then stands until it is ready for the next call.
	change [][]int64
	// draws is how long each round waits after those before it, firsts how long where there
	// are none.
	draws, firsts []int64
	// left says which heats are raced at all.
	left []bool
}

func meanLengths(r *Rest, p Pace) lengths {
	l := lengths{
		heats: make([]int64, len(r.Heats)), change: make([][]int64, len(r.Heats)), left: make([]bool, len(r.Heats)),
		draws: make([]int64, len(r.Rounds)), firsts: make([]int64, len(r.Rounds)),
	}
	for i, h := range r.Heats {
		round := r.Rounds[h.Round]
		l.left[i] = !h.Possible || round.Possible
		l.change[i] = slices.Repeat([]int64{p.ChangeUS}, max(1, h.Lanes, len(h.On)))
		l.heats[i] = p.heatUS(round.Division, h)
		switch h.Phase {
		case day.PhaseCalled:
			call := p.Call(round.Division)
			l.heats[i] += max(call-(r.AtUS-h.CalledUS), call/8) - call
		case day.PhaseRacing:
			race := h.RaceUS + p.PostUS
			l.heats[i] += max(race-(r.AtUS-h.StartedUS), p.PostUS/2) - race - p.Call(round.Division)
		}
	}
	for i := range r.Rounds {
		l.draws[i], l.firsts[i] = p.DrawUS, usualDrawUS
		if r.Rounds[i].Apart {
			l.draws[i] = usualDrawUS / 2
		}
	}
	return l
}

// plan writes down what a game gave.
func (g *game) plan(r *Rest) Plan {
	out := Plan{Heats: make([]Slot, len(r.Heats)), Rounds: make([]Span, len(r.Rounds)), FinishUS: r.AtUS}
	last := -1
	for n, i := range g.called {
		h := r.Heats[i]
		slot := Slot{CallUS: g.start[i], EndUS: g.end[i], Ahead: n - g.standing, Why: g.why[i]}
		if !h.Waits() {
			slot.CallUS, slot.Ahead = h.CalledUS, 0
		}
		for _, b := range g.on[i] {
			slot.Benches = append(slot.Benches, r.Benches[b])
		}
		if !h.Waits() {
			slot.Benches = h.On
		}
		out.Heats[i] = slot
		span := &out.Rounds[h.Round]
		if span.StartUS == 0 || slot.CallUS < span.StartUS {
			span.StartUS = slot.CallUS
		}
		span.EndUS = max(span.EndUS, slot.EndUS)
		if slot.EndUS > out.FinishUS && !h.Possible {
			out.FinishUS, last = slot.EndUS, i
		}
	}
	out.HoldsUp = g.holdsUp(r, last)
	return out
}

// holdsUp goes back from the last heat over what each waited for, and says for what most of
// the time went by.
func (g *game) holdsUp(r *Rest, last int) Cause {
	type kind struct {
		code     CauseCode
		division day.DivisionID
		entry    day.EntryID
		task     day.TaskKind
	}
	spent, first := map[kind]int64{}, map[kind]Cause{}
	best := Cause{Heat: -1}
	for steps := 0; last >= 0 && steps <= len(r.Heats); steps++ {
		why := g.why[last]
		k := kind{code: why.Code, entry: why.Entry, task: why.Task}
		if why.Code == CauseRound {
			k.division = r.Rounds[r.Heats[last].Round].Division
		}
		from := r.AtUS
		if why.Heat >= 0 {
			from = g.start[why.Heat]
		}
		if why.Code == CauseTask {
			from = max(from, r.behind(why.Task, g.start[last]))
		}
		if _, seen := first[k]; !seen {
			first[k] = why
		}
		spent[k] += g.start[last] - max(from, r.AtUS)
		if c := first[k]; k.code != CauseNothing && spent[k] > best.ForUS {
			c.ForUS = spent[k]
			best = c
		}
		last = why.Heat
	}
	return best
}
