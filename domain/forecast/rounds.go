package forecast

import (
	"cmp"
	"math"
	"slices"
)

// placed is an entry with its place, from 1; equal places are shared.
type placed struct{ entry, place int }

// inOrder gives places 1, 2, 3, ... to a list of entries.
func inOrder(entries []int) []placed {
	out := make([]placed, len(entries))
	for i, e := range entries {
		out[i] = placed{e, i + 1}
	}
	return out
}

// timed races rounds in which each car runs once, dealt by lot into heats.
func (s Stage) timed(cars []int, lanes int, c *chance) ([]round, []placed) {
	values := make([][]float64, len(cars))
	points := make([]float64, len(cars))
	rounds := make([]round, 0, s.Rounds)
	for number := range s.Rounds {
		r := round{number: number + 1, race: s.Race, apart: true}
		dealt := c.random.Perm(len(cars))
		heats := (len(cars) + lanes - 1) / lanes
		for h := range heats {
			in := dealt[h*len(dealt)/heats : (h+1)*len(dealt)/heats]
			one := heat{races: 1}
			for _, e := range in {
				one.cars = append(one.cars, cars[e])
				values[e] = append(values[e], c.run(cars[e]))
			}
			order := slices.Clone(in)
			slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(values[b][number], values[a][number]) })
			for place, e := range order {
				points[e] += float64(lanes - place)
			}
			r.heats = append(r.heats, one)
		}
		rounds = append(rounds, r)
	}
	score := make([]float64, len(cars))
	for e, list := range values {
		switch {
		case s.Kind == PointsRounds:
			score[e] = points[e]
		case s.Rule == Mean:
			score[e] = mean(list)
		default:
			score[e] = slices.Max(list)
		}
	}
	order := make([]int, len(cars))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(score[b], score[a]), cmp.Compare(slices.Max(values[b]), slices.Max(values[a])))
	})
	return rounds, inOrder(order)
}

// mean of the runs with a result; a car without any is behind all.
func mean(list []float64) float64 {
	sum, n := 0.0, 0
	for _, v := range list {
		if !math.IsInf(v, 0) {
			sum += v
			n++
		}
	}
	if n == 0 {
		return math.Inf(-1)
	}
	return sum / float64(n)
}

// swiss pairs neighbours in points who have not met, from the top down; whoever is left
// over has the round off, with its point, once.
func (s Stage) swiss(cars []int, c *chance) ([]round, []placed) {
	n := len(cars)
	points, shown := make([]float64, n), make([]float64, n)
	met := make([]bool, n*n)
	off := make([]bool, n)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	better := func(a, b int) int {
		return cmp.Or(cmp.Compare(points[b], points[a]), cmp.Compare(shown[b], shown[a]), cmp.Compare(a, b))
	}
	rounds := make([]round, 0, s.Rounds)
	for number := range s.Rounds {
		if number > 0 {
			slices.SortFunc(order, better)
		}
		waiting := slices.Clone(order)
		if n%2 == 1 {
			at := len(waiting) - 1
			for at > 0 && off[waiting[at]] {
				at--
			}
			off[waiting[at]] = true
			points[waiting[at]]++
			waiting = slices.Delete(waiting, at, at+1)
		}
		r := round{number: number + 1, race: s.Race}
		for len(waiting) > 0 {
			a, with := waiting[0], 1
			if number == 0 {
				with = len(waiting) / 2 // the upper half meets the lower one
			}
			for k := with; k < len(waiting); k++ {
				if !met[a*n+waiting[k]] {
					with = k
					break
				}
			}
			b := waiting[with]
			waiting = append(waiting[1:with:with], waiting[with+1:]...)
			met[a*n+b], met[b*n+a] = true, true
			va, vb := c.run(cars[a]), c.run(cars[b])
			if !math.IsInf(va, 0) {
				shown[a] += va
			}
			if !math.IsInf(vb, 0) {
				shown[b] += vb
			}
			if va >= vb {
				points[a]++
			} else {
				points[b]++
			}
			r.heats = append(r.heats, heat{cars: []int{cars[a], cars[b]}, races: 1})
		}
		rounds = append(rounds, r)
	}
	slices.SortFunc(order, better)
	return rounds, inOrder(order)
}
