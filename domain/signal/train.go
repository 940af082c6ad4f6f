package signal

import (
	"math"
	"slices"

	"benchmeet/domain/measure"
)

// train is the stamps of a look, parted by what measuring made of them.
type train struct {
	genuine []int64
	extras  []extra
	bridged int
}

// extra is a stamp that was left out, with its place in the step that it fell into.
type extra struct {
	afterUS int64
	part    float64
}

func newTrain(stamps []int64, m measure.Measurement) *train {
	t := &train{bridged: m.Bridged}
	var out []int64
	for _, c := range m.Corrections {
		if c.Kind == measure.KindExtra {
			out = append(out, c.AtUS)
		}
	}
	// Both are in order of time, and wraps are taken out of the corrections: undo them here.
	slices.Sort(out)
	at := 0
	before, wraps := int64(math.MinInt64), int64(0)
	for _, s := range stamps {
		if s < before && before-s > 1<<31 {
			wraps += 1 << 32
		}
		before = s
		s += wraps
		for at < len(out) && out[at] < s {
			at++
		}
		if at < len(out) && out[at] == s {
			at++
			continue
		}
		t.genuine = append(t.genuine, s)
	}
	g := 0
	for _, x := range out {
		for g+1 < len(t.genuine) && t.genuine[g+1] <= x {
			g++
		}
		if g+1 >= len(t.genuine) || t.genuine[g] > x {
			continue
		}
		after := x - t.genuine[g]
		t.extras = append(t.extras, extra{after, float64(after) / float64(t.genuine[g+1]-t.genuine[g])})
	}
	return t
}

func (t *train) seconds() float64 {
	return max(1e-6, float64(t.genuine[len(t.genuine)-1]-t.genuine[0])/1e6)
}

// echoPart is the part of a step in which echoes come.
const echoPart = 0.25

// strays are how many extra stamps are no echoes: they fall anywhere, so those behind
// echoPart are so large a part of them.
func (t *train) strays() int {
	late := 0
	for _, x := range t.extras {
		if x.part >= echoPart {
			late++
		}
	}
	return int(math.Round(float64(late) / (1 - echoPart)))
}

func (t *train) echoUS() float64 {
	var after []float64
	for _, x := range t.extras {
		if x.part < echoPart {
			after = append(after, float64(x.afterUS))
		}
	}
	if len(after) == 0 {
		return 0
	}
	slices.Sort(after)
	return after[len(after)*9/10]
}

// turn is the usual time of a turn of so many marks, in µs.
func (t *train) turn(marks int) float64 {
	var turns []float64
	for i := marks; i < len(t.genuine); i++ {
		turns = append(turns, float64(t.genuine[i]-t.genuine[i-marks]))
	}
	slices.Sort(turns)
	return turns[len(turns)/2]
}

// endsAtOnce says whether the stamps end without getting slower, with none in the time of
// twenty more before the end. No roller stops so.
func (t *train) endsAtOnce(untilUS int64) bool {
	n := len(t.genuine)
	last, usual := float64(t.genuine[n-1]-t.genuine[n-2]), float64(t.genuine[n-1]-t.genuine[n-11])/10
	return last < 1.5*usual && float64(untilUS-t.genuine[n-1]) > 20*usual
}

// angles are the places of marks in degrees, the first at 0; none of one.
func angles(places []float64) []float64 {
	if len(places) < 2 {
		return nil
	}
	total := 0.0
	for _, p := range places {
		total += p
	}
	out := make([]float64, len(places))
	at := 0.0
	for i, p := range places {
		out[i] = at / total * 360
		at += p
	}
	return out
}
