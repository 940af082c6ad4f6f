package dayplan

import (
	"cmp"
	"slices"

	"benchmeet/domain/day"
)

// Stop is a stretch of the day in which no heat is on the benches, because of a task of the
// plan. Heats that are on benches when it begins race on.
type Stop struct {
	Kind         day.TaskKind
	FromUS, ToUS int64
}

// Lunch is the stretch of the day in which each child has a lunch of so long in one piece.
// A car stands for its child. A round that is not drawn is not held up by it: nobody knows
// yet who races in it.
type Lunch struct {
	FromUS, ToUS, EachUS int64
}

// tasks puts in the tasks of the plan that are not over. The hours of the plan are meant from
// when the hall opens.
func (g *gathering) tasks(opensUS int64) {
	const minuteUS = 60 * secondUS
	if opensUS == 0 {
		return
	}
	for _, t := range g.s.Plan.TimedTasks() {
		from, to := opensUS+int64(t.FromMin)*minuteUS, opensUS+int64(t.UntilMin)*minuteUS
		switch {
		case to <= g.rest.AtUS:
		case t.Common():
			g.rest.Stops = append(g.rest.Stops, Stop{t.Kind, from, to})
		default:
			g.rest.Lunches = append(g.rest.Lunches, Lunch{from, to, int64(t.Minutes) * minuteUS})
		}
	}
	slices.SortStableFunc(g.rest.Stops, func(a, b Stop) int { return cmp.Compare(a.FromUS, b.FromUS) })
	g.eaten()
}

// eaten notes which cars have had so long without a race in each lunch that has begun.
func (g *gathering) eaten() {
	if len(g.rest.Lunches) == 0 {
		return
	}
	raced := make([][]span, g.rest.cars)
	for _, h := range g.s.SortedHeats() {
		if h.StartedUS == 0 {
			continue
		}
		ends := h.StartedUS + g.s.Divisions[h.Division].Stages[h.Stage-1].RaceUS
		for _, l := range h.Lanes {
			if car, known := g.cars[g.s.Entries[l.Entry].Car]; known && l.Counts != "" {
				raced[car] = append(raced[car], span{h.CalledUS, ends})
			}
		}
	}
	g.rest.ate, g.rest.lastEnd = make([][]bool, len(g.rest.Lunches)), make([]int64, g.rest.cars)
	for n, lunch := range g.rest.Lunches {
		g.rest.ate[n] = make([]bool, g.rest.cars)
		for car, spans := range raced {
			slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.from, b.from) })
			free := lunch.FromUS
			for _, s := range spans {
				g.rest.ate[n][car] = g.rest.ate[n][car] || lunch.had(free, s.from)
				free = max(free, s.to)
				g.rest.lastEnd[car] = max(g.rest.lastEnd[car], s.to)
			}
		}
	}
}

// span is a stretch of time, in µs.
type span struct{ from, to int64 }

// had says whether a child that is free from one instant to another has its lunch then.
func (l Lunch) had(fromUS, toUS int64) bool {
	return min(toUS, l.ToUS)-max(fromUS, l.FromUS) >= l.EachUS
}

// behindStops is the first instant from one on at which a heat of a length is over before the
// next stop, and the stop that it waits for last.
func (r *Rest) behindStops(atUS, lengthUS int64) (int64, *Stop) {
	var waits *Stop
	for i := range r.Stops {
		if s := &r.Stops[i]; atUS < s.ToUS && atUS+lengthUS > s.FromUS {
			atUS, waits = s.ToUS, s
		}
	}
	return atUS, waits
}

// behindLunch is the first instant from one on at which a heat of a length leaves its cars
// their lunches, and the car that has to have one first; -1 where none has.
func (g *game) behindLunch(i int, atUS int64) (int64, int) {
	h, waits := &g.r.Heats[i], -1
	for n, lunch := range g.r.Lunches {
		for k, c := range h.cars {
			free := max(g.lastEnd[c], lunch.FromUS)
			if g.ate[n][c] || lunch.had(free, atUS) || lunch.ToUS-max(atUS+g.len.heats[i], lunch.FromUS) >= lunch.EachUS {
				continue
			}
			// Where the time for it has passed nobody can have it any more.
			if until := free + lunch.EachUS; until <= lunch.ToUS && until > atUS {
				atUS, waits = until, k
			}
		}
	}
	return atUS, waits
}

// behindTasks is the first instant from one on at which no task is in the way of a heat, and
// what it waits for; no code where for nothing.
func (g *game) behindTasks(i int, fromUS int64) (int64, Cause) {
	if len(g.r.Stops)+len(g.r.Lunches) == 0 {
		return fromUS, Cause{}
	}
	why := Cause{}
	for at := fromUS; ; {
		next, stop := g.r.behindStops(at, g.len.heats[i])
		if stop != nil {
			why = Cause{Code: CauseTask, Heat: -1, Task: stop.Kind}
			if n := len(g.called); n > 0 {
				why.Heat = g.called[n-1]
			}
		}
		next, car := g.behindLunch(i, next)
		if car >= 0 {
			h := &g.r.Heats[i]
			why = Cause{Code: CauseTask, Heat: g.from[h.cars[car]], Task: day.TaskLunch, Entry: h.first[car]}
		}
		if next == at {
			return at, why
		}
		at = next
	}
}

// noteLunch notes that the cars of a heat were free until it, and are on the benches to its end.
func (g *game) noteLunch(i int) {
	if len(g.r.Lunches) == 0 {
		return
	}
	for _, c := range g.r.Heats[i].cars {
		for n, lunch := range g.r.Lunches {
			g.ate[n][c] = g.ate[n][c] || lunch.had(g.lastEnd[c], g.start[i])
		}
		g.lastEnd[c] = max(g.lastEnd[c], g.end[i])
	}
}

// beginLunch puts the lunches where they stand.
func (g *game) beginLunch() {
	if len(g.r.Lunches) == 0 {
		return
	}
	if g.ate == nil {
		g.ate, g.lastEnd = make([][]bool, len(g.r.Lunches)), make([]int64, len(g.cars))
		for n := range g.ate {
			g.ate[n] = make([]bool, len(g.cars))
		}
	}
	copy(g.lastEnd, g.r.lastEnd)
	for n := range g.ate {
		copy(g.ate[n], g.r.ate[n])
	}
}

// stopped is how much of the time up to an instant stops take.
func (r *Rest) stopped(toUS int64) (us int64) {
	at := r.AtUS
	for _, s := range r.Stops {
		from, to := max(s.FromUS, at), min(s.ToUS, toUS)
		if to > from {
			us += to - from
			at = to
		}
	}
	return us
}

// behind is when the stop of a task began that ends at an instant; 0 where none does.
func (r *Rest) behind(task day.TaskKind, endUS int64) int64 {
	for _, s := range r.Stops {
		if s.Kind == task && s.ToUS == endUS {
			return s.FromUS
		}
	}
	return 0
}
