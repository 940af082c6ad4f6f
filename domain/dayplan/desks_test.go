package dayplan_test

import (
	"math"
	"testing"

	"benchmeet/domain/dayplan"
	"benchmeet/domain/programme/programmetest"
)

// TestForecastKnowsHowDesksCall: heats of three among heats of two end later at a desk that
// calls whatever finds its benches, for three benches are rarely free at once. Half of the
// halls call so, and nothing stops their days: a forecast, which has a pause, a broken bench
// and repeated races in it, is a few minutes later on average.
func TestForecastKnowsHowDesksCall(t *testing.T) {
	const days = 40
	off := 0.0
	for seed := range uint64(days) {
		h := newHall(t, seed, 6)
		h.truth, h.greedy = asUsual(h.random, 1), seed%2 == 0
		h.field("a", 12+int(seed%6), false,
			programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "lanes": 3, "rule": "mean"}),
			programmetest.Stage("knockout", programmetest.Set{"entries": 8, "third_place": true}))
		h.field("b", 12+int((seed+3)%6), false, programmetest.Stage("swiss", programmetest.Set{"rounds": 4}))
		f := dayplan.Likely(dayplan.RestOf(h.s, h.now, 0), dayplan.Seen(h.s), 100, seed)
		for _, us := range f.Finish {
			off += float64(us) / 60e6 / float64(len(f.Finish)) / days
		}
		h.play(math.MaxInt64 - 1)
		last := int64(0)
		for _, heat := range h.s.Heats {
			last = max(last, heat.PostedUS)
		}
		off -= float64(last) / 60e6 / days
	}
	t.Logf("forecasts are %+.1f min off on average", off)
	if off < 2 || off > 8 {
		t.Errorf("forecasts are %+.1f min off on average", off)
	}
}

// minutes is an instant of a forecast, in minutes from the opening on.
func minutes(us int64) float64 { return float64(us-openingUS) / 60e6 }

// TestForecastExpectsTimesToBeTold: a desk told times when the hall opened, and racing begins
// 25 minutes late. What was told holds nobody back any more, but such a desk will tell times
// again, and those hold a quick day back: it hardly ends earlier than planned, while a slow day
// ends as late as where nobody tells anything.
func TestForecastExpectsTimesToBeTold(t *testing.T) {
	var quick, slow float64
	const days = 16
	for seed := range uint64(days) {
		of := func(tells int64) dayplan.Forecast {
			h := newHall(t, seed, 6)
			h.field("a", 15, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 4, "lanes": 3, "rule": "mean"}))
			h.field("b", 12, false, programmetest.Stage("swiss", programmetest.Set{"rounds": 4}))
			h.fromUS, h.tells, h.promises = openingUS+25*60*second, tells, map[string]int64{}
			h.play(h.fromUS)
			return dayplan.Likely(dayplan.RestOf(h.s, h.now, 0), dayplan.Seen(h.s), 200, seed)
		}
		told, silent := of(24*3600*second), of(0)
		quick += (minutes(told.At(10)) - minutes(silent.At(10))) / days
		slow += (minutes(told.At(90)) - minutes(silent.At(90))) / days
	}
	t.Logf("quick days end %+.1f min later for what is told, slow ones %+.1f", quick, slow)
	if quick < 2 || math.Abs(slow) > quick/2 {
		t.Errorf("quick days end %+.1f min later for what is told, slow ones %+.1f", quick, slow)
	}
}

// TestFirstDrawsComeInAnyOrder: of two divisions that are drawn first, a play does not have
// the same one before the other each time.
func TestFirstDrawsComeInAnyOrder(t *testing.T) {
	h := newHall(t, 1, 3)
	stage := programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "lanes": 3, "rule": "mean"})
	h.field("a", 9, false, stage)
	h.field("b", 9, false, stage)
	rest := dayplan.RestOf(h.s, h.now, 0)
	f := dayplan.Likely(rest, dayplan.Seen(h.s), 200, 1)
	for i, r := range rest.Rounds {
		if r.Number > 1 {
			continue
		}
		if early, late := f.StartAt(i, 10)-h.now, f.StartAt(i, 90)-h.now; early > 120*second || late < 150*second {
			t.Errorf("the first round of %s begins %d to %d s from now", r.Division, early/second, late/second)
		}
	}
}
