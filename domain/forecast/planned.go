package forecast

import (
	"cmp"
	"math"
	"slices"

	"benchmeet/bracket"
)

// planned is a stage whose heats were laid out by a draw.
type planned struct {
	stage Stage
	draw  *bracket.Draw
	lanes int
	// groupsEnd is the round, from 0 on, after which all groups are over; -1 for none.
	groupsEnd int
}

func newPlanned(s Stage, draw *bracket.Draw, lanes int) planned {
	p := planned{stage: s, draw: draw, lanes: lanes, groupsEnd: -1}
	if draw == nil {
		return p
	}
	for i, r := range draw.Rounds {
		if slices.ContainsFunc(r.Heats, func(h bracket.Heat) bool { return h.Group != "" }) {
			p.groupsEnd = i
		}
	}
	return p
}

// following is a planned stage as one sample plays it; entries are the draw's numbers.
type following struct {
	planned
	cars    []int
	chance  *chance
	results bracket.Results
	// points and shown are what the entries won and the mean of what they showed.
	points, shown []float64
	races         []int
}

// play races the stage for the cars, in the order of their seeds, and returns the
// rounds and the draw's numbers from first to last, each with its place.
func (p planned) play(cars []int, c *chance) (rounds []round, order []placed) {
	f := &following{planned: p, cars: cars, chance: c}
	f.results = bracket.Results{Heats: map[string][]int{}, Groups: map[string][]int{}, NextBest: map[int][]int{}}
	f.points, f.shown, f.races = make([]float64, len(cars)), make([]float64, len(cars)), make([]int, len(cars))
	for i, r := range p.draw.Rounds {
		played := round{number: r.Number, race: p.stage.Race}
		byID := map[string]bracket.HeatView{}
		for _, v := range p.draw.Follow(f.results) {
			if v.Round == r.Number && v.State == bracket.Ready {
				byID[v.ID] = v
			}
		}
		values := map[int]float64{}
		for _, h := range r.Heats {
			if v, ready := byID[h.ID]; ready {
				played.heats = append(played.heats, f.race(v, values))
			}
		}
		if len(played.heats) > 0 {
			rounds = append(rounds, played)
		}
		f.settle(i, values)
	}
	return rounds, f.order()
}

// race runs one heat and notes its order.
func (f *following) race(v bracket.HeatView, values map[int]float64) heat {
	h := heat{races: 1}
	var in []int
	for _, e := range v.Lanes {
		if e >= 0 {
			in = append(in, e)
			h.cars = append(h.cars, f.cars[e])
		}
	}
	order := f.once(in, values)
	if f.draw.Legs == 2 && len(in) == 2 {
		second := f.once(in, values)
		h.races = 2
		if second[0] != order[0] {
			order = f.once(in, values)
			h.races = 3
		}
	}
	f.results.Heats[v.ID] = order
	f.points[order[0]]++
	return h
}

// once is one run of all in the heat, best first; those without a result keep the
// order of their lanes, which lots gave.
func (f *following) once(in []int, values map[int]float64) []int {
	got := make(map[int]float64, len(in))
	for _, e := range in {
		got[e] = f.chance.run(f.cars[e])
		values[e] = got[e]
		f.races[e]++
		if !math.IsInf(got[e], 0) {
			f.shown[e] += got[e]
		}
	}
	order := slices.Clone(in)
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(got[b], got[a]) })
	return order
}

// settle gives the orders that later rounds ask for: of groups once they are over, and
// of the next best of a round.
func (f *following) settle(i int, values map[int]float64) {
	r := f.draw.Rounds[i]
	if i == f.groupsEnd {
		var next []int
		for _, g := range f.draw.Groups {
			order := slices.Clone(g.Entries)
			slices.SortStableFunc(order, f.better)
			f.results.Groups[g.Name] = order
			if place := f.stage.Advance; place < len(order) {
				next = append(next, order[place])
			}
		}
		slices.SortStableFunc(next, f.better)
		f.results.NextBest[0] = next
	}
	if f.stage.Kind == Heats {
		var next []int
		for _, h := range r.Heats {
			if order := f.results.Heats[h.ID]; len(order) > f.stage.Advance {
				next = append(next, order[f.stage.Advance:]...)
			}
		}
		slices.SortStableFunc(next, func(a, b int) int { return cmp.Compare(values[b], values[a]) })
		f.results.NextBest[r.Number] = next
	}
}

// better ranks by points, then by what was shown on average.
func (f *following) better(a, b int) int {
	mean := func(e int) float64 { return f.shown[e] / float64(max(1, f.races[e])) }
	return cmp.Or(cmp.Compare(f.points[b], f.points[a]), cmp.Compare(mean(b), mean(a)))
}

// order is the final order of the stage.
func (f *following) order() []placed {
	switch f.stage.Kind {
	case Knockout, DoubleElimination:
		return f.placings(f.draw.Placings(f.results))
	case Groups:
		if f.stage.Advance > 0 {
			return f.behindGroups()
		}
		return f.byGroups()
	case Heats:
		return f.byHeats()
	}
	all := f.all()
	slices.SortStableFunc(all, f.better)
	return inOrder(all)
}

func (f *following) all() []int {
	all := make([]int, len(f.cars))
	for i := range all {
		all[i] = i
	}
	return all
}

// placings takes over the places of a tree; those knocked out in one round share theirs.
func (f *following) placings(list []bracket.Placing) []placed {
	out := make([]placed, 0, len(list))
	for _, p := range list {
		out = append(out, placed{p.Entry, p.Rank})
	}
	return out
}

// byGroups ranks the firsts of all groups, then the seconds, and so on.
func (f *following) byGroups() []placed {
	all := f.all()
	place := f.groupPlaces()
	slices.SortStableFunc(all, func(a, b int) int { return cmp.Or(cmp.Compare(place[a], place[b]), f.better(a, b)) })
	return inOrder(all)
}

// behindGroups ranks those of the knockout by it, then the others by their groups.
func (f *following) behindGroups() []placed {
	var out []placed
	in := map[int]bool{}
	for _, p := range f.draw.Placings(f.results) {
		out = append(out, placed{p.Entry, p.Rank})
		in[p.Entry] = true
	}
	for _, p := range f.byGroups() {
		if !in[p.entry] {
			out = append(out, placed{p.entry, len(out) + 1})
		}
	}
	return out
}

func (f *following) groupPlaces() map[int]int {
	place := map[int]int{}
	for _, order := range f.results.Groups {
		for i, e := range order {
			place[e] = i
		}
	}
	return place
}

// byHeats ranks by the last round in which somebody raced, the later the better, in it
// by the order of the final or by what was shown on average. A B final counts before
// those who were in none.
func (f *following) byHeats() []placed {
	far := make([]int, len(f.cars))
	within := make([]int, len(f.cars))
	for i, r := range f.draw.Rounds {
		for _, h := range r.Heats {
			for at, e := range f.results.Heats[h.ID] {
				far[e], within[e] = 2*i+2, 0
				if i == len(f.draw.Rounds)-1 {
					within[e] = at
					if len(r.Heats) > 1 && h.Purpose != bracket.Final {
						far[e]-- // the B final
					}
				}
			}
		}
	}
	all := f.all()
	slices.SortStableFunc(all, func(a, b int) int {
		return cmp.Or(cmp.Compare(far[b], far[a]), cmp.Compare(within[a], within[b]), f.better(a, b))
	})
	return inOrder(all)
}
