package day

import (
	"math"
	"math/bits"
	"slices"
)

// This file is how events of version 1 are read. They left out what rules made of
// them; the fold made it of the state. Those rules are frozen here, with all that they
// reckon with: whoever changes a rule of today leaves this file alone, and old days
// stay as they were. Nothing else in the fold of an event asks a rule.

func (e RunRecorded) lift(s *State) Event {
	e.Sent, e.Result, e.Decider = "", "", false
	h := s.Heats[e.Heat]
	i, in := h.Lane(e.Entry)
	if e.Waiting != WaitsNot || !in {
		return e
	}
	this := Run{ID: e.ID, Bench: e.Bench, Heat: e.Heat, Source: e.Source, Figures: e.Figures}
	l := h.Lanes[i]
	switch e.Result = e.ID; {
	case l.Deciding:
		e.Decider, e.Result = true, l.Better
	case l.Better != "" && worthBefore(s, s.Runs[l.Better]) > worthBefore(s, this):
		e.Result = l.Better
	}
	return e
}

// worthBefore is by what the better of two runs was found: the distance, divided by
// the factor of its bench where one was in force, or -1 where it did not rank.
func worthBefore(s *State, r Run) int64 {
	if r.Source == SourceHand && s.Rules.HandCounts != HandRanks {
		return -1
	}
	um := r.Figures.DistanceUM
	if r.Source != SourceBench || r.Heat == "" {
		return um
	}
	number := 0
	if n := len(s.Factors); n > 0 && !s.Factors[n-1].Withdrawn {
		number = n
	}
	if h := s.Heats[r.Heat]; s.RoundClosed(h) {
		number = s.Programmes[h.Division].Stages[h.Stage-1].Rounds[h.Round-1].Factors
	}
	if number < 1 || number > len(s.Factors) {
		return um
	}
	for _, f := range s.Factors[number-1].Factors {
		if f.Bench == string(r.Bench) {
			return dividedBefore(um, f.FactorPPM)
		}
	}
	return um
}

// dividedBefore divides by a factor in millionths and rounds half up.
func dividedBefore(um, ppm int64) int64 {
	const million = 1_000_000
	if ppm <= 0 || um < 0 {
		return um
	}
	high, low := bits.Mul64(uint64(um), million)
	low, carry := bits.Add64(low, uint64(ppm)/2, 0)
	high += carry
	if high >= uint64(ppm) {
		return math.MaxInt64
	}
	quotient, _ := bits.Div64(high, low, uint64(ppm))
	return int64(min(quotient, math.MaxInt64))
}

// outBefore is the status of the lanes of an entry that had left.
func outBefore(e Entry) LaneStatus {
	switch {
	case e.Disqualified:
		return StatusDisqualified
	case e.Withdrawn:
		return StatusWithdrawn
	}
	return StatusNone
}

// keptBefore is the earlier run of a lane whose re-run was not made.
func keptBefore(l Lane) RunID {
	if l.Counts == "" {
		return l.Better
	}
	return ""
}

// againBefore are the lanes of a heat that began anew with that of an entry: a car that
// had a walkover had no run to stand on and raced too.
func againBefore(s *State, h Heat, entry EntryID) []LaneNow {
	var out []LaneNow
	for _, l := range h.Lanes {
		if l.Entry == entry || l.State == LaneDone && l.Counts == "" && l.Status == StatusNone {
			out = append(out, LaneNow{Entry: l.Entry, Out: outBefore(s.Entries[l.Entry])})
		}
	}
	return out
}

func (e StatusRuled) lift(s *State) Event {
	e.Stands, e.Keeps, e.Again = e.Status, "", nil
	h := s.Heats[e.Heat]
	i, in := h.Lane(e.Entry)
	if !in {
		return e
	}
	e.Keeps = keptBefore(h.Lanes[i])
	if e.Keeps != "" && e.Status != StatusDisqualified {
		e.Stands = StatusNone
	}
	if e.Status == StatusNone && e.Keeps == "" && h.Lanes[i].Counts == "" {
		e.Again = againBefore(s, h, e.Entry)
	}
	return e
}

func (e RerunGranted) lift(s *State) Event {
	e.Better, e.DropsPenaltyUM, e.Again = "", 0, nil
	h := s.Heats[e.Heat]
	i, in := h.Lane(e.Entry)
	if !in {
		return e
	}
	if e.Counts == CountsRerun {
		e.DropsPenaltyUM = h.Lanes[i].PenaltyUM
	} else {
		e.Better = h.Lanes[i].Counts
	}
	e.Again = againBefore(s, h, e.Entry)
	if h.Phase == PhaseRacing { // the others raced on
		e.Again = []LaneNow{{Entry: e.Entry, Out: outBefore(s.Entries[e.Entry])}}
	}
	return e
}

// asideBefore is the run that had to wait where another was put into its lane.
func asideBefore(s *State, run RunID, heat HeatID, entry EntryID) RunID {
	h := s.Heats[heat]
	if i, in := h.Lane(entry); in && h.Lanes[i].Counts != run {
		return h.Lanes[i].Counts
	}
	return ""
}

func (e RunAccepted) lift(s *State) Event {
	e.SetsAside = asideBefore(s, e.Run, e.Heat, e.Entry)
	return e
}

func (e RunReassigned) lift(s *State) Event {
	e.SetsAside, e.Again = asideBefore(s, e.Run, e.Heat, e.Entry), nil
	from := s.Heats[e.FromHeat]
	if _, in := from.Lane(e.FromEntry); in {
		e.Again = againBefore(s, from, e.FromEntry)
	}
	return e
}

func (e HeatVoided) lift(s *State) Event {
	e.VoidRuns, e.Again = nil, nil
	for _, l := range s.Heats[e.Heat].Lanes {
		for _, run := range []RunID{l.Counts, l.Better, l.Decider} {
			if _, there := s.Runs[run]; there {
				e.VoidRuns = append(e.VoidRuns, run)
			}
		}
		e.Again = append(e.Again, LaneNow{Entry: l.Entry, Out: outBefore(s.Entries[l.Entry])})
	}
	return e
}

// endsBefore are the lanes that ended when an entry left.
func endsBefore(s *State, entry EntryID, status LaneStatus) []LaneNow {
	var out []LaneNow
	for _, h := range s.HeatsOf(entry) {
		if i, _ := h.Lane(entry); h.Lanes[i].State != LaneDone {
			out = append(out, LaneNow{Heat: h.ID, Entry: entry, Out: status, Keeps: keptBefore(h.Lanes[i])})
		}
	}
	return out
}

func (e EntryWithdrawn) lift(s *State) Event {
	e.Ends = endsBefore(s, e.Entry, StatusWithdrawn)
	return e
}

func (e EntryDisqualified) lift(s *State) Event {
	e.Ends = endsBefore(s, e.Entry, StatusDisqualified)
	return e
}

func (e EntryReinstated) lift(s *State) Event {
	e.Again, e.Clears = nil, nil
	for _, h := range s.HeatsOf(e.Entry) {
		i, _ := h.Lane(e.Entry)
		l := h.Lanes[i]
		left := l.Counts == "" && (l.Status == StatusWithdrawn || l.Status == StatusDisqualified)
		switch {
		case left && (h.Phase == PhaseDrawn || h.Phase == PhaseProvisional):
			for _, now := range againBefore(s, h, e.Entry) {
				if now.Heat = h.ID; now.Entry == e.Entry {
					now.Out = StatusNone
				}
				e.Again = append(e.Again, now)
			}
		case l.Status == StatusWithdrawn && l.Counts != "":
			e.Clears = append(e.Clears, h.ID)
		}
	}
	return e
}

func (e EntryChanged) lift(s *State) Event {
	e.Lapses = ""
	if was := s.Entries[e.ID]; was.Car != e.Car || was.Division != e.Division {
		e.Lapses = ReasonCarChanged
	}
	return e
}

func (e RoundDrawn) lift(s *State) Event {
	e.Heats = slices.Clone(e.Heats)
	for i, h := range e.Heats {
		h.Out, h.ProtestUntilUS = nil, 0
		for _, entry := range h.Entries {
			if out := outBefore(s.Entries[entry]); out != StatusNone {
				h.Out = append(h.Out, LaneNow{Entry: entry, Out: out})
			}
		}
		if h.Walkover {
			h.ProtestUntilUS = s.TimeUS + s.Rules.ProtestUS
		}
		e.Heats[i] = h
	}
	return e
}

func (e RoundDrawnAgain) lift(s *State) Event {
	e.Drawn = e.Drawn.lift(s).(RoundDrawn)
	return e
}

func (e DeciderDrawn) lift(s *State) Event {
	e.Again = nil
	for _, l := range s.Heats[e.Heat].Lanes {
		e.Again = append(e.Again, LaneNow{Entry: l.Entry, Out: outBefore(s.Entries[l.Entry])})
	}
	return e
}

func (e ResultsPosted) lift(s *State) Event {
	e.Keeps = nil
	for _, l := range s.Heats[e.Heat].Lanes {
		if run := keptBefore(l); run != "" && e.Walkover {
			e.Keeps = append(e.Keeps, LaneNow{Entry: l.Entry, Keeps: run})
		}
	}
	return e
}

func (e RoundClosed) lift(s *State) Event {
	e.FactorSet = 0
	if n := len(s.Factors); n > 0 && !s.Factors[n-1].Withdrawn {
		e.FactorSet = s.Factors[n-1].Number
	}
	return e
}

func (e HeatStarted) lift(s *State) Event {
	e.EndsUS = 0
	h := s.Heats[e.Heat]
	if stages := s.Divisions[h.Division].Stages; h.Stage > 0 && h.Stage <= len(stages) {
		e.EndsUS = s.TimeUS + stages[h.Stage-1].RaceUS
	}
	return e
}

func (e MeetResumed) lift(s *State) Event {
	e.DeadlinesUS, e.ProtestsUS, e.BatteriesSinceUS = map[HeatID]int64{}, map[HeatID]int64{}, 0
	if len(s.Packs) > 0 {
		e.BatteriesSinceUS = s.TimeUS
	}
	for id, h := range s.Heats {
		if h.Phase == PhaseCalled && h.DeadlineUS > s.PausedUS {
			e.DeadlinesUS[id] = h.DeadlineUS + e.ShiftUS
		}
		if h.Phase == PhaseProvisional && h.ProtestUntilUS > s.PausedUS {
			// A result that was posted during the pause waited only the rest of it.
			e.ProtestsUS[id] = h.ProtestUntilUS + e.ShiftUS - max(0, h.PostedUS-s.PausedUS)
		}
	}
	return e
}
