package meet

import (
	"cmp"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// CallHeat calls the cars of a heat that still have to race to their benches.
// Entries that share a car are called one after the other.
// Benches may be given lane by lane; without them free ones are chosen so that
// an entry comes to benches that it has used least.
type CallHeat struct {
	Heat    day.HeatID
	Benches []day.BenchID // one for each lane to race, in lane order; or none
	// Short races the heat on as many benches as are in service, where it has more
	// lanes to race: the others are left over and called when these have raced.
	Short bool
	// Sure calls a heat that was told to be later: all its children are here.
	Sure bool
}

func (c CallHeat) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, err := s.Heat(c.Heat)
	if err != nil {
		return nil, err
	}
	switch {
	case s.Paused:
		return nil, refusal.New("paused")
	case h.Phase == day.PhaseCalled || h.Phase == day.PhaseRacing:
		return nil, refusal.New("heat-called", "heat", h.ID)
	case h.Phase != day.PhaseDrawn:
		return nil, refusal.New("heat-over", "heat", h.ID, "status", h.Phase)
	}
	if before, early := programme.LegBefore(s, h); early {
		return nil, refusal.New("leg-early", "heat", h.ID, "before", before)
	}
	if told := s.HeatPromise(h).NotBeforeUS; !c.Sure && m.NowUS < told {
		const minuteUS = 60_000_000
		return nil, refusal.New("told-later", "heat", h.ID, "minutes", (told-m.NowUS+minuteUS-1)/minuteUS)
	}
	lanes := c.lanes(s, h)
	for _, i := range lanes {
		if other, busy := carBusy(s, h.Lanes[i].Entry); busy {
			return nil, refusal.New("car-busy", "number", s.Number(h.Lanes[i].Entry), "heat", other)
		}
	}
	for _, i := range lanes {
		if err := inspection.NotResting(s, h, h.Lanes[i], m.NowUS); err != nil {
			return nil, err
		}
	}
	benches, err := chooseBenches(s, h, lanes, c.Benches)
	if err != nil {
		return nil, err
	}
	e := day.HeatCalled{Heat: h.ID, DeadlineUS: m.NowUS + s.Rules.CallUS, By: m.Actor}
	for k, i := range lanes {
		lane := h.Lanes[i]
		e.Lanes = append(e.Lanes, day.CalledLane{Entry: lane.Entry, Bench: benches[k], Run: h.ID.Run(i, lane.Attempt+1)})
	}
	return []day.Event{e}, nil
}

// carBusy finds another heat in which the entry's car stands at a bench now.
func carBusy(s *day.State, entry day.EntryID) (day.HeatID, bool) {
	car := s.Entries[entry].Car
	for _, h := range s.SortedHeats() {
		if h.Phase != day.PhaseCalled && h.Phase != day.PhaseRacing {
			continue
		}
		for _, l := range h.Lanes {
			if l.State != day.LaneDone && s.Entries[l.Entry].Car == car {
				return h.ID, true
			}
		}
	}
	return "", false
}

// plannedBenches takes the benches that the draw has planned for lanes out of the
// free ones, as far as they are among them; the others are empty.
func plannedBenches(s *day.State, h day.Heat, lanes []int, free *[]day.BenchID) []day.BenchID {
	out := make([]day.BenchID, len(lanes))
	for k, i := range lanes {
		bench := programme.PlannedBench(s, h, i)
		at := slices.Index(*free, bench)
		if at < 0 {
			continue
		}
		out[k] = bench
		*free = slices.Delete(*free, at, at+1)
	}
	return out
}

// chooseBenches gives each lane a free bench in service: those asked for, or
// the one that was planned, or for one lane after the other the bench that its entry used least, then the one
// used least by all, then the lowest number.
func chooseBenches(s *day.State, h day.Heat, lanes []int, asked []day.BenchID) ([]day.BenchID, error) {
	if len(asked) > 0 {
		return asked, checkAsked(s, asked, len(lanes))
	}
	var free []day.BenchID
	for _, b := range programme.BenchesInService(s) {
		if _, busy := s.HeatOn(b.ID); !busy {
			free = append(free, b.ID)
		}
	}
	if left := len(programme.BenchesInService(s)); left < len(lanes) && left > 0 {
		return nil, refusal.New("benches-gone", "heat", h.ID, "needed", len(lanes), "left", left)
	}
	if len(free) < len(lanes) {
		return nil, refusal.New("benches-short", "heat", h.ID, "needed", len(lanes), "free", len(free))
	}
	used, all := benchUse(s)
	planned := plannedBenches(s, h, lanes, &free)
	var out []day.BenchID
	for k, i := range lanes {
		if planned[k] != "" {
			out = append(out, planned[k])
			continue
		}
		entry := h.Lanes[i].Entry
		best := slices.MinFunc(free, func(a, b day.BenchID) int { // the first of equals: free is in plate order
			return cmp.Or(
				cmp.Compare(used[useKey{entry, a}], used[useKey{entry, b}]),
				cmp.Compare(all[a], all[b]),
			)
		})
		out = append(out, best)
		free = slices.DeleteFunc(free, func(b day.BenchID) bool { return b == best })
	}
	return out, nil
}

func checkAsked(s *day.State, asked []day.BenchID, lanes int) error {
	if len(asked) != lanes {
		return refusal.New("benches-asked", "needed", lanes, "given", len(asked))
	}
	for i, id := range asked {
		b, err := s.Bench(id)
		if err != nil {
			return err
		}
		if b.OutOfService {
			return refusal.New("bench-out", "bench", id)
		}
		if heat, busy := s.HeatOn(id); busy {
			return refusal.New("bench-busy", "bench", id, "heat", heat)
		}
		if slices.Contains(asked[:i], id) {
			return refusal.New("bench-twice", "bench", id)
		}
	}
	return nil
}

type useKey struct {
	entry day.EntryID
	bench day.BenchID
}

// benchUse counts the counted runs of the day by entry and bench, and by bench.
func benchUse(s *day.State) (map[useKey]int, map[day.BenchID]int) {
	used, all := map[useKey]int{}, map[day.BenchID]int{}
	for _, h := range s.Heats {
		for _, l := range h.Lanes {
			if l.State == day.LaneDone && l.Counts != "" {
				bench := s.Runs[l.Counts].Bench
				used[useKey{l.Entry, bench}]++
				all[bench]++
			}
		}
	}
	return used, all
}
