package rehearsal

import (
	"context"
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

// keepTimetable keeps the timetable as it stands before the first race.
func (d *Day) keepTimetable(ctx context.Context) error {
	if d.timetable != nil {
		return nil
	}
	var plan gen.DayPlan
	if err := d.desk.Get(ctx, d.meetPath("/day-plan"), &plan); err != nil {
		return err
	}
	d.timetable = &plan
	return nil
}

// driftFrom measures what was raced against a timetable; nil without one. Both are by the clock of
// the server, which may run many times faster than life: then the machine's own work counts as many
// times as much.
func driftFrom(plan *gen.DayPlan, s *day.State) *Drift {
	if plan == nil || plan.Finish == nil {
		return nil
	}
	out := Drift{Rounds: []RoundDrift{}, PlannedEnd: *plan.Finish}
	started := map[string]int64{}
	endedUS := int64(0)
	for _, h := range s.Heats {
		if h.CalledUS == 0 {
			continue
		}
		key := h.Division.Round(h.Stage, h.Round)
		if at, seen := started[key]; !seen || h.CalledUS < at {
			started[key] = h.CalledUS
		}
		endedUS = max(endedUS, h.PostedUS)
	}
	for _, r := range plan.Rounds {
		at, raced := started[day.DivisionID(r.Division).Round(r.Stage, r.Round)]
		if !raced || r.Likely == nil {
			continue
		}
		began := time.UnixMicro(at).UTC()
		of := RoundDrift{r.Division, r.Stage, r.Round, *r.Likely, began, began.Sub(*r.Likely).Seconds()}
		if max(of.DriftS, -of.DriftS) > max(out.LargestS, -out.LargestS) {
			out.LargestS = of.DriftS
		}
		out.Rounds = append(out.Rounds, of)
	}
	if endedUS > 0 {
		out.Ended = time.UnixMicro(endedUS).UTC()
		out.EndS = out.Ended.Sub(out.PlannedEnd).Seconds()
	}
	return &out
}
