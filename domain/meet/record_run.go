package meet

import (
	"fmt"

	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/refusal"
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
	id := c.ID
	for n := 1; ; n++ {
		old, there := s.Runs[id]
		if !there {
			break
		}
		if old.Trace == c.Trace && old.Boot == c.Boot && old.Bench == c.Bench {
			return nil, nil
		}
		// The counter box was started anew and made the same run again, or another
		// one sent under its name: all are kept, the later under names of their own.
		id = day.RunID(string(c.ID) + "." + c.Boot)
		if n > 1 {
			id = day.RunID(fmt.Sprintf("%s.%s.%d", c.ID, c.Boot, n))
		}
	}
	e := day.RunRecorded{
		ID: id, Bench: c.Bench, Source: day.SourceBench, Figures: c.Figures,
		Boot: c.Boot, Trace: c.Trace, By: m.Actor,
	}
	e.Heat, e.Entry, e.Waiting = s.LaneOf(c.ID, c.Bench)
	if id != c.ID && e.Waiting == day.WaitsNot {
		e.Waiting = day.WaitsLaneTaken
	}
	return andPost(s, m, e.Heat, e), nil
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
	case c.DistanceUM < 0 || c.DistanceUM > 100_000_000_000 || c.UDistanceUM <= 0 || c.UDistanceUM > c.DistanceUM+1_000_000:
		return nil, refusal.New("hand-distance")
	}
	lap := s.Divisions[h.Division].Class.LapUM
	id := l.Armed + "-hand"
	for s.Runs[id].ID != "" {
		id += "-hand" // a bench sent under this name before
	}
	e := day.RunRecorded{
		ID: id, Bench: l.Bench, Heat: h.ID, Entry: c.Entry, Source: day.SourceHand,
		Figures: measure.Figures{
			Method: MethodHand, DistanceUM: c.DistanceUM, UDistanceUM: c.UDistanceUM, Laps: c.DistanceUM / lap,
		},
		By: m.Actor, ClaimedUS: claimed(c.ClaimedUS),
	}
	return andPost(s, m, h.ID, e), nil
}
