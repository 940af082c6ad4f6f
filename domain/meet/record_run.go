package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/refusal"
	"benchmeet/domain/runname"
)

// RecordRun takes a measured run in. It is never refused for what the day looks
// like: a run that fits no lane is kept and waits for a ruling.
type RecordRun struct {
	ID      day.RunID
	Bench   day.BenchID
	Boot    string
	Trace   string // SHA-256 of the trace
	Figures measure.Figures
}

func (c RecordRun) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if c.ID == "" {
		return nil, refusal.New("bad-id", "what", "run", "id", "")
	}
	id, found := runname.For(c.ID, c.Boot, func(name day.RunID) runname.Found {
		old, there := s.Runs[name]
		switch {
		case !there:
			return runname.Free
		case old.Trace == c.Trace && old.Boot == c.Boot && old.Bench == c.Bench:
			return runname.Same
		}
		return runname.Other
	})
	if found == runname.Same {
		return nil, nil
	}
	e := day.RunRecorded{
		ID: id, Bench: c.Bench, Source: day.SourceBench, Figures: c.Figures,
		Boot: c.Boot, Trace: c.Trace, By: m.Actor,
	}
	e.Heat, e.Entry, e.Waiting = s.LaneOf(c.ID, c.Bench)
	if id != c.ID {
		if e.Sent = c.ID; e.Waiting == day.WaitsNot {
			e.Waiting = day.WaitsLaneTaken
		}
	}
	return andPost(s, m, e.Heat, counting(s, e)), nil
}

// RecordHandCount takes a result that somebody counted: the only typed figure.
// UDistanceUM is the standard uncertainty of the count; a count of whole laps
// has at least the lap length divided by the square root of 12.
type RecordHandCount struct {
	Heat        day.HeatID
	Entry       day.EntryID
	DistanceUM  int64
	UDistanceUM int64
	ClaimedUS   int64
	// Sure says that an official stands by a count that is far from what cars run here.
	Sure bool
}

// MethodHand is the method of figures that were counted by hand.
const MethodHand = "hand-count/1"

func (c RecordHandCount) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	l := h.Lanes[i]
	switch {
	case h.Phase != day.PhaseRacing || l.State != day.LaneRacing:
		return nil, refusal.New("hand-not-racing", "number", s.Number(c.Entry), "heat", h.ID)
	case !mayBeCounted(c.DistanceUM, c.UDistanceUM):
		return nil, refusal.New("hand-distance")
	}
	if !c.Sure {
		if err := likelyCount(s, h, "", c.DistanceUM); err != nil {
			return nil, err
		}
	}
	id := l.Armed + "-hand"
	for s.Runs[id].ID != "" {
		id += "-hand" // a bench sent under this name before
	}
	e := day.RunRecorded{
		ID: id, Bench: l.Bench, Heat: h.ID, Entry: c.Entry, Source: day.SourceHand,
		Figures: handFigures(s.Divisions[h.Division].Class.LapUM, c.DistanceUM, c.UDistanceUM),
		By:      m.Actor, ClaimedUS: claimed(c.ClaimedUS),
	}
	return andPost(s, m, h.ID, counting(s, e)), nil
}

// mayBeCounted says whether a count and its standard uncertainty, in µm, can be meant.
func mayBeCounted(um, uUM int64) bool {
	return um >= 0 && um <= 100_000_000_000 && uUM > 0 && uUM <= um+1_000_000
}

// handFigures are those of a count by hand: a distance, and the full laps in it.
func handFigures(lapUM, um, uUM int64) measure.Figures {
	return measure.Figures{Method: MethodHand, DistanceUM: um, UDistanceUM: uUM, Laps: um / lapUM}
}

// counting says what a run makes of its lane, which may have an earlier run: a decider
// leaves that the result, and where the better counts, the better of both is it. Runs
// that do not rank are the worst; of equal ones the later counts.
func counting(s *day.State, e day.RunRecorded) day.RunRecorded {
	h := s.Heats[e.Heat]
	i, in := h.Lane(e.Entry)
	if e.Waiting != day.WaitsNot || !in {
		return e
	}
	l := h.Lanes[i]
	this := day.Run{ID: e.ID, Bench: e.Bench, Heat: e.Heat, Entry: e.Entry, Source: e.Source, Figures: e.Figures}
	switch {
	case l.Deciding:
		e.Decider, e.Result = true, l.Better
	case l.Better != "" && s.Worth(s.Runs[l.Better]) > s.Worth(this):
		e.Result = l.Better
	default:
		e.Result = e.ID
	}
	return e
}
