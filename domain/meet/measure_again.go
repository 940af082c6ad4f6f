package meet

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/refusal"
)

// MeasureAgain gives runs of a bench the figures that their stamps have under the
// settings that the meet now knows for it: a roller's circumference was entered
// wrongly, say. It is a ruling; where a result was official it is a numbered
// correction. Runs whose figures do not change are left out.
type MeasureAgain struct {
	Bench  day.BenchID
	Runs   []Remeasured
	Reason day.Reason
}

// Remeasured are the figures of a run that was measured again. Trace is the
// SHA-256 of the stamps that they were computed from.
type Remeasured struct {
	Run     day.RunID
	Trace   string
	Figures measure.Figures
}

func (c MeasureAgain) decide(s *day.State, m Meta) ([]day.Event, error) {
	b, err := s.Bench(c.Bench)
	if err != nil {
		return nil, err
	}
	// While a heat needs the bench its settings stay as they are, so that all of
	// the heat is measured alike.
	if h, busy := s.HeatOn(b.ID); busy {
		return nil, refusal.New("bench-busy", "bench", b.ID, "heat", h)
	}
	changed, heats, err := remeasured(s, b, c.Runs)
	if err != nil || len(changed) == 0 {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason, heats...)
	if err != nil {
		return nil, err
	}
	var events []day.Event
	for _, r := range changed {
		events = append(events, day.RunMeasuredAgain{Ruled: ruled, Run: r.Run, Figures: r.Figures})
	}
	for _, h := range heats {
		events = andPost(s, m, h.ID, events...)
	}
	return events, nil
}

// remeasured are the runs that get other figures, and the heats whose results
// rest on them.
func remeasured(s *day.State, b day.Bench, runs []Remeasured) ([]Remeasured, []day.Heat, error) {
	var (
		changed []Remeasured
		heats   []day.Heat
	)
	for _, again := range runs {
		r, err := s.Run(again.Run)
		switch {
		case err != nil:
			return nil, nil, err
		case r.Source != day.SourceBench || r.Bench != b.ID || r.Trace != again.Trace:
			return nil, nil, refusal.New("not-its-stamps", "run", r.ID, "bench", b.ID)
		case measure.Differ(r.Figures, again.Figures) == "":
			continue
		}
		changed = append(changed, again)
		known := func(h day.Heat) bool { return h.ID == r.Heat }
		if h, there := s.Heats[r.Heat]; there && s.Counting(r) && !slices.ContainsFunc(heats, known) {
			heats = append(heats, h)
		}
	}
	return changed, heats, nil
}
