package meet_test

import (
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
)

func init() { verbs["measure-again"] = (*toldDay).measureAgain }

// measureAgain BENCH times=0.98: every run that the bench measured gets a distance
// so many times as long, as another circumference would give. trace=x says that it
// rests on other stamps than are kept.
func (d *toldDay) measureAgain() {
	c := meet.MeasureAgain{Bench: day.BenchID(d.first()), Reason: d.reason(day.ReasonBenchFault)}
	times := d.um(d.text("times", "1")) // in millionths
	for _, r := range d.s.SortedRuns() {
		if r.Bench != c.Bench || r.Source != day.SourceBench {
			continue
		}
		f := r.Figures
		f.DistanceUM = f.DistanceUM * times / 1_000_000
		f.Flags = append([]measure.Flag(nil), f.Flags...)
		c.Runs = append(c.Runs, meet.Remeasured{Run: r.ID, Trace: d.text("trace", r.Trace), Figures: f})
	}
	d.do(c)
}
