package meet

import (
	"slices"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/refusal"
)

// ChooseCuts chooses what may be left out of the day where it gets late, what comes first
// first. It is printed with the rules, so it stays once the first heat was called.
type ChooseCuts struct {
	Cuts []CutRef
	// OpensUS is when the hall opens; 0 where that is not known.
	OpensUS int64
}

// CutRef names a cut.
type CutRef struct {
	Code     dayplan.CutCode
	Division day.DivisionID
	Stage    int
}

// mostChosenCuts bounds the list: it is read out in a hall.
const mostChosenCuts = 12

func (c ChooseCuts) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if board.RulesFixed(s) {
		return nil, refusal.New("cuts-fixed")
	}
	if len(c.Cuts) > mostChosenCuts {
		return nil, refusal.New("cuts-many", "most", mostChosenCuts)
	}
	possible, _ := dayplan.Cuts(s, m.NowUS, c.OpensUS)
	e := day.CutsChosen{By: m.Actor, Cuts: []day.ChosenCut{}}
	for i, ref := range c.Cuts {
		if slices.Contains(c.Cuts[:i], ref) {
			return nil, refusal.New("cut-twice", "division", ref.Division)
		}
		at := slices.IndexFunc(possible, func(p dayplan.Cut) bool {
			return p.Code == ref.Code && p.Division == ref.Division && p.Stage == ref.Stage
		})
		if at < 0 {
			return nil, refusal.New("cut-unknown", "division", ref.Division)
		}
		e.Cuts = append(e.Cuts, possible[at].Chosen())
	}
	if s.Cuts == nil && len(e.Cuts) == 0 || s.Cuts != nil && slices.Equal(s.Cuts.Cuts, e.Cuts) {
		return nil, nil
	}
	return []day.Event{e}, nil
}
