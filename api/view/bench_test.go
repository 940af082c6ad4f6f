package view_test

import (
	"encoding/json"
	"testing"
	"time"

	"benchmeet/api/view"
	"benchmeet/api/view/viewtest"
)

// BenchmarkPages is what the pages of a meet of 40 entries after two rounds cost,
// with their JSON. The floor of each is its JSON alone, in the same run: x-json is
// the time as a multiple of that.
func BenchmarkPages(b *testing.B) {
	d := viewtest.New(b, 40)
	d.Round(1)
	d.Round(2)
	v := view.MeetView{ID: "spring", State: d.State}
	division := d.State.Divisions["junior"]
	for _, page := range []struct {
		name string
		make func() any
	}{
		{"Board", func() any { return v.Board() }},
		{"Standings", func() any { return v.Standings(division) }},
		{"Bracket", func() any { return v.Bracket(division) }},
		{"Meet", func() any { return v.Meet() }},
	} {
		b.Run(page.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := json.Marshal(page.make()); err != nil {
					b.Fatal(err)
				}
			}
			each := b.Elapsed().Seconds() / float64(b.N)
			made := page.make()
			const tries = 200
			began := time.Now()
			for range tries {
				if _, err := json.Marshal(made); err != nil {
					b.Fatal(err)
				}
			}
			floor := time.Since(began).Seconds() / tries
			b.ReportMetric(each/floor, "x-json")
		})
	}
}
