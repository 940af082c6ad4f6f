package forecast

// programme is a division with the draws of its stages laid out.
type programme struct {
	Division
	stages []planned
}

// layOut draws the stages of a division; an error says which stage does not fit.
func layOut(d Division, benches int) (programme, error) {
	p := programme{Division: d}
	there := d.Entries
	for i, s := range d.Stages {
		n := s.field(there)
		lanes := s.lanes(benches, n)
		draw, err := s.draw(n, lanes)
		if err != nil {
			return programme{}, refusef("stage %d of division %q: %w", i+1, d.ID, err)
		}
		p.stages = append(p.stages, newPlanned(s, draw, lanes))
		there = n
	}
	return p, nil
}

// race plays all stages of the division. Who does not go on keeps the place behind all
// who do.
func (p programme) race(c *chance) raced {
	out := startFrom(p.Entries)
	cars := make([]int, p.Entries)
	for i := range cars {
		cars[i] = i
	}
	for i, stage := range p.stages {
		n := stage.stage.field(len(cars))
		in := cars[:n]
		var rounds []round
		var order []placed
		switch {
		case stage.draw != nil:
			rounds, order = stage.play(in, c)
		case stage.stage.Kind == Swiss:
			rounds, order = stage.stage.swiss(in, c)
		default:
			rounds, order = stage.stage.timed(in, stage.lanes, c)
		}
		for k := range rounds {
			rounds[k].stage = i + 1
			// The first round of a stage waits for the stage before.
			rounds[k].apart = rounds[k].apart && k > 0
			for _, h := range rounds[k].heats {
				for _, car := range h.cars {
					out.runs[car] += h.races
				}
			}
		}
		out.rounds = append(out.rounds, rounds...)
		cars = out.place(in, order)
	}
	return out
}

// place notes the places of a stage, which names all of its cars, and returns them in
// their order.
func (r *raced) place(cars []int, order []placed) []int {
	next := make([]int, 0, len(cars))
	for _, p := range order {
		next = append(next, cars[p.entry])
	}
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && order[j].place == order[i].place {
			j++
		}
		for k := i; k < j; k++ {
			r.places[next[k]] = float64(i+1+j) / 2
		}
		i = j
	}
	return next
}
