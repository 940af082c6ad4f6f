package meet

import (
	"slices"
	"strconv"
	"strings"

	"benchmeet/domain/refusal"
)

// ResultsPosted says that a heat's result is shown and may be protested until an
// instant (0 where its round is closed). A walkover is posted without a race of
// the car that is left. A provisional result that a ruling changed is posted
// again.
type ResultsPosted struct {
	Heat           HeatID `json:"heat"`
	ProtestUntilUS int64  `json:"protest_until_us"`
	Walkover       bool   `json:"walkover,omitempty"`
}

// andPost adds to events what follows for a heat: the posting of its result, and
// where legs are raced, its decider. It is the one place that decides when a
// result goes up.
func andPost(s *State, m Meta, heat HeatID, events ...Event) []Event {
	if heat == "" {
		return events
	}
	return andDecider(s, m, heat, andResult(s, m, heat, events...)...)
}

// andResult adds the posting of a heat to events that settle its last lane or
// change a result that is provisional: who loses by the change may protest too.
func andResult(s *State, m Meta, heat HeatID, events ...Event) []Event {
	after := After(s, m.NowUS, events...)
	h, there := after.Heats[heat]
	if !there || h.Phase == PhaseOfficial {
		return events
	}
	post := ResultsPosted{Heat: heat, ProtestUntilUS: m.NowUS + after.Rules.ProtestUS}
	if after.RoundClosed(h) {
		post.ProtestUntilUS = 0 // official at once: the ruling that led here is the correction
	}
	switch {
	case h.Posted():
		was, _ := OrderOf(s, s.Heats[heat])
		is, _ := OrderOf(after, h)
		if !slices.Equal(was, is) {
			return append(events, post)
		}
		return events
	case h.Settled():
		return append(events, post)
	case walksOver(after, h):
		post.Walkover = true
		return append(events, post)
	}
	return events
}

// walksOver says whether the only car left in a heat need not race any more.
func walksOver(s *State, h Heat) bool {
	_, form := FormOf(s.Divisions[h.Division], h.Stage)
	if !form.Walkover() || h.Phase == PhaseRacing {
		return false
	}
	left := 0
	for _, l := range h.Lanes {
		switch {
		case l.State != LaneDone:
			left++
		case !ResultOf(s, l).Out:
			return false // a result to beat is there
		}
	}
	return left <= 1
}

// Type is the name in the log.
func (ResultsPosted) Type() string { return "ResultsPosted" }

func (e ResultsPosted) apply(s *State) {
	h := s.Heats[e.Heat]
	if e.Walkover {
		h = h.withLanes(func(_ int, l Lane) Lane {
			l.State, l.Armed = LaneDone, ""
			return l.keptBetter()
		})
	}
	h.Phase, h.PostedUS, h.ProtestUntilUS = PhaseProvisional, s.TimeUS, e.ProtestUntilUS
	h.DeadlineUS = 0
	if s.RoundClosed(h) {
		h.Phase = PhaseOfficial
	}
	s.Heats[e.Heat] = h
}

func (s *State) RoundClosed(h Heat) bool {
	p := s.Programmes[h.Division]
	return len(p.Stages) >= h.Stage && len(p.Stages[h.Stage-1].Rounds) >= h.Round &&
		p.Stages[h.Stage-1].Rounds[h.Round-1].Closed
}

// CloseRound makes the last drawn round of a division official. It needs every
// heat posted, every protest ruled and, unless Early gives a reason, the protest
// time over.
type CloseRound struct {
	Division DivisionID
	Early    *Reason
}

// RoundClosed says that a round's results are official.
type RoundClosed struct {
	Division DivisionID `json:"division"`
	Stage    int        `json:"stage"`
	Round    int        `json:"round"`
	By       string     `json:"by"`
	Early    *Reason    `json:"early,omitempty"`
}

func (c CloseRound) decide(s *State, m Meta) ([]Event, error) {
	d, err := Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	p := s.Programmes[d.ID]
	last, drawn := p.Current()
	stage, round := p.Round()
	switch {
	case !drawn:
		return nil, refusal.New("nothing-drawn", "division", d.ID)
	case last.Closed:
		return nil, nil
	}
	if c.Early != nil {
		if err := c.Early.Check(); err != nil {
			return nil, err
		}
	}
	for _, id := range last.Heats {
		h := s.Heats[id]
		switch {
		case !h.Posted():
			return nil, refusal.New("heat-open", "heat", id, "status", h.Phase)
		case c.Early == nil && s.RaceClock(m.NowUS) < h.ProtestUntilUS:
			return nil, refusal.New("protest-time", "heat", id)
		}
	}
	if id, open := OpenProtest(s, last.Heats); open {
		return nil, refusal.New("protest-open", "protest", id)
	}
	if _, form := FormOf(d, stage); form != nil {
		if tied := form.Tied(s, last.Heats); len(tied) > 0 {
			return nil, tieRefused(s, tied)
		}
	}
	for _, p := range ClosePairs(s, d) {
		if DeciderOpen(s, p) {
			return nil, refusal.New("heat-close", "one", s.Number(p.Upper.Entry), "other", s.Number(p.Lower.Entry))
		}
	}
	return []Event{RoundClosed{Division: d.ID, Stage: stage, Round: round, By: m.Actor, Early: c.Early}}, nil
}

// tieRefused names the heat, or the cars where they are of several.
func tieRefused(s *State, tied []TiedLane) error {
	if tied[0].Entry == "" {
		return refusal.New("heat-tied", "heat", tied[0].Heat)
	}
	numbers := make([]string, 0, len(tied))
	for _, l := range tied {
		numbers = append(numbers, strconv.Itoa(s.Number(l.Entry)))
	}
	return refusal.New("lanes-tied", "numbers", strings.Join(numbers, ", "))
}

// Type is the name in the log.
func (RoundClosed) Type() string { return "RoundClosed" }

func (e RoundClosed) apply(s *State) {
	p := s.Programmes[e.Division]
	r := p.Stages[e.Stage-1].Rounds[e.Round-1]
	r.Closed = true
	if set, there := s.FactorsInForce(); there {
		r.Factors = set.Number
	}
	s.Programmes[e.Division] = p.withRound(e.Stage, e.Round, r)
	for _, id := range r.Heats {
		h := s.Heats[id]
		h.Phase = PhaseOfficial
		s.Heats[id] = h
	}
}

// PublishResults publishes a division's final standings. Publishing again after
// a correction gives the next number.
type PublishResults struct {
	Division DivisionID
}

// ResultsPublished says what was published.
type ResultsPublished struct {
	Division DivisionID `json:"division"`
	Number   int        `json:"number"`
	Ranks    []Placed   `json:"ranks"`
	By       string     `json:"by"`
}

func (c PublishResults) decide(s *State, m Meta) ([]Event, error) {
	d, err := Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	if !Through(s, d) {
		return nil, refusal.New("programme-open", "division", d.ID)
	}
	for _, h := range s.SortedHeats() {
		if h.Division == d.ID && h.Phase != PhaseOfficial {
			return nil, refusal.New("heat-open", "heat", h.ID, "status", h.Phase)
		}
	}
	number := len(s.Programmes[d.ID].Published) + 1
	if number > 1 && !PublishedIsOld(s, d.ID) {
		return nil, nil
	}
	return []Event{ResultsPublished{Division: d.ID, Number: number, Ranks: PlacesNow(s, d.ID), By: m.Actor}}, nil
}

// PublishedIsOld says whether a division's standings, or a result in them, were
// corrected after they were published last.
func PublishedIsOld(s *State, d DivisionID) bool {
	published := s.Programmes[d].Published
	if len(published) == 0 {
		return false
	}
	last := published[len(published)-1]
	for _, r := range s.Rulings {
		about := r.Div
		if r.Heat != "" {
			about = s.Heats[r.Heat].Division
		}
		if about == d && r.Correction > 0 && r.Number > last.Rulings {
			return true
		}
	}
	return !slices.Equal(last.Ranks, PlacesNow(s, d))
}

// PlacesNow is a division's table as it is published.
func PlacesNow(s *State, d DivisionID) []Placed {
	out := []Placed{}
	for _, line := range Standings(s, d) {
		out = append(out, Placed{line.Rank, line.Entry})
	}
	return out
}

// Type is the name in the log.
func (ResultsPublished) Type() string { return "ResultsPublished" }

func (e ResultsPublished) apply(s *State) {
	p := s.Programmes[e.Division]
	p.Published = append(p.Published[:len(p.Published):len(p.Published)], Publication{e.Number, s.TimeUS, e.Ranks, len(s.Rulings)})
	s.Programmes[e.Division] = p
}
