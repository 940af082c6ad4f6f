package rehearsal

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"benchmeet/api/gen"
	"benchmeet/domain/day"
)

// Drift is how far the day went from its timetable.
type Drift struct {
	// Rounds are those of the timetable that were raced, in its order.
	Rounds []RoundDrift `json:"rounds"`
	// LargestS is the largest difference of a round, in seconds, early ones with a minus.
	LargestS float64 `json:"largest_s"`
	// Heats is how many heats were raced that the timetable has; HeatMedianS is how much later
	// than it half of them were called, and HeatLargestS the largest difference of one.
	Heats        int     `json:"heats"`
	HeatMedianS  float64 `json:"heat_median_s"`
	HeatLargestS float64 `json:"heat_largest_s"`
	// Promises is how many heats were told a time before which they are not called, Broken are
	// those that were.
	Promises int      `json:"promises"`
	Broken   []string `json:"broken"`
	// PlannedEnd is when the last race was to be over, Ended when it was, EndS how much later.
	PlannedEnd time.Time `json:"planned_end"`
	Ended      time.Time `json:"ended"`
	EndS       float64   `json:"end_s"`
}

// RoundDrift is when the first heat of a round was to be called, and when it was.
type RoundDrift struct {
	Division string    `json:"division"`
	Stage    int       `json:"stage"`
	Round    int       `json:"round"`
	Planned  time.Time `json:"planned"`
	Started  time.Time `json:"started"`
	DriftS   float64   `json:"drift_s"`
}

// tellTimes tells the hall the times of the plan, which from then on is the timetable.
func (d *Day) tellTimes(ctx context.Context) error {
	var plan gen.DayPlan
	if err := d.page(ctx, "/day-plan", &plan); err != nil {
		return err
	}
	d.timetable = &plan
	_, err := d.post(ctx, "/day-plan/tell", gen.TellTimes{})
	return err
}

// promises are the times that were told of heats, and how they were kept: looked at when a heat
// is called, because later ones replace them.
type promises struct {
	told   map[day.HeatID]bool
	broken []string
}

// see looks at an event before it is folded.
func (p *promises) see(s *day.State, e day.Event, atUS int64) {
	called, is := e.(day.HeatCalled)
	if !is {
		return
	}
	not := s.HeatPromise(s.Heats[called.Heat]).NotBeforeUS
	if not == 0 {
		return
	}
	p.told[called.Heat] = true
	if atUS < not {
		p.broken = append(p.broken, string(called.Heat))
	}
}

// kept says which promise was broken first.
func (p *promises) kept() error {
	if len(p.broken) == 0 {
		return nil
	}
	return fmt.Errorf("heat %s was called before the time that was told of it", p.broken[0])
}

// driftFrom measures what was raced against a timetable; nil without one.
func driftFrom(plan *gen.DayPlan, ev Evidence) *Drift {
	if plan == nil || plan.Finish == nil {
		return nil
	}
	out := Drift{Rounds: []RoundDrift{}, PlannedEnd: *plan.Finish, Promises: len(ev.promises.told), Broken: []string{}}
	out.Broken = append(out.Broken, ev.promises.broken...)
	endedUS := int64(0)
	for _, h := range ev.State.Heats {
		endedUS = max(endedUS, h.PostedUS)
	}
	out.ofRounds(plan, ev)
	out.ofHeats(plan, ev)
	if endedUS > 0 {
		out.Ended = time.UnixMicro(endedUS).UTC()
		out.EndS = out.Ended.Sub(out.PlannedEnd).Seconds()
	}
	return &out
}

func (d *Drift) ofRounds(plan *gen.DayPlan, ev Evidence) {
	started := map[string]int64{}
	for id, at := range ev.called {
		h := ev.State.Heats[id]
		key := h.Division.Round(h.Stage, h.Round)
		if first, seen := started[key]; !seen || at < first {
			started[key] = at
		}
	}
	for _, r := range plan.Rounds {
		at, raced := started[day.DivisionID(r.Division).Round(r.Stage, r.Round)]
		if !raced || r.Likely == nil {
			continue
		}
		began := time.UnixMicro(at).UTC()
		of := RoundDrift{r.Division, r.Stage, r.Round, *r.Likely, began, began.Sub(*r.Likely).Seconds()}
		d.LargestS = further(d.LargestS, of.DriftS)
		d.Rounds = append(d.Rounds, of)
	}
}

// further is whichever is further from 0.
func further(a, b float64) float64 {
	if max(b, -b) > max(a, -a) {
		return b
	}
	return a
}

func (d *Drift) ofHeats(plan *gen.DayPlan, ev Evidence) {
	planned := map[day.HeatID]time.Time{}
	for _, h := range plan.Heats {
		if h.Likely != nil {
			planned[day.HeatID(h.Heat)] = *h.Likely
		}
	}
	if plan.ToCome != nil {
		for _, h := range *plan.ToCome {
			leg := 0
			if h.Leg != nil {
				leg = *h.Leg
			}
			planned[day.DivisionID(h.Division).Heat(h.Stage, h.Round, h.Number).Leg(leg)] = h.Likely
		}
	}
	var all []float64
	for _, id := range slices.Sorted(maps.Keys(ev.called)) {
		if at, there := planned[id]; there {
			late := time.UnixMicro(ev.called[id]).Sub(at).Seconds()
			d.HeatLargestS = further(d.HeatLargestS, late)
			all = append(all, late)
		}
	}
	slices.SortFunc(all, cmp.Compare)
	if d.Heats = len(all); d.Heats > 0 {
		d.HeatMedianS = all[(len(all)-1)/2]
	}
}
