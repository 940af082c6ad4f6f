package programme

import (
	"errors"
	"fmt"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// Draw makes a round of a stage. A first round takes its seeds from the entries
// or from the stage before, in the order that was given, a later one keeps those of its stage, with late
// entries behind.
func Draw(s *day.State, d day.Division, stage, round int, lotSeed uint64) (day.RoundDrawn, error) {
	if len(BenchesInService(s)) == 0 {
		return day.RoundDrawn{}, refusal.New("no-benches")
	}
	seeds := seedsOf(s, d, stage, round)
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

// seedsOf are the entries that a round is drawn from, in seed order, best first.
func seedsOf(s *day.State, d day.Division, stage, round int) []day.EntryID {
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
	return refusal.New("draw-refused", "rule", no.Says, "numbers", numbers, "code", no.Rule)
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

// BenchesInService are the benches that take heats, in plate order.
func BenchesInService(s *day.State) []day.Bench {
	all := s.SortedBenches()
	return slices.DeleteFunc(all, func(b day.Bench) bool { return b.OutOfService })
}
