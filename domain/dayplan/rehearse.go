package dayplan

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"time"

	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/programme"
)

// Hitch is something that goes wrong in a rehearsed day.
type Hitch string

// Hitches of a rehearsed day, in the order in which they are said.
const (
	HitchInspection Hitch = "inspection"    // the first race waits until cars have passed
	HitchLate       Hitch = "late-start"    // everything of the morning begins later
	HitchBench      Hitch = "bench-dead"    // one bench is out all day
	HitchAdult      Hitch = "adult-missing" // one adult fewer
)

// What goes wrong in a rehearsed day (common practice): everything begins so many minutes
// late, and one inspector needs so long for a car.
const (
	lateStartMin = 25
	inspectCarUS = 150 * secondUS
)

// Rehearsal is how a day goes in which what is usual goes wrong.
type Rehearsal struct {
	// PlannedUS is when the last race is over as planned, FinishUS with all hitches.
	PlannedUS, FinishUS int64
	// Hitches are those that can happen: none of a queue where every car has passed.
	Hitches []HitchCost
	// Cars is how many cars the inspector still has to see, InspectedUS when the last is through.
	Cars        int
	InspectedUS int64
	// Bench is the one that is dead, Adults how many are left.
	Bench  day.BenchID
	Adults int
	// Weak is the hitch without which that day ends the most earlier; none where none saves a
	// minute: then HoldsUp is what it waits for.
	Weak    Hitch
	HoldsUp Cause
	// Rest is that day, Forecast how sure its end is.
	Rest     Rest
	Forecast Forecast
}

// HitchCost is what one of them costs.
type HitchCost struct {
	Hitch Hitch
	// AloneUS is how much later the planned day ends for it, SparesUS how much earlier the
	// rehearsed one does without it.
	AloneUS, SparesUS int64
}

// Rehearse plays a day, or what is left of it, with a late start, a dead bench, an adult fewer and
// the queue at the inspector's table, on a copy. It costs ten plays and a forecast. The same
// state and instants give the same answer.
func Rehearse(s *day.State, nowUS, opensUS int64) Rehearsal {
	r := rehearsing{s: s, nowUS: max(nowUS, opensUS), opensUS: opensUS}
	all := map[Hitch]bool{HitchInspection: true, HitchLate: true, HitchBench: true, HitchAdult: true}
	_, planned, _ := r.play(nil)
	rest, bad, p := r.play(all)
	out := Rehearsal{
		PlannedUS: planned.FinishUS, FinishUS: bad.FinishUS, Cars: r.cars, InspectedUS: r.inspectedUS, Bench: r.bench(), Adults: r.adults(),
		HoldsUp: bad.HoldsUp, Rest: rest, Forecast: Likely(rest, p, Samples, uint64(s.Seq)),
	}
	most := int64(worthUS)
	for _, h := range []Hitch{HitchInspection, HitchLate, HitchBench, HitchAdult} {
		if !out.can(h, s.AdultsNow()) {
			continue
		}
		_, alone, _ := r.play(map[Hitch]bool{h: true})
		without := maps.Clone(all)
		delete(without, h)
		_, spared, _ := r.play(without)
		cost := HitchCost{h, alone.FinishUS - planned.FinishUS, bad.FinishUS - spared.FinishUS}
		out.Hitches = append(out.Hitches, cost)
		if cost.SparesUS >= most {
			out.Weak, most = h, cost.SparesUS+1
		}
	}
	return out
}

// can says whether a hitch can happen: there are cars to inspect, more benches than one, more
// adults than one where they were counted.
func (r Rehearsal) can(h Hitch, adults int) bool {
	switch h {
	case HitchInspection:
		return r.Cars > 0
	case HitchBench:
		return r.Bench != ""
	case HitchAdult:
		return adults != r.Adults
	}
	return true
}

// rehearsing is a day that is rehearsed.
type rehearsing struct {
	s              *day.State
	nowUS, opensUS int64
	// cars and inspectedUS are of the play that had the inspection last.
	cars        int
	inspectedUS int64
}

// bench is the one that dies; empty where it would be the last.
func (r *rehearsing) bench() day.BenchID {
	benches := programme.BenchesInService(r.s)
	if len(benches) < 2 {
		return ""
	}
	return benches[0].ID
}

// adults is how many are left, at least one; where nobody said how many come, of as many as the
// benches need.
func (r *rehearsing) adults() int {
	adults := r.s.AdultsNow()
	if adults == 0 {
		adults = int(math.Ceil(float64(len(programme.BenchesInService(r.s))) / benchesEach))
	}
	return max(1, adults-1)
}

// play plays the day with some hitches.
func (r *rehearsing) play(hitches map[Hitch]bool) (Rest, Plan, Pace) {
	other := *r.s
	begun := r.nowUS > r.opensUS
	if hitches[HitchLate] && !begun {
		other.Plan = later(other.Plan, lateStartMin)
	}
	if hitches[HitchAdult] {
		other.Adults = append(slices.Clip(other.Adults), day.AdultsSince{AtUS: other.TimeUS, Adults: r.adults()})
	}
	if bench := r.bench(); hitches[HitchBench] && bench != "" {
		other.Benches = maps.Clone(other.Benches)
		b := other.Benches[bench]
		b.OutOfService = true
		other.Benches[bench] = b
	}
	rest, p := RestOf(&other, r.nowUS, r.opensUS), Seen(&other)
	if hitches[HitchLate] && begun {
		rest = rest.Paused(lateStartMin * 60 * secondUS)
	}
	if hitches[HitchInspection] {
		r.inspect(&rest, p, hitches[HitchLate])
	}
	return rest, Order(rest, p), p
}

// later is a plan whose morning begins so many minutes late: what has an hour of its own in
// it moves as well, lunch does not.
func later(p day.Plan, minutes int) day.Plan {
	tasks := []day.Task{{Kind: day.TaskSetUp, Minutes: minutes}}
	for _, t := range p.Tasks {
		if at, err := time.Parse("15:04", t.At); err == nil && t.Kind != day.TaskLunch {
			t.At = at.Add(time.Duration(minutes) * time.Minute).Format("15:04")
		}
		tasks = append(tasks, t)
	}
	p.Tasks = tasks
	return p
}

// inspect lets the first heats of each division wait until as many cars have passed as they
// need, in the order in which they are likely called. One inspector begins when the hall opens.
func (r *rehearsing) inspect(rest *Rest, p Pace, late bool) {
	begins := r.nowUS
	if late {
		begins += lateStartMin * 60 * secondUS
	}
	plan := Order(*rest, p)
	waiting := map[day.DivisionID]int{} // cars that are still to pass
	r.cars = 0
	for _, e := range r.s.SortedEntries("") {
		if e.Racing() && len(inspection.InspectionGrounds(r.s, e.ID)) > 0 {
			waiting[programme.Host(r.s, e.Division)]++
			r.cars++
		}
	}
	var first []int
	seats := map[day.DivisionID]int{}
	for i, h := range rest.Heats {
		round := rest.Rounds[h.Round]
		if round.Stage == 1 && round.Number == 1 && h.Waits() && !h.Possible {
			first = append(first, i)
			seats[round.Division] += h.Lanes * h.Turns
		}
	}
	slices.SortStableFunc(first, func(a, b int) int { return cmp.Compare(plan.Heats[a].CallUS, plan.Heats[b].CallUS) })
	passed := 0.0
	rest.Heats = slices.Clone(rest.Heats)
	for _, i := range first {
		h := &rest.Heats[i]
		division := rest.Rounds[h.Round].Division
		cars := float64(waiting[division]) * float64(h.Lanes*h.Turns) / float64(max(1, seats[division]))
		if cars > 0 {
			passed += cars
			h.inspectedUS = begins + int64(passed*float64(inspectCarUS))
		}
	}
	r.inspectedUS = 0
	if r.cars > 0 {
		r.inspectedUS = begins + int64(r.cars)*inspectCarUS
	}
}
