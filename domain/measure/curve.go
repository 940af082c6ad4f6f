package measure

// Sample is the speed at one moment of a run.
type Sample struct {
	AtUS     int64   // the middle of the time that the speed was taken over, wraps taken out
	RPM      float64 // of the roller
	SpeedMPS float64 // of its surface, over the bench factor
}

// Curve returns the speed over time of a whole run, a sample about every so many
// µs, each over whole turns. It is what a plot and the fits of this package
// need. While no speed is known there is no sample.
func Curve(setup Setup, stamps []int64, everyUS int64) ([]Sample, error) {
	t, err := New(setup)
	if err != nil {
		return nil, err
	}
	b := t.setup.Bench
	perRPM := b.CircumferenceMM / 1000 / b.Factor / 60
	var samples []Sample
	next := int64(0)
	for _, stamp := range stamps {
		t.Add(stamp)
		if t.seeking || t.holding || t.last < next {
			continue
		}
		gap, took := t.window.recent(t.steps, t.pred, float64(everyUS))
		if gap <= 0 {
			continue
		}
		rpm := 60e6 / (gap * float64(t.marks.count))
		samples = append(samples, Sample{t.last - took/2, rpm, rpm * perRPM})
		next = t.last + max(1, everyUS)
	}
	return samples, nil
}
