package day

// LaneNow says what a ruling, a draw or a walkover made of a lane: it begins anew, or
// it ends without a race. Rules have decided it; the fold only puts it there.
type LaneNow struct {
	Heat  HeatID  `json:"heat,omitempty"` // where the event is about several
	Entry EntryID `json:"entry"`
	// Out is the status of a lane whose entry takes no further part. A lane that begins
	// anew without one has to race.
	Out LaneStatus `json:"out,omitempty"`
	// Keeps is the earlier run that counts, because the re-run will not be.
	Keeps RunID `json:"keeps,omitempty"`
}

// reopened is a heat that has to race again, in whole or in part.
func (h Heat) reopened() Heat {
	h.Phase, h.DeadlineUS, h.ProtestUntilUS = PhaseDrawn, 0, 0
	return h
}

// anew is a heat some of whose lanes begin anew.
func (h Heat) anew(lanes []LaneNow) Heat {
	h = h.withLanes(func(_ int, l Lane) Lane { return l })
	for _, now := range lanes {
		if i, in := h.Lane(now.Entry); in {
			h.Lanes[i] = h.Lanes[i].anew(now.Out)
		}
	}
	return h
}

// anew is a lane without a run, which has to race unless its entry is out.
func (l Lane) anew(out LaneStatus) Lane {
	l.Counts, l.Armed, l.Bench, l.Pack, l.Allowed = "", "", "", "", false
	l.Deciding, l.Decided, l.Decider = false, false, ""
	l.State, l.Status = LaneWaiting, out
	if out != StatusNone {
		l.State = LaneDone
	}
	return l
}

// keeping is a lane whose re-run will not be, so that the earlier run counts; without
// one it stays as it is.
func (l Lane) keeping(run RunID) Lane {
	if run != "" {
		l.Counts, l.Better, l.Deciding = run, "", false
	}
	return l
}
