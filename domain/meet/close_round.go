package meet

import (
	"strconv"
	"strings"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// CloseRound makes a drawn round of a division official. It needs every heat posted,
// every protest ruled and, unless Early gives a reason, the protest time over. The last
// round of a stage is closed behind the others, because its ties are those of the stage.
type CloseRound struct {
	Division day.DivisionID
	// Round is one of the rounds of the last drawn stage, from 1. Without it, it is the
	// first that can be closed, or the only one that is open.
	Round int
	Early *day.Reason
}

func (c CloseRound) decide(s *day.State, m Meta) ([]day.Event, error) {
	d, err := programme.Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	stage, drawn := s.Programmes[d.ID].Round()
	switch {
	case drawn == 0:
		return nil, refusal.New("nothing-drawn", "division", d.ID)
	case c.Round < 0 || c.Round > drawn:
		return nil, refusal.New("round-none", "division", d.ID, "stage", stage, "round", c.Round)
	case c.Early != nil:
		if err := c.Early.Check(); err != nil {
			return nil, err
		}
	}
	open := s.Programmes[d.ID].OpenRounds(stage)
	if c.Round > 0 {
		if s.Programmes[d.ID].Stages[stage-1].Rounds[c.Round-1].Closed {
			return nil, nil
		}
		open = []int{c.Round}
	}
	var first error
	for _, round := range open {
		no := c.mayClose(s, m, d, stage, round)
		if no != nil {
			if first == nil {
				first = no
			}
			continue
		}
		e := day.RoundClosed{Division: d.ID, Stage: stage, Round: round, By: m.Actor, Early: c.Early}
		if set, there := s.FactorsInForce(); there {
			e.FactorSet = set.Number
		}
		return []day.Event{e}, nil
	}
	return nil, first
}

// mayClose refuses a round that cannot be closed now.
func (c CloseRound) mayClose(s *day.State, m Meta, d day.Division, stage, round int) error {
	heats := s.Programmes[d.ID].Stages[stage-1].Rounds[round-1].Heats
	for _, id := range heats {
		h := s.Heats[id]
		switch {
		case !h.Posted():
			return refusal.New("heat-open", "heat", id, "status", h.Phase)
		case c.Early == nil && s.RaceClock(m.NowUS) < h.ProtestUntilUS:
			return refusal.New("protest-time", "heat", id)
		}
	}
	if id, open := programme.OpenProtest(s, heats); open {
		return refusal.New("protest-open", "protest", id)
	}
	if before := programme.ClosesBefore(s, d, stage, round); before > 0 {
		return refusal.New("round-open", "division", d.ID, "stage", stage, "round", before)
	}
	if _, form := programme.FormOf(d, stage); form != nil {
		if tied := form.Tied(s, heats); len(tied) > 0 {
			return tieRefused(s, tied)
		}
	}
	if _, last := s.Programmes[d.ID].Round(); round < last {
		return nil
	}
	for _, p := range programme.ClosePairs(s, d) {
		if programme.DeciderOpen(s, p) {
			return refusal.New("heat-close", "one", s.Number(p.Upper.Entry), "other", s.Number(p.Lower.Entry))
		}
	}
	return nil
}

// tieRefused names the heat, or the cars where they are of several.
func tieRefused(s *day.State, tied []programme.TiedLane) error {
	if tied[0].Entry == "" {
		return refusal.New("heat-tied", "heat", tied[0].Heat)
	}
	numbers := make([]string, 0, len(tied))
	for _, l := range tied {
		numbers = append(numbers, strconv.Itoa(s.Number(l.Entry)))
	}
	return refusal.New("lanes-tied", "numbers", strings.Join(numbers, ", "))
}
