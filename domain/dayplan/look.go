package dayplan

import (
	"maps"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// Supposed is what a day would be like otherwise.
type Supposed struct {
	// Out are benches that are out of service, Back such as are in service again.
	Out, Back []day.BenchID
	// PauseUS is for how long from now on nothing is called, in µs.
	PauseUS int64
	// Order are heats that wait, in the order in which they are to be called.
	Order []day.HeatID
	// Adults is how many adults run the benches; 0 is as many as now.
	Adults int
	// Improve asks for a better order of the heats that wait, in that day.
	Improve bool
}

// Suppose is the state of a day as it would be; the state itself is not changed. It refuses
// benches and heats that the meet does not have. A heat that is called to a bench that is
// out keeps it: whether it races on is for people to say.
func Suppose(s *day.State, what Supposed) (*day.State, error) {
	out := *s
	out.Benches = maps.Clone(s.Benches)
	set := func(ids []day.BenchID, gone bool) error {
		for _, id := range ids {
			b, err := s.Bench(id)
			if err != nil {
				return err
			}
			b.OutOfService = gone
			out.Benches[id] = b
		}
		return nil
	}
	if err := set(what.Out, true); err != nil {
		return nil, err
	}
	if err := set(what.Back, false); err != nil {
		return nil, err
	}
	if what.Adults > 0 {
		out.Adults = append(slices.Clip(s.Adults), day.AdultsSince{AtUS: s.TimeUS, Adults: what.Adults})
	}
	given := map[day.HeatID]bool{}
	order := make([]day.HeatID, 0, len(what.Order)+len(s.Order))
	for _, id := range what.Order {
		h, err := s.Heat(id)
		switch {
		case err != nil:
			return nil, err
		case h.Phase != day.PhaseDrawn:
			return nil, refusal.New("heat-called", "heat", id)
		case !given[id]:
			order = append(order, id)
		}
		given[id] = true
	}
	for _, id := range s.Order {
		if !given[id] {
			order = append(order, id)
		}
	}
	out.Order = order
	return &out, nil
}
