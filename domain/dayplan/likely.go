package dayplan

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"benchmeet/domain/day"
)

// Samples is how often the rest of a day is usually played for a forecast.
const Samples = 400

// decidersNeeded is how often results make a second final or the decider of two legs
// needful: two about equal cars need one in half of all cases, and cars are not equal
// (engineering judgement).
const decidersNeeded = 0.4

// usualAgain is the part of lanes that are raced again, priorLanes as how many lanes it
// counts beside those that were seen (common practice).
const (
	usualAgain = 0.02
	priorLanes = 50
)

// Forecast is how the rest of a day may go, over many plays of it.
type Forecast struct {
	// Finish are the ends of the last race in all plays, the earliest first, in µs.
	Finish []int64
	// Starts are those of the first call of each round, in the order of Rest.Rounds; none
	// for a round that no play has.
	Starts [][]int64
}

// Likely plays the rest of a day so many times: each time a day as it may be by what was
// seen of it (a belief), with lengths that scatter from heat to heat, races that are
// repeated, deciders, pauses that nobody planned, benches that fail, and a desk that waits
// for the benches of the next heat or passes it over. The same rest, pace, samples and seed
// give the same forecast. A play of 300 heats costs about as much as [Order].
func Likely(r Rest, p Pace, samples int, seed uint64) Forecast {
	random := rand.New(rand.NewPCG(seed, 0x6461_7970_6c61_6e21))
	told := r.telling(p)
	r = withAgain(r)
	inService := len(r.Benches)
	if inService > 0 {
		for _, out := range r.Out {
			r.Benches = append(slices.Clip(r.Benches), out.Bench)
		}
	}
	g := newGame(&r)
	g.quiet, g.telling = true, told
	l := meanLengths(&r, p)
	mean := meanLengths(&r, p)
	out := Forecast{Starts: make([][]int64, len(r.Rounds))}
	first := make([]int64, len(r.Rounds))
	b := newBelief(&r, p.seen)
	for range samples {
		p.draw(&r, b.draw(random), mean, l, random)
		g.breaks = breaks(&r, g.breaks, random)
		g.back = backs(&r, g.back, inService, random)
		g.telling.draw(&r, random)
		g.gone = p.leavers.draw(&r, g.gone, random)
		g.way = []way{inTurn, passing}[random.IntN(2)]
		g.run(l)
		finish := r.AtUS
		clear(first)
		for _, i := range g.called {
			finish = max(finish, g.end[i])
			if h := &r.Heats[i]; h.Waits() && (first[h.Round] == 0 || g.start[i] < first[h.Round]) {
				first[h.Round] = g.start[i]
			}
		}
		stops := pauses(&r, finish, random)
		stops.desk = scatter(random, desksDiffer)
		out.Finish = append(out.Finish, stops.shift(finish))
		for k, at := range first {
			if at > 0 {
				out.Starts[k] = append(out.Starts[k], stops.shift(at))
			}
		}
	}
	slices.Sort(out.Finish)
	for _, starts := range out.Starts {
		slices.Sort(starts)
	}
	return out
}

// withAgain gives each heat a further race of one of its cars behind it, which a play may
// or may not have.
func withAgain(r Rest) Rest {
	out := r
	out.Rounds = slices.Clone(r.Rounds)
	out.Heats = slices.Clone(r.Heats)
	for i, h := range r.Heats {
		again := h
		again.Phase, again.On, again.After, again.again = day.PhaseDrawn, nil, i, true
		again.Lanes, again.Turns, again.Possible, again.NotBeforeUS = min(1, h.Lanes), 1, true, 0
		round := &out.Rounds[h.Round]
		round.Heats = append(slices.Clip(round.Heats), len(out.Heats))
		out.Heats = append(out.Heats, again)
	}
	return out
}

// draw draws the lengths of one play.
func (p Pace) draw(r *Rest, t today, mean, l lengths, random *rand.Rand) {
	again := distuv.Beta{
		Alpha: usualAgain*priorLanes + float64(p.Again), Beta: (1-usualAgain)*priorLanes + float64(p.Lanes-p.Again), Src: random,
	}.Rand()
	calls := map[day.DivisionID]float64{}
	for _, x := range r.Rounds {
		if _, there := calls[x.Division]; !there {
			calls[x.Division] = p.Crowd * t.length(callKind, x.Division)
		}
	}
	post, change, draw := t.length(postKind, ""), p.Crowd*t.length(changeKind, ""), t.length(drawKind, "")
	for i := range r.Heats {
		h := &r.Heats[i]
		l.left[i] = true
		switch {
		case h.again:
			l.left[i] = l.left[h.After] && random.Float64() < 1-math.Pow(1-again, float64(r.Heats[h.After].Lanes))
		case h.Possible:
			l.left[i] = random.Float64() < decidersNeeded
		}
		call := calls[r.Rounds[h.Round].Division]
		for k := range l.change[i] { // each bench has hands of its own
			l.change[i][k] = t.about(change, changeKind, random)
		}
		called, posted := t.about(call, callKind, random), t.about(post, postKind, random)
		l.heats[i] = int64(h.Turns) * (called + h.RaceUS + posted)
		switch h.Phase {
		case day.PhaseCalled:
			gone := r.AtUS - h.CalledUS
			for try := 0; called <= gone && try < 20; try++ {
				called = t.about(call, callKind, random)
			}
			l.heats[i] = max(called-gone, int64(call/8)) + h.RaceUS + posted + int64(h.Turns-1)*(called+h.RaceUS+posted)
		case day.PhaseRacing:
			l.heats[i] = int64(h.Turns-1)*(called+h.RaceUS+posted) + max(h.RaceUS-(r.AtUS-h.StartedUS), 0) + posted
		}
	}
	for i := range r.Rounds {
		l.firsts[i] = t.about(draw, drawKind, random)
		wait := min(mean.draws[i], p.ProtestUS)
		if r.Rounds[i].Apart {
			l.draws[i] = t.about(draw/2, drawKind, random)
			continue
		}
		l.draws[i] = wait + t.about(draw, drawKind, random)
	}
}

// At is the instant before which so many of a hundred ends lie; 0 without any.
func (f Forecast) At(percent int) int64 { return quantile(f.Finish, percent) }

// StartAt is the same of the first call of a round.
func (f Forecast) StartAt(round, percent int) int64 { return quantile(f.Starts[round], percent) }

func quantile(sorted []int64, percent int) int64 {
	if len(sorted) == 0 {
		return 0
	}
	return sorted[min(len(sorted)-1, len(sorted)*percent/100)]
}

// LateChance is the part of plays that end after an instant.
func (f Forecast) LateChance(byUS int64) float64 {
	at, _ := slices.BinarySearch(f.Finish, byUS+1)
	return float64(len(f.Finish)-at) / float64(max(1, len(f.Finish)))
}
