package timetable_test

import (
	"fmt"
	"math/rand/v2"

	"benchmeet/domain/timetable"
)

// shape is a made-up meet. It is drawn by rapid or from a seed.
type shape struct {
	entries, benches, lanes, rounds int
	race, change, rest              int
	referees, outages               int
	named, ordered, knockout        bool
	divisions                       int
	seed                            uint64
}

// meet makes the day of a shape: for each division rounds of heats in which every
// entry races once, drawn by lot, and then a knockout whose heats wait for those
// from which their cars come.
func meet(s shape) timetable.Problem {
	r := rand.New(rand.NewPCG(s.seed, 1))
	p := timetable.Problem{Rest: timetable.Rest{Default: s.rest}}
	bench := timetable.Resource{Name: "bench", Capacity: s.benches}
	for k := range s.benches {
		bench.Units = append(bench.Units, fmt.Sprint("b", k+1))
	}
	p.Resources = []timetable.Resource{bench, {Name: "referee", Capacity: s.referees}}
	heat := func(id string, lanes int, entries, after []string) {
		p.Activities = append(p.Activities, timetable.Activity{
			ID: id, Duration: s.race + s.change, Needs: map[string]int{"bench": lanes, "referee": 1}, Entries: entries, After: after,
		})
	}
	for d := range s.divisions {
		size := s.entries / s.divisions
		var all, last []string
		for round := range s.rounds {
			order := r.Perm(size)
			var heats []string
			for from := 0; from < size; from += s.lanes {
				var cars []string
				for _, e := range order[from:min(size, from+s.lanes)] {
					cars = append(cars, fmt.Sprintf("E%d.%d", d, e))
				}
				id := fmt.Sprintf("D%d.%d.%d", d, round+1, from/s.lanes+1)
				var after []string
				if s.ordered {
					after = last
				}
				heat(id, len(cars), cars, after)
				heats = append(heats, id)
			}
			last = heats
			all = append(all, heats...)
		}
		if !s.knockout {
			continue
		}
		// All heats of the rounds are over before the knockout; its losers go home.
		p.Activities = append(p.Activities, timetable.Activity{ID: fmt.Sprintf("D%d.drawn", d), Duration: s.rest, After: all})
		before := []string{}
		for n := 8; n >= 1; n /= 2 {
			if 2*n > size {
				continue
			}
			var heats []string
			for k := range n {
				after := []string{fmt.Sprintf("D%d.drawn", d)}
				if len(before) > 0 {
					after = before[2*k : 2*k+2]
				}
				id := fmt.Sprintf("D%d.K%d.%d", d, n, k+1)
				heat(id, 2, nil, after)
				heats = append(heats, id)
			}
			before = heats
		}
	}
	day := 0
	for _, a := range p.Activities {
		day += a.Duration * max(1, a.Needs["bench"])
	}
	day = day/s.benches + 1
	for k := range s.outages {
		from := r.IntN(day)
		to := from + 1 + r.IntN(max(1, day/4))
		o := timetable.Outage{Resource: "bench", Amount: 1, From: from, To: &to}
		if s.named {
			o.Unit = bench.Units[(k*3)%s.benches]
		}
		p.Outages = append(p.Outages, o)
	}
	return p
}
