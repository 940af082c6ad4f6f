package main

import (
	"context"
	"math"
	"slices"
	"testing"

	"benchmeet/api/archive"
	"benchmeet/api/gen"
	"benchmeet/domain/journal"
)

// A roller that was entered too small is put right, and the runs of its bench are
// measured again from the stamps that are kept; the log still verifies, each
// measurement under the settings of its moment.
func TestRunsAreMeasuredAgainUnderTheRightSettings(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		h := w.startFirstHeat()
		for i, l := range h.Lanes {
			// The lower bench is a little slower: as entered it loses.
			w.sendRun(*l.Bench, *l.Armed, "00000000000000aa", 7000+int64(100*i))
		}
		w.sendRun("b2", *h.Lanes[1].Armed, "00000000000000bb", 7050) // the box was started anew
		before := w.runs()

		// A run carries the boot id where its name was taken; it is measured under the
		// conditions of the name that it was sent by all the same.
		var curve gen.RunCurve
		w.get(meetPath+"/runs/"+*h.Lanes[1].Armed+".00000000000000bb/curve", &curve)
		if curve.Conditions == nil || curve.Conditions.LapM != 1 || curve.SettingsChanged != nil {
			t.Errorf("the conditions of a run that was made again are %+v, want the lap of its class", curve.Conditions)
		}

		again := meetPath + "/benches/b2/measure-again"
		var look gen.MeasuredAgain
		w.get(again, &look)
		if look.LookedAt != 2 || len(look.Runs) != 0 {
			t.Fatalf("with the settings that it was measured with: %+v, want two runs looked at and none changed", look)
		}
		w.do("PUT", "/api/v1/benches/b2", `{"number":2,"circumference_mm":103.675}`) // a tenth more
		w.do("PUT", meetPath+"/benches/b2", "")
		w.get(again, &look)
		if len(look.Runs) != 2 {
			t.Fatalf("after the circumference was put right %d runs would change, want 2", len(look.Runs))
		}
		if !slices.EqualFunc(before, w.runs(), func(a, b gen.Run) bool { return a.Figures.DistanceM == b.Figures.DistanceM }) {
			t.Error("looking has changed a run")
		}

		w.do("POST", again, `{"reason":{"code":"bench-fault","text":"The roller measures 103.7 mm round."}}`)
		for _, r := range w.runs() {
			at := slices.IndexFunc(before, func(b gen.Run) bool { return b.Id == r.Id })
			want := before[at].Figures.DistanceM
			if r.Bench == "b2" {
				want *= 1.1
			}
			if math.Abs(r.Figures.DistanceM-want) > 2e-6 || r.Trace == nil || *r.Trace != *before[at].Trace {
				t.Errorf("run %s has %f m of the trace %v, want %f m of the same stamps", r.Id, r.Figures.DistanceM, r.Trace, want)
			}
		}
		places := map[string]int{}
		for _, l := range w.heat(h.Id).Lanes {
			places[*l.Bench] = *l.Place
		}
		if places["b2"] != 1 {
			t.Errorf("the places are %v, want bench 2 in front now", places)
		}
		seq := w.position()
		w.do("POST", again, `{"reason":{"code":"bench-fault"}}`)
		if w.position() != seq {
			t.Error("measuring again under the same settings has made events")
		}

		report, err := archive.Verify(context.Background(), w.server.store, journal.Hash{})
		if err != nil {
			t.Fatal(err)
		}
		if !report.OK() || report.RunsMeasured != 5 {
			t.Errorf(
				"verifying finds %+v after %d measurements, want none after 5: three runs, two of them twice", report.Problems, report.RunsMeasured,
			)
		}
	})
}

// runs are all runs of the small meet, by when they came.
func (w *wired) runs() []gen.Run {
	w.t.Helper()
	var list gen.RunList
	w.get(meetPath+"/runs", &list)
	return list.Runs
}
