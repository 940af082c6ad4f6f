package evidence

import (
	"slices"

	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
)

// Course is the speed of a run between its start and its end, in s and m/s.
type Course struct {
	Times, Speeds []float64
	Full          measure.FullSpeed
	Rose          bool // it came up to speed within the run
}

// Course reads off how the run went.
func (c Curve) Course() Course {
	var out Course
	for _, s := range c.Samples {
		if s.AtUS >= c.Measured.FromUS && s.AtUS <= c.Measured.ToUS {
			out.Times = append(out.Times, float64(s.AtUS-c.Measured.FromUS)/1e6)
			out.Speeds = append(out.Speeds, s.SpeedMPS)
		}
	}
	full, err := measure.FindFullSpeed(out.Times, out.Speeds)
	out.Full, out.Rose = full, err == nil
	return out
}

// Lost is how much a run slows down once it is up to speed; false where its stamps
// do not show it.
func (c Course) Lost() (fairness.Slowing, bool) {
	from := 0
	if c.Rose {
		from, _ = slices.BinarySearch(c.Times, 1.5*c.Full.At)
	}
	s, err := fairness.FitSlowing(c.Times[from:], c.Speeds[from:])
	return s, err == nil
}

// Rise is the time constant in s with which a run came up to speed; false where it did
// not, or not in this way. The rise alone is of the first order; what comes after is
// the battery's.
func (c Course) Rise() (tau float64, known bool) {
	if !c.Rose {
		return 0, false
	}
	to, _ := slices.BinarySearch(c.Times, 1.5*c.Full.At)
	fit, err := measure.FitSpinUp(c.Times[:to], c.Speeds[:to])
	return fit.Tau, err == nil
}

// Half is the time in s in which a run came to half of its full speed; false where it did
// not come up to speed, or was past half before its speed could be read.
func (c Course) Half() (after float64, known bool) {
	if !c.Rose {
		return 0, false
	}
	half := c.Full.Speed / 2
	at := slices.IndexFunc(c.Speeds, func(v float64) bool { return v >= half })
	if at < 1 {
		return 0, false
	}
	share := (half - c.Speeds[at-1]) / (c.Speeds[at] - c.Speeds[at-1])
	return c.Times[at-1] + share*(c.Times[at]-c.Times[at-1]), true
}
