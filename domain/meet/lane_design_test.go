package meet_test

import (
	"fmt"
	"slices"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
)

// The kinds, runs and efficiency factors are those of the designs' sources, which
// package bracket names; the least and the most are counted here over the heats
// as they were drawn.
func TestLaneDesigns(t *testing.T) {
	tests := []struct {
		name                            string
		entries, lanes, rounds, benches int
		sameCar                         bool
		want                            string
	}{
		{
			"a Williams square, a bench a lane", 4, 4, 4, 4, false,
			"williams 4×4: runs 4–4, meetings 4–4, lanes 1–1, benches 1–1, efficiency 1/1, fits 4",
		},
		{"twice the square", 4, 4, 8, 4, false, "williams 4×4: runs 8–8, meetings 8–8, lanes 2–2, benches 2–2, efficiency 1/1, fits 4"},
		{
			"a Youden square, whose rounds have one heat", 7, 3, 3, 6, false,
			"youden 7×3: runs 3–3, meetings 1–1, lanes 1–1, benches 1–1, efficiency 7/9, fits 3",
		},
		{
			"more benches than a block, fewer than two", 7, 3, 3, 5, false,
			"youden 7×3: runs 3–3, meetings 1–1, lanes 1–1, benches 1–1, efficiency 7/9, fits 3",
		},
		{"two heats side by side on two blocks", 8, 4, 7, 8, false, "near 8×4: runs 7–7, meetings 3–3, lanes 1–2, benches 0–2"},
		{"rounds that do not fit", 7, 3, 4, 3, false, "near 7×3: runs 4–4, meetings 0–2, lanes 0–2, benches 0–2, fits 3"},
		{"no design for so many", 11, 4, 3, 4, false, "near 11×4: runs 3–3, meetings 0–2, lanes 0–1, benches 0–1"},
		{"fewer benches than lanes", 4, 6, 3, 3, false, "youden 4×3: runs 3–3, meetings 2–2, lanes 1–1, benches 1–1, efficiency 8/9, fits 3"},
		{"a car that two share", 7, 3, 3, 3, true, "near 7×3: runs 3–3, meetings 0–2, lanes 0–2, benches 0–2"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d := newDay(t)
			d.must(meet.PlanMeet{Plan: goodPlan(), Rules: day.UsualRules()})
			for b := 1; b <= test.benches; b++ {
				d.must(meet.AddBench{Bench: goodBench(day.BenchID("b"+strconv.Itoa(b)), b)})
			}
			st := programmetest.Stage(
				"timed-rounds", programmetest.Set{"rounds": test.rounds, "lanes": test.lanes, "rule": "mean", "lane_design": true},
			)
			d.must(
				meet.AddDivision{
					Division: day.Division{ID: "d", Name: "d", AgeTo: 12, Class: day.CarClass{LapUM: 20_000_000}, Stages: []day.Stage{st}},
				},
			)
			for n := 1; n <= test.entries; n++ {
				car := "c" + strconv.Itoa(n)
				if test.sameCar && n == 2 {
					car = "c1"
				}
				d.must(meet.TakeEntry{
					ID: day.EntryID("e" + strconv.Itoa(n)), Division: "d", StartNumber: n,
					Entrant: day.EntrantID("p" + strconv.Itoa(n)), Car: day.CarID(car), Age: 9,
				})
				d.must(meet.CheckIn{Entry: day.EntryID("e" + strconv.Itoa(n)), There: true})
			}
			d.must(meet.CloseEntries{Division: "d"})
			d.must(meet.DrawRound{Division: "d"})
			var got string
			for _, r := range programme.LaneDesigns(d.s, "d") {
				got += tellDesign(r)
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
			d.benchesSideBySide(test.lanes)
		})
	}
}

func tellDesign(r programme.LaneDesign) string {
	text := fmt.Sprintf("%s %d×%d: runs %d–%d, meetings %d–%d, lanes %d–%d, benches %d–%d", r.Kind, r.Entries, r.Lanes,
		r.RunsLeast, r.RunsMost, r.MeetsLeast, r.MeetsMost, r.LaneLeast, r.LaneMost, r.BenchLeast, r.BenchMost)
	if r.EfficiencyDen > 0 {
		text += fmt.Sprintf(", efficiency %d/%d", r.EfficiencyNum, r.EfficiencyDen)
	}
	if r.Fits > 0 {
		text += fmt.Sprintf(", fits %d", r.Fits)
	}
	return text
}

// benchesSideBySide checks that every lane of the first round has a bench of the
// meet planned, and that heats share a bench only where the blocks have been gone
// through.
func (d *toldDay) benchesSideBySide(lanes int) {
	blocks := max(1, min(len(d.s.Heats), len(d.s.Benches)/lanes))
	var benches []day.BenchID
	for i, h := range d.s.SortedHeats() {
		if i%blocks == 0 {
			benches = nil
		}
		for _, l := range h.Lanes {
			if _, there := d.s.Benches[l.Planned]; !there || slices.Contains(benches, l.Planned) {
				d.t.Errorf("%s of %s is planned on bench %q, others on %v", l.Entry, h.ID, l.Planned, benches)
			}
			benches = append(benches, l.Planned)
		}
	}
}
