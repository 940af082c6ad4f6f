package programme

import (
	"cmp"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/standings"
)

// LaneResult is what a lane is worth in its heat.
type LaneResult struct {
	Entry      day.EntryID    `json:"entry"`
	Status     day.LaneStatus `json:"status,omitempty"`
	Run        day.RunID      `json:"run,omitempty"`
	DistanceUM int64          `json:"distance_um"` // after penalties; only where Valued
	UUM        int64          `json:"u_um"`        // standard uncertainty of the distance; 0 is not known
	// LowUM and HighUM are the ends of its 95 % interval where that is lopsided.
	LowUM  *int64 `json:"low_um,omitempty"`
	HighUM *int64 `json:"high_um,omitempty"`
	// FactorPPM is what the bench's factor divided the distance by, in millionths, and
	// AsReadUM the distance without it; both 0 where nothing was corrected.
	FactorPPM int64 `json:"factor_ppm,omitempty"`
	AsReadUM  int64 `json:"as_read_um,omitempty"`
	// Valued says that there is a distance that ranks.
	Valued bool `json:"valued"`
	// Out says that the lane can neither win nor go on: not started,
	// disqualified, withdrawn.
	Out bool `json:"out"`
}

// ResultOf is what a lane is worth under the meet's rules.
func ResultOf(s *day.State, l day.Lane) LaneResult {
	if l.Deciding && l.State != day.LaneDone {
		l.State, l.Counts = day.LaneDone, l.Better // it stays the result, whatever the decider gives
	}
	out := LaneResult{Entry: l.Entry, Status: l.Status, Run: l.Counts}
	if l.State != day.LaneDone {
		return out
	}
	if s.Entries[l.Entry].Disqualified {
		out.Status = day.StatusDisqualified
	}
	r, ran := s.Runs[l.Counts]
	switch {
	case out.Status == day.StatusDisqualified || out.Status == day.StatusDidNotStart:
		out.Out = true
		return out
	case out.Status == day.StatusWithdrawn && !ran:
		out.Out = true
		return out
	case out.Status == day.StatusDidNotFinish && s.Rules.DidNotFinish == day.NoResult:
		return out
	}
	if ran && s.Ranks(r) {
		v := s.Value(r)
		out.Valued = true
		out.DistanceUM = max(0, v.Corrected.Corrected-l.PenaltyUM)
		out.UUM, out.LowUM, out.HighUM = v.UUM, less(v.LowUM, l.PenaltyUM), less(v.HighUM, l.PenaltyUM)
		if v.Set > 0 {
			out.FactorPPM, out.AsReadUM = v.Factor.FactorPPM, max(0, v.AsRead-l.PenaltyUM)
		}
	}
	return out
}

// less takes a penalty off an end of an interval, if there is one.
func less(end *int64, penaltyUM int64) *int64 {
	if end == nil {
		return nil
	}
	um := max(0, *end-penaltyUM)
	return &um
}

// asRun is the distance as standings compares it with another.
func (r LaneResult) asRun() standings.Run {
	return standings.Run{Value: r.DistanceUM, U: r.UUM, Low: r.LowUM, High: r.HighUM, None: !r.Valued}
}

// OrderOf is the heat's result, best first: those with a distance, then those who
// raced without one, then those who are out, in lane order where nothing else
// decides. Tied says that the first two cannot be told apart.
func FinishOf(s *day.State, h day.Heat) (order []LaneResult, tied bool) {
	for _, l := range h.Lanes {
		order = append(order, ResultOf(s, l))
	}
	class := func(r LaneResult) int {
		switch {
		case r.Out:
			return 2
		case !r.Valued:
			return 1
		}
		return 0
	}
	compare := func(a, b LaneResult) int {
		return cmp.Or(cmp.Compare(class(a), class(b)), -cmp.Compare(a.DistanceUM, b.DistanceUM))
	}
	slices.SortStableFunc(order, compare)
	heatDecider(s, h, order)
	tied = len(order) > 1 && !order[0].Out && compare(order[0], order[1]) == 0
	return order, tied
}
