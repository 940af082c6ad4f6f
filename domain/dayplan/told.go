package dayplan

import (
	"math/rand/v2"
	"slices"
)

// ToldStepUS is the step in which times are told, in µs: five minutes.
const ToldStepUS = 300 * secondUS

// ToldDown is an instant as it is promised: the last step that is not after it.
func ToldDown(us int64) int64 { return us - us%ToldStepUS }

// ToldUp is an instant as an end is named: the first step that is not before it.
func ToldUp(us int64) int64 { return ToldDown(us + ToldStepUS - 1) }

// ToldAbout is an instant as a likely time is shown: the nearest step.
func ToldAbout(us int64) int64 { return ToldDown(us + ToldStepUS/2) }

// usualTellUS is how long a desk that tells times at all waits on average until it tells them
// anew (common practice: every half hour, or when they have moved); it counts as tellGaps that
// were seen.
const (
	usualTellUS = 1800 * secondUS
	tellGaps    = 2
)

// paceAfterUS is how much of a day counts as known before it begins where its pace is told from how
// late it is: about the time of priorHeats.
const paceAfterUS = 1200 * secondUS

// lookBack is of how many heats that were called last a desk takes how late the day is.
const lookBack = 5

// told puts in what was told of the rounds and heats, and which heats are held.
func (g *gathering) told() {
	if t := g.s.Told; t != nil {
		g.rest.tellUS = (tellGaps*usualTellUS + t.AtUS - t.FirstUS) / int64(tellGaps+t.Times-1)
	}
	for i := range g.rest.Rounds {
		r := &g.rest.Rounds[i]
		r.NotBeforeUS = g.s.RoundPromise(r.Division, r.Stage, r.Number).NotBeforeUS
	}
	for i := range g.rest.Heats {
		h := &g.rest.Heats[i]
		if !h.Drawn || !h.Waits() {
			continue
		}
		h.NotBeforeUS = max(g.s.HeatPromise(g.s.Heats[h.ID]).NotBeforeUS, g.s.Held[h.ID])
	}
}

// promisedUS is an instant before which a heat is not called.
func (r *Rest) promisedUS(h *Heat) int64 {
	if h.Drawn {
		return h.NotBeforeUS
	}
	return r.Rounds[h.Round].NotBeforeUS
}

// telling is what a desk will tell in a play. Once told, a time holds the heats of a quick day
// back: a day is never quicker than what its families were told, and a desk that tells times
// tells them again, as its plan then is. That plan is taken to be the one of now, later or
// earlier by as much as the last heats of the play were, and where they were early what is
// left of it shorter at their pace. A slow day is planned no slower than it was: what is told
// late holds nobody back.
type telling struct {
	// planned is when each heat is called by the plan of now, rounds when each round begins;
	// 0 where it is not in it.
	planned, rounds []int64
	// at are the instants of the play at which times are told, those that are left.
	at []int64
	// not is before when each heat is not called, by what was told in the play.
	not []int64
}

// telling is what is planned now, of which a desk will tell; nothing where it tells no times.
func (r *Rest) telling(p Pace) (out telling) {
	if r.tellUS == 0 {
		return out
	}
	plan := Order(*r, p)
	for _, s := range plan.Heats {
		out.planned = append(out.planned, s.CallUS)
	}
	for _, s := range plan.Rounds {
		out.rounds = append(out.rounds, s.StartUS)
	}
	out.not = make([]int64, len(plan.Heats))
	return out
}

// draw draws when times are told in a play.
func (t *telling) draw(r *Rest, random *rand.Rand) {
	clear(t.not)
	t.at = t.at[:0]
	if len(t.planned) == 0 {
		return
	}
	const most = 20
	for at := r.AtUS; len(t.at) < most; {
		at += int64(random.ExpFloat64() * float64(r.tellUS))
		t.at = append(t.at, at)
	}
}

// tell tells times in a play, where that is due.
func (g *game) tell() {
	t := &g.telling
	if len(t.at) == 0 || t.at[0] > g.now {
		return
	}
	for len(t.at) > 0 && t.at[0] <= g.now {
		t.at = t.at[1:]
	}
	var late []int64
	for k := len(g.called) - 1; k >= g.standing && len(late) < lookBack; k-- {
		if i := g.called[k]; i < len(t.planned) && t.planned[i] > 0 {
			late = append(late, g.start[i]-t.planned[i])
		}
	}
	by := int64(0)
	if len(late) > 0 {
		slices.Sort(late)
		by = late[len(late)/2]
	}
	// A desk plans again before it tells: what makes the day quick so far goes on, as far as it has shown.
	pace := 0.0
	if gone := g.now - g.r.AtUS; gone > 0 && by < 0 {
		pace = float64(by) / float64(gone+paceAfterUS)
	}
	for k := range g.lines {
		for n, at := range g.lines[k].rounds {
			for _, i := range g.r.Rounds[at].Heats {
				if i >= len(t.planned) || g.end[i] > 0 || t.planned[i] == 0 {
					continue
				}
				likely := t.rounds[at]
				if n < g.lines[k].open {
					likely = t.planned[i]
				}
				likely += by
				likely += int64(pace * float64(max(0, likely-g.now))) // what is left until then, at that pace
				t.not[i] = max(t.not[i], ToldDown(likely))
			}
		}
	}
}
