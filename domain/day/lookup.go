package day

import (
	"cmp"
	"maps"
	"slices"
	"strconv"

	"benchmeet/domain/refusal"
)

// The finders below refuse what is not there by name, so that every command
// says the same sentence.

// MustBePlanned refuses what needs a plan while there is none.
func (s *State) MustBePlanned() error {
	if !s.Planned {
		return refusal.New("not-planned")
	}
	return nil
}

// Division finds a division, or refuses.
func (s *State) Division(id DivisionID) (Division, error) {
	d, there := s.Divisions[id]
	if !there {
		return d, refusal.New("no-division", "division", id)
	}
	return d, nil
}

// Entry finds an entry, or refuses.
func (s *State) Entry(id EntryID) (Entry, error) {
	e, there := s.Entries[id]
	if !there {
		return e, refusal.New("no-entry", "entry", id)
	}
	return e, nil
}

// Plate is what stands on a bench: its number, or its id where the meet does not
// have it.
func (s *State) Plate(id BenchID) string {
	if b, there := s.Benches[id]; there {
		return strconv.Itoa(b.Number)
	}
	return string(id)
}

// Bench finds a bench of the meet, or refuses.
func (s *State) Bench(id BenchID) (Bench, error) {
	b, there := s.Benches[id]
	if !there {
		return b, refusal.New("no-bench", "bench", id)
	}
	return b, nil
}

// Heat finds a heat, or refuses.
func (s *State) Heat(id HeatID) (Heat, error) {
	h, there := s.Heats[id]
	if !there {
		return h, refusal.New("no-heat", "heat", id)
	}
	return h, nil
}

// Run finds a run, or refuses.
func (s *State) Run(id RunID) (Run, error) {
	r, there := s.Runs[id]
	if !there {
		return r, refusal.New("no-run", "run", id)
	}
	return r, nil
}

// HeatLane finds an entry's lane in a heat.
func (s *State) HeatLane(heat HeatID, entry EntryID) (Heat, int, error) {
	h, err := s.Heat(heat)
	if err != nil {
		return h, 0, err
	}
	i, there := h.Lane(entry)
	if !there {
		return h, 0, refusal.New("not-in-heat", "heat", heat, "entry", entry)
	}
	return h, i, nil
}

// Round finds the last drawn round of a division, with its stage's number and
// its own, both from 1; 0 and 0 before the first draw.
func (p Programme) Round() (stage, round int) {
	if len(p.Stages) == 0 {
		return 0, 0
	}
	return len(p.Stages), len(p.Stages[len(p.Stages)-1].Rounds)
}

// OpenRounds are the numbers of a stage's rounds that were drawn and are not closed, in
// order. There are several where rounds do not wait for one another.
func (p Programme) OpenRounds(stage int) []int {
	var out []int
	for i, r := range p.Stages[stage-1].Rounds {
		if !r.Closed {
			out = append(out, i+1)
		}
	}
	return out
}

// Current is the last drawn round.
func (p Programme) Current() (RoundState, bool) {
	stage, round := p.Round()
	if round == 0 {
		return RoundState{}, false
	}
	return p.Stages[stage-1].Rounds[round-1], true
}

// withRound is the programme with a round replaced, sharing no slice with the
// old one on the way to it.
func (p Programme) withRound(stage, round int, r RoundState) Programme {
	p.Stages = slices.Clone(p.Stages)
	st := p.Stages[stage-1]
	st.Rounds = slices.Clone(st.Rounds)
	st.Rounds[round-1] = r
	p.Stages[stage-1] = st
	return p
}

// SortedBenches are the benches by plate number, then id.
func (s *State) SortedBenches() []Bench {
	return slices.SortedFunc(maps.Values(s.Benches), func(a, b Bench) int {
		return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
	})
}

// SortedDivisions are the divisions by id.
func (s *State) SortedDivisions() []Division {
	return slices.SortedFunc(maps.Values(s.Divisions), func(a, b Division) int {
		return cmp.Compare(a.ID, b.ID)
	})
}

// SortedEntries are the entries by start number, then id; of one division, or of
// all where id is empty.
func (s *State) SortedEntries(id DivisionID) []Entry {
	var out []Entry
	for _, e := range s.Entries {
		if id == "" || e.Division == id {
			out = append(out, e)
		}
	}
	slices.SortFunc(out, func(a, b Entry) int {
		return cmp.Or(cmp.Compare(a.StartNumber, b.StartNumber), cmp.Compare(a.ID, b.ID))
	})
	return out
}

// SortedHeats are the heats by division, stage, round and number.
func (s *State) SortedHeats() []Heat {
	return slices.SortedFunc(maps.Values(s.Heats), func(a, b Heat) int {
		return cmp.Or(
			cmp.Compare(a.Division, b.Division),
			cmp.Compare(a.Stage, b.Stage),
			cmp.Compare(a.Round, b.Round),
			cmp.Compare(a.Number, b.Number),
			cmp.Compare(a.Leg, b.Leg),
		)
	})
}

// SortedRuns are the runs by the instant they were recorded, then id.
func (s *State) SortedRuns() []Run {
	return slices.SortedFunc(maps.Values(s.Runs), func(a, b Run) int {
		return cmp.Or(cmp.Compare(a.AtUS, b.AtUS), cmp.Compare(a.ID, b.ID))
	})
}
