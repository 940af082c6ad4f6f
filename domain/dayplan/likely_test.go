package dayplan_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/programme/programmetest"
)

// played is a day as a hall played it, with what was forecast at its start and later.
type played struct {
	finish    int64
	forecasts []dayplan.Forecast
	// shifted is the end by the plan of the morning, later by what the day is behind it.
	shifted []int64
	at      []int64
	closes  int64
}

// glance is what a desk knows at an instant.
type glance struct {
	at     int64
	rest   dayplan.Rest
	pace   dayplan.Pace
	behind int64
}

// playDay plays a day of one to three divisions on four to ten benches, and forecasts it from
// what was known at its start and nearest to its thirds.
func playDay(t testing.TB, seed uint64) played {
	random := rand.New(rand.NewPCG(seed, 9))
	benches := 4 + random.IntN(7)
	programmes := [][]day.Stage{
		{
			programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "lanes": 4, "rule": "mean"}),
			programmetest.Stage("knockout", programmetest.Set{"entries": 4, "third_place": true}),
		},
		{programmetest.Stage("knockout", programmetest.Set{"plate": true})},
		{programmetest.Stage("swiss", programmetest.Set{"rounds": 4})},
		{programmetest.Stage("double-elimination", nil)},
		{programmetest.Stage("groups", programmetest.Set{"groups": 2})},
	}
	h := newHall(t, seed, benches)
	var fields []day.DivisionID
	for n := range 1 + random.IntN(3) {
		fields = append(fields, day.DivisionID(fmt.Sprint("d", n)))
	}
	h.truth = newTruth(seed, benches, fields...)
	h.noShow, h.again, h.greedy = 0.04*random.Float64(), 0.04*random.Float64(), random.IntN(2) == 0
	for _, id := range fields {
		h.field(id, 6+random.IntN(13), false, programmes[random.IntN(len(programmes))]...)
	}
	return follow(h, seed, 0.8+0.5*random.Float64())
}

// follow plays a day to its end and forecasts it. The hall closes when so much of what the
// plan of the morning takes is over.
func follow(h *hall, seed uint64, closes float64) played {
	const every = 600 * second
	planned := map[day.HeatID]int64{}
	var glances []glance
	for over := false; !over; over = h.play(h.now + every) {
		g := glance{h.now, dayplan.RestOf(h.s, h.now, 0), dayplan.Seen(h.s), behind(h, planned)}
		plan := dayplan.Order(g.rest, g.pace)
		h.planKeepsPromises(g.rest, plan)
		if len(glances) == 0 {
			for i, slot := range plan.Heats {
				planned[g.rest.Heats[i].ID] = slot.CallUS
			}
		}
		glances = append(glances, g)
	}
	var out played
	for _, heat := range h.s.Heats {
		out.finish = max(out.finish, heat.PostedUS)
	}
	began := glances[0].at
	end := dayplan.Order(glances[0].rest, glances[0].pace).FinishUS
	out.closes = began + int64(closes*float64(end-began))
	for third := range 3 {
		due := began + (out.finish-began)*int64(third)/3
		g := slices.MinFunc(glances, func(a, b glance) int {
			return cmp.Compare(max(a.at-due, due-a.at), max(b.at-due, due-b.at))
		})
		out.forecasts = append(out.forecasts, dayplan.Likely(g.rest, g.pace, 200, seed))
		out.shifted = append(out.shifted, end+g.behind)
		out.at = append(out.at, g.at)
	}
	return out
}

// behind is how much later than planned the last five heats were called, in the middle.
func behind(h *hall, planned map[day.HeatID]int64) int64 {
	var called []day.Heat
	for _, heat := range h.s.Heats {
		if heat.CalledUS > 0 && planned[heat.ID] > 0 {
			called = append(called, heat)
		}
	}
	slices.SortFunc(called, func(a, b day.Heat) int {
		return cmp.Or(cmp.Compare(b.CalledUS, a.CalledUS), cmp.Compare(a.ID, b.ID))
	})
	var late []int64
	for _, heat := range called[:min(5, len(called))] {
		late = append(late, heat.CalledUS-planned[heat.ID])
	}
	if len(late) == 0 {
		return 0
	}
	slices.Sort(late)
	return late[len(late)/2]
}

// crps is the continuous ranked probability score of a sample, in minutes: less is better,
// and for one value alone it is how far off that is (T. Gneiting and A. E. Raftery, "Strictly
// proper scoring rules, prediction, and estimation", 2007).
func crps(sorted []int64, truth int64) float64 {
	n := float64(len(sorted))
	off, apart := 0.0, 0.0
	for i, x := range sorted {
		off += math.Abs(float64(x - truth))
		apart += float64(x) * (2*float64(i) + 1 - n)
	}
	return (off/n - apart/(n*n)) / 60e6
}

// bands count how often a day was late by how likely it was said to be, in tenths.
type bands [10]struct {
	days, late int
	said       float64
}

func (b *bands) see(said float64, late bool) {
	band := &b[min(9, int(said*10))]
	band.days++
	band.said += said
	if late {
		band.late++
	}
}

// calibration judges forecasts of days at one instant of theirs.
type calibration struct {
	days, within, below, middle int
	width, off, score, shifted  float64
	bands                       bands
}

func (c *calibration) see(p played, k int) {
	f := p.forecasts[k]
	c.days++
	switch {
	case p.finish < f.At(10):
		c.below++
	case p.finish <= f.At(90):
		c.within++
	}
	if p.finish < f.At(50) {
		c.middle++
	}
	c.width += float64(f.At(90)-f.At(10)) / 60e6
	c.off += float64(p.finish-f.At(50)) / 60e6
	c.score += crps(f.Finish, p.finish)
	c.shifted += crps([]int64{p.shifted[k]}, p.finish)
	c.bands.see(f.LateChance(p.closes), p.finish > p.closes)
}

// TestProveForecastIsCalibrated: of many played days, which know nothing of forecasts, the
// true finish lies within the 10th and the 90th of a hundred in 78 to 82 of a hundred, at the
// start and when a third and two thirds of the day are over; a chance to be late is right
// within ten points; the score is better by a fifth than that of the morning's plan shifted by
// its delay; and what is left open shrinks. A share of the days gives the bounds three
// standard deviations more.
func TestProveForecastIsCalibrated(t *testing.T) {
	days := 24
	if os.Getenv("BENCHMEET_PROVE") != "" {
		days = 3000
	}
	var at [3]calibration
	for seed := range days {
		p := playDay(t, uint64(seed))
		for k := range at {
			at[k].see(p, k)
		}
	}
	judge(t, at[:], days == 3000)
}

func judge(t *testing.T, at []calibration, full bool) {
	t.Helper()
	for k := range at {
		c := &at[k]
		days := float64(c.days)
		slack := 3 * math.Sqrt(0.8*0.2/days)
		if full {
			slack = 0
		}
		share := float64(c.within) / days
		t.Logf("at %d thirds: %.1f %% within, %.1f %% earlier, %.1f %% before the middle, width %.1f min, %+.1f min off the middle",
			k, 100*share, 100*float64(c.below)/days, 100*float64(c.middle)/days, c.width/days, c.off/days)
		t.Logf("at %d thirds: score %.2f min, the shifted plan has %.2f", k, c.score/days, c.shifted/days)
		if share < 0.78-slack || share > 0.82+slack {
			t.Errorf("at %d thirds of the day %.1f %% of the days end as forecast", k, 100*share)
		}
		if c.score > 0.8*c.shifted {
			t.Errorf("at %d thirds: a score of %.2f min, the shifted plan has %.2f", k, c.score/days, c.shifted/days)
		}
		for n, band := range c.bands {
			if band.days < 100 {
				continue
			}
			said, late := band.said/float64(band.days), float64(band.late)/float64(band.days)
			t.Logf("at %d thirds: band %d: %d days, said %.2f, late %.2f", k, n, band.days, said, late)
			if math.Abs(said-late) > 0.1 {
				t.Errorf("at %d thirds: of %d days that were late with chance %.2f, %.2f were", k, band.days, said, late)
			}
		}
	}
	if last := at[len(at)-1]; last.width > 0.6*at[0].width {
		t.Errorf("the width at the end is %.2f of that at the start", last.width/at[0].width)
	}
}
