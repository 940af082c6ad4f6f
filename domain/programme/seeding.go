package programme

import "benchmeet/domain/day"

// Seeding is how the next stage to be drawn is seeded, as a page shows it.
type Seeding struct {
	// Stage is the stage that is drawn next, or the last one when nothing more is.
	Stage int
	// Open says whether the order can be changed without a ruling.
	Open bool
	// Dealt says that the stage deals by lot and knows no seeds.
	Dealt bool
	// Usual is how it is seeded where nobody gives an order.
	Usual day.SeedMethod
	// Fixed says that an order was given, by Method.
	Fixed  bool
	Method day.SeedMethod
	// Lines are the entries in their order.
	Lines []SeedLine
	// Gone are entries that were in the order that was given and are not any more.
	Gone []day.EntryID
}

// SeedLine is an entry in a seed order.
type SeedLine struct {
	Entry day.EntryID
	// Rank is that of the stage before; 0 in a first stage.
	Rank int
	// Late says that the entry came after the order was given, and so goes behind.
	Late bool
	// ByLot says that the lot decides where the entry comes.
	ByLot bool
}

// SeedingOf says how a division's next stage is seeded; false for a division that
// is not there.
func SeedingOf(s *day.State, division day.DivisionID) (Seeding, bool) {
	division = Host(s, division)
	d, there := s.Divisions[division]
	if !there {
		return Seeding{}, false
	}
	out := Seeding{Usual: SeedLot}
	stage, err := StageToSeed(s, d)
	if out.Open = err == nil; !out.Open {
		stage, _ = s.Programmes[division].Round()
		stage = max(stage, 1)
	}
	own, sows := sownOf(d.Stages[stage-1])
	out.Stage, out.Dealt = stage, !sows
	switch {
	case stage > 1:
		out.Usual = SeedRank
	case own.Seeding != "":
		out.Usual = own.Seeding
	}
	seedLines(s, d, stage, &out)
	return out, true
}

func seedLines(s *day.State, d day.Division, stage int, out *Seeding) {
	p := s.Programmes[d.ID]
	field, listed := candidates(s, d, stage), 0
	if len(p.Stages) >= stage {
		field = p.Stages[stage-1].Seeds
	}
	if list, has := seedListOf(p, stage); has {
		out.Fixed, out.Method = true, list.Method
		var order []day.EntryID
		order, listed = orderedBy(list, field)
		in := map[day.EntryID]bool{}
		for _, id := range order {
			in[id] = true
		}
		for _, id := range list.Order {
			if !in[id] {
				out.Gone = append(out.Gone, id)
			}
		}
		field = order
	}
	seeded, ranks := seeded(s, d, stage, field), map[day.EntryID]int{}
	if stage > 1 {
		_, before := FormOf(d, stage-1)
		for _, line := range before.Rank(s, d, stage-1) {
			ranks[line.Entry] = line.Rank
		}
	}
	for i, id := range field {
		out.Lines = append(out.Lines, SeedLine{Entry: id, Rank: ranks[id], Late: out.Fixed && i >= listed, ByLot: i >= seeded})
	}
}

// SeedPreview is who would meet whom in the first round of a stage. An empty
// entry is one that the lot decides.
type SeedPreview struct {
	Stage int
	Heats []PreviewHeat
	Byes  []day.EntryID
}

// PreviewHeat is a heat of a preview.
type PreviewHeat struct {
	Group   string
	Entries []day.EntryID
}

// PreviewSeeds draws the first round of the next stage without keeping it: order
// are the entries of which the place is known, best first; all others come by
// lot behind them. It refuses what SeedDivision would.
func PreviewSeeds(s *day.State, division day.DivisionID, order []day.EntryID) (SeedPreview, error) {
	d, err := Hosting(s, division)
	if err != nil {
		return SeedPreview{}, err
	}
	stage, err := StageToSeed(s, d)
	if err != nil {
		return SeedPreview{}, err
	}
	next := s.Clone()
	if stage == 1 { // whoever is entered is expected to come
		for _, e := range s.SortedEntries(division) {
			e.CheckedIn = e.Racing()
			next.Entries[e.ID] = e
		}
	}
	field := candidates(next, d, stage)
	whole, known := orderedBy(day.SeedList{Order: order}, field)
	if _, err := Seed(
		next, d, stage, SeedOrder{Method: SeedHand, Order: append(order[:len(order):len(order)], whole[known:]...)}, 0,
	); err != nil {
		return SeedPreview{}, err
	}
	day.Evolve(next, day.DivisionSeeded{Division: d.ID, Stage: stage, Seeding: SeedHand, Seeds: order}, s.TimeUS)
	seeds := seedsOf(next, d, stage, 1)
	_, form := FormOf(d, stage)
	drawn, err := form.Draw(next, d, stage, 1, seeds, 0)
	if err != nil {
		return SeedPreview{}, explainDraw(next, err, seeds)
	}
	byLot := map[day.EntryID]bool{}
	for _, id := range seeds[seeded(next, d, stage, seeds):] {
		byLot[id] = true
	}
	settled := func(ids []day.EntryID) []day.EntryID {
		out := make([]day.EntryID, len(ids))
		for i, id := range ids {
			if !byLot[id] {
				out[i] = id
			}
		}
		return out
	}
	out := SeedPreview{Stage: stage, Byes: settled(drawn.Byes)}
	for _, h := range drawn.Heats {
		out.Heats = append(out.Heats, PreviewHeat{Group: h.Group, Entries: settled(h.Entries)})
	}
	return out, nil
}
