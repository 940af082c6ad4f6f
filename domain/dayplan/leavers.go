package dayplan

import (
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// usualGoneHours is in how many hours of a child at the meet one goes home before its division
// is through: about one of thirty on an afternoon (engineering judgement). It counts as much
// as goneChildren who were seen to go: some meets lose none and some lose many, so that the
// first who go are soon believed.
const (
	usualGoneHours = 100
	goneChildren   = 0.25
)

// leavers are the children who went home early so far, and how long all were there since the
// first call, in µs.
type leavers struct {
	gone   int
	hereUS int64
}

// seenLeaving counts the children who withdrew after the first call of the day. Who goes
// before it never was in the plan of that day.
func seenLeaving(s *day.State, firstUS int64) (out leavers) {
	if firstUS == 0 {
		return out
	}
	went := map[day.EntryID]int64{}
	for _, r := range s.Rulings {
		if r.Kind == (day.EntryWithdrawn{}).Type() {
			went[r.Entry] = r.AtUS
		}
	}
	for _, e := range s.Entries {
		until := s.TimeUS
		if e.Withdrawn {
			until = went[e.ID]
		}
		if !e.CheckedIn || e.Disqualified || until < firstUS {
			continue
		}
		out.hereUS += until - firstUS
		if e.Withdrawn {
			out.gone++
		}
	}
	return out
}

// draw draws when each car's child goes home in a play, in which they go at one rate all day:
// a gamma number, as is believed by what was seen (A. Gelman and others, "Bayesian Data
// Analysis", 3rd edition 2013, section 2.6).
func (l leavers) draw(r *Rest, out []int64, random *rand.Rand) []int64 {
	rate := distuv.Gamma{
		Alpha: goneChildren + float64(l.gone), Beta: goneChildren*usualGoneHours + float64(l.hereUS)/float64(hourUS), Src: random,
	}.Rand() / float64(hourUS)
	out = out[:0]
	for range r.cars {
		out = append(out, r.AtUS+int64(min(random.ExpFloat64()/rate, float64(never/4))))
	}
	return out
}

// fields puts in which cars each division has.
func (g *gathering) fields() {
	g.rest.fields = map[day.DivisionID][]int{}
	seen := map[day.DivisionID]map[int]bool{}
	for _, e := range g.s.SortedEntries("") {
		host := programme.Host(g.s, e.Division)
		if car := g.car(e.ID); e.Racing() && !seen[host][car] {
			if seen[host] == nil {
				seen[host] = map[int]bool{}
			}
			seen[host][car] = true
			g.rest.fields[host] = append(g.rest.fields[host], car)
		}
	}
}

// here is how many of some cars are still there.
func (g *game) here(cars []int) (n int) {
	for _, c := range cars {
		if g.gone[c] > g.now {
			n++
		}
	}
	return n
}

// deserted says whether a heat is not raced because children have gone home: all of it, or all
// but one where that one need not race.
func (g *game) deserted(i int) bool {
	h, cars := &g.r.Heats[i], g.riders[i]
	if h.again || len(cars) == 0 { // the first goes with the heat that it is a further race of
		return false
	}
	here := g.here(cars)
	return here == 0 || here == 1 && len(cars) > 1 && h.walkover
}

// lanes is how many benches a heat needs at once, of those who are still there.
func (g *game) lanes(i int) int {
	h, cars := &g.r.Heats[i], g.riders[i]
	if len(g.gone) == 0 || h.Turns > 1 || h.again || len(cars) == 0 {
		return h.Lanes
	}
	return max(1, min(h.Lanes, g.here(cars)))
}

// deal deals who is still there of a division out to the heats of a round, as it is drawn, and
// leaves out the heats for which nobody is left. It does so only where everybody is in the
// round: who has lost in a knockout may go, and its winners stay for the final. Who is in which
// heat does not matter, for all go alike.
func (g *game) deal(at int) {
	round := &g.r.Rounds[at]
	field := g.r.fields[round.Division]
	var first []int
	seats, walkover := 0, false
	for _, i := range round.Heats {
		h := &g.r.Heats[i]
		if len(h.cars) > 0 || h.Possible || h.again || h.Leg > 1 {
			continue
		}
		first, walkover = append(first, i), h.walkover
		seats += h.Lanes * h.Turns
	}
	if len(first) == 0 || seats < len(field)-1 {
		return
	}
	here := make([]int, 0, len(field))
	for _, c := range field {
		if g.gone[c] > g.now {
			here = append(here, c)
		}
	}
	width := (seats + len(first) - 1) / len(first)
	heats := (len(here) + width - 1) / width
	if walkover {
		heats = len(here) / width
	}
	heats = min(heats, len(first))
	for n, i := range first {
		if n < heats {
			size := width
			if !walkover {
				size = (len(here) + heats - n - 1) / (heats - n)
			}
			g.riders[i], here = here[:size], here[size:]
		}
	}
	for _, i := range round.Heats {
		h := &g.r.Heats[i]
		switch {
		case len(h.cars) > 0 || h.again:
		case h.Number > heats:
			g.leaveOut(i)
		case h.Leg > 1:
			g.riders[i] = g.riders[first[h.Number-1]]
		}
	}
}

// leaveOut takes a heat out of a play, and what would be raced again of it.
func (g *game) leaveOut(i int) {
	for _, k := range []int{i, i + len(g.r.Heats)/2} {
		if k < len(g.r.Heats) && g.len.left[k] {
			g.len.left[k] = false
			g.left[g.r.Heats[k].Round]--
		}
	}
}
