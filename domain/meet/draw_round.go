package meet

import (
	"errors"
	"fmt"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// DrawRound draws the next round of a division: the lots with Meta.Seed, the
// seeds from the stage before. Entries must be closed first.
type DrawRound struct {
	Division day.DivisionID
}

// DrawAgain replaces the last drawn round by another draw. It is a ruling, and
// only possible while none of its heats was called. The first round of a stage
// may get another seed order with it.
type DrawAgain struct {
	Division day.DivisionID
	Reason   day.Reason
	// Seeds is the new seed order; nil leaves the one that stands.
	Seeds *SeedOrder
}

func (c DrawRound) decide(s *day.State, m day.Meta) ([]day.Event, error) {
	d, err := Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	if !s.Programmes[d.ID].EntriesClosed {
		return nil, refusal.New("entries-open", "division", d.ID)
	}
	stage, round, err := NextRound(s, d)
	if err != nil {
		return nil, err
	}
	if round == 1 && WantsSeeds(s, d, stage) {
		return nil, refusal.New("seed-first", "division", d.ID)
	}
	drawn, err := Draw(s, d, stage, round, m.Seed)
	if err != nil {
		return nil, err
	}
	return []day.Event{drawn}, nil
}

func (c DrawAgain) decide(s *day.State, m day.Meta) ([]day.Event, error) {
	d, err := Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	stage, round := s.Programmes[d.ID].Round()
	if round == 0 {
		return nil, refusal.New("nothing-drawn", "division", d.ID)
	}
	last, _ := s.Programmes[d.ID].Current()
	for _, id := range last.Heats {
		if s.Heats[id].Begun() {
			return nil, refusal.New("draw-begun", "heat", id)
		}
	}
	if h, open := OpenHeat(s, d.ID); open && s.RoundClosed(h) {
		return nil, refusal.New("heat-open", "heat", h.ID, "status", h.Phase)
	}
	var events []day.Event
	if c.Seeds != nil {
		if round > 1 {
			return nil, refusal.New("seed-round", "division", d.ID, "stage", stage)
		}
		seeded, err := Seed(s, d, stage, *c.Seeds, m.Seed)
		if err != nil {
			return nil, err
		}
		seeded.By = m.Actor
		events = append(events, seeded)
	}
	drawn, err := Draw(day.After(s, m.NowUS, events...), d, stage, round, m.Seed)
	if err != nil {
		return nil, err
	}
	return append(events, day.RoundDrawnAgain{Ruled: ruled, Drawn: drawn}), nil
}

// Draw makes a round of a stage. A first round takes its seeds from the entries
// or from the stage before, in the order that was given, a later one keeps those of its stage, with late
// entries behind.
func Draw(s *day.State, d day.Division, stage, round int, lotSeed uint64) (day.RoundDrawn, error) {
	if len(BenchesInService(s)) == 0 {
		return day.RoundDrawn{}, refusal.New("no-benches")
	}
	seeds := SeedsOf(s, d, stage, round)
	if len(seeds) == 0 {
		return day.RoundDrawn{}, refusal.New("no-entries", "division", d.ID)
	}
	_, form := FormOf(d, stage)
	drawn, err := form.Draw(s, d, stage, round, seeds, lotSeed)
	if err != nil {
		return day.RoundDrawn{}, explainDraw(s, err, seeds)
	}
	drawn.Division, drawn.Stage, drawn.Round = d.ID, stage, round
	if drawn.Seeds == nil {
		drawn.Seeds = seeds
	}
	drawn.LotSeed = lotSeed
	return drawn, nil
}

func SeedsOf(s *day.State, d day.Division, stage, round int) []day.EntryID {
	if round > 1 {
		seeds := slices.Clone(s.Programmes[d.ID].Stages[stage-1].Seeds)
		if !TakesLate(s, d, stage, round-1) {
			return seeds
		}
		// Who entered late, and who entered in time and came late.
		for _, e := range s.SortedEntries(d.ID) {
			if e.CheckedIn && e.Racing() && !slices.Contains(seeds, e.ID) {
				seeds = append(seeds, e.ID)
			}
		}
		return seeds
	}
	field := candidates(s, d, stage)
	if stage == 1 {
		field = slices.DeleteFunc(field, func(id day.EntryID) bool { return !s.Entries[id].CheckedIn })
	}
	return inOrder(s, d, stage, field)
}

// inOrder is a field in the seed order that was given for a stage, if any.
func inOrder(s *day.State, d day.Division, stage int, field []day.EntryID) []day.EntryID {
	if list, has := seedListOf(s.Programmes[d.ID], stage); has {
		field, _ = orderedBy(list, field)
	}
	return field
}

// qualified are the entries that go on to a stage, in seed order: those of the
// stage before by rank, without who is out of the day. Who is among drawn went
// on while it was still in, so leaving later does not let another one in.
func qualified(s *day.State, d day.Division, stage int, drawn []day.EntryID) []day.EntryID {
	var seeds []day.EntryID
	_, before := FormOf(d, stage-1)
	most := d.Stages[stage-1].Entries
	for _, line := range before.Rank(s, d, stage-1) {
		in := s.Entries[line.Entry].Racing() || slices.Contains(drawn, line.Entry)
		if line.Rank > 0 && in && (most == 0 || len(seeds) < most) {
			seeds = append(seeds, line.Entry)
		}
	}
	return seeds
}

// explainDraw names the entries of a refused draw by their start numbers.
func explainDraw(s *day.State, err error, seeds []day.EntryID) error {
	var no *bracket.Refusal
	if !errors.As(err, &no) {
		return err
	}
	numbers := ""
	for i, at := range no.Entries {
		if i > 0 {
			numbers += ", "
		}
		if at >= 0 && at < len(seeds) {
			numbers += fmt.Sprint(s.Entries[seeds[at]].StartNumber)
		}
	}
	if numbers == "" {
		numbers = "–"
	}
	return refusal.New("draw-refused", "rule", no.Says, "numbers", numbers)
}

// carsOf numbers the cars of entries so that equal cars have equal numbers.
func carsOf(s *day.State, entries []day.EntryID) []int {
	at := map[day.CarID]int{}
	out := make([]int, len(entries))
	for i, id := range entries {
		car := s.Entries[id].Car
		n, seen := at[car]
		if !seen {
			n = len(at)
			at[car] = n
		}
		out[i] = n
	}
	return out
}

func BenchesInService(s *day.State) []day.Bench {
	all := s.SortedBenches()
	return slices.DeleteFunc(all, func(b day.Bench) bool { return b.OutOfService })
}
