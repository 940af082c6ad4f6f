package programme

import (
	"cmp"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// Seed methods.
const (
	// SeedLot draws the order by lot.
	SeedLot day.SeedMethod = "lot"
	// SeedHand is an order that an official gives.
	SeedHand day.SeedMethod = "hand"
	// SeedRating orders by the club's ratings, with the unrated behind by lot.
	SeedRating day.SeedMethod = "rating"
	// SeedRank is the order of the stage before; only later stages have it.
	SeedRank day.SeedMethod = "rank"
)

// SeedOrder asks for a seed order.
type SeedOrder struct {
	Method day.SeedMethod
	// Order is the order by hand, best first: everybody who is checked in and
	// races on, once.
	Order []day.EntryID
	// Ratings are the ratings to order by; who has none is not among them.
	Ratings []day.Rated
}

// orderedBy lays the list over those who can be drawn: the listed ones in its order,
// then the others as they stand in field. It says how many were listed.
func orderedBy(l day.SeedList, field []day.EntryID) (order []day.EntryID, listed int) {
	for _, id := range l.Order {
		if slices.Contains(field, id) {
			order = append(order, id)
		}
	}
	listed = len(order)
	for _, id := range field {
		if !slices.Contains(order[:listed], id) {
			order = append(order, id)
		}
	}
	return order, listed
}

// seedListOf is the list that the draw of a stage goes by; false where it goes by
// lot or by the ranks of the stage before.
func seedListOf(p day.Programme, stage int) (day.SeedList, bool) {
	if p.Seeding == nil || p.Seeding.Stage != stage || p.Seeding.Method == SeedRank {
		return day.SeedList{}, false
	}
	return *p.Seeding, true
}

// seeded is how many of a stage's seeds, counted from the first, keep their
// place in the draw; the others are drawn by lot behind them.
func seeded(s *day.State, d day.Division, stage int, seeds []day.EntryID) int {
	n := len(seeds)
	list, has := seedListOf(s.Programmes[d.ID], stage)
	switch {
	case has:
		_, n = orderedBy(list, seeds)
	case stage == 1:
		return 0
	}
	if own, _ := sownOf(d.Stages[stage-1]); own.Seeds > 0 {
		return min(n, own.Seeds)
	}
	return n
}

// WantsSeeds says whether a stage must be given its seed order before its draw.
func WantsSeeds(s *day.State, d day.Division, stage int) bool {
	_, has := seedListOf(s.Programmes[d.ID], stage)
	own, _ := sownOf(d.Stages[stage-1])
	return stage == 1 && !has && day.OneOf(own.Seeding, SeedHand, SeedRating)
}

// candidates are those whom the seed order of a stage may name, and how they
// stand without one: whoever is entered for a first stage, by start number, and
// who goes on to a later one, by rank.
func candidates(s *day.State, d day.Division, stage int) []day.EntryID {
	if stage > 1 {
		return qualified(s, d, stage, nil)
	}
	var out []day.EntryID
	for _, e := range s.SortedEntries(d.ID) {
		if e.Racing() {
			out = append(out, e.ID)
		}
	}
	return out
}

// mustStand says whether an order by hand has to name an entry.
func mustStand(s *day.State, id day.EntryID, stage int) bool {
	return stage > 1 || s.Entries[id].CheckedIn
}

// Seed makes the seed order of a stage, or refuses it by name.
func Seed(s *day.State, d day.Division, stage int, o SeedOrder, lotSeed uint64) (day.DivisionSeeded, error) {
	out := day.DivisionSeeded{Division: d.ID, Stage: stage, Seeding: o.Method, LotSeed: lotSeed, Seeds: []day.EntryID{}}
	if _, sows := sownOf(d.Stages[stage-1]); !sows {
		return out, refusal.New("seed-dealt", "division", d.ID, "stage", stage)
	}
	field := candidates(s, d, stage)
	if len(field) == 0 {
		return out, refusal.New("no-entries", "division", d.ID)
	}
	switch o.Method {
	case SeedLot:
		if !s.Programmes[d.ID].EntriesClosed {
			return out, refusal.New("entries-open", "division", d.ID)
		}
		out.Seeds = byRanks(field, make([]int, len(field)), lotSeed)
	case SeedHand:
		if err := checkHand(s, d, stage, field, o.Order); err != nil {
			return out, err
		}
		out.Seeds = o.Order
	case SeedRating:
		out.Seeds = byRanks(field, ranksOf(field, o.Ratings), lotSeed)
		for _, r := range o.Ratings {
			if slices.Contains(field, r.Entry) {
				out.Ratings = append(out.Ratings, r)
			}
		}
	case SeedRank:
		if stage == 1 {
			return out, refusal.New("seed-rank", "division", d.ID)
		}
		out.Seeds = field
	default:
		return out, refusal.New("seed-method", "method", o.Method)
	}
	return out, nil
}

// checkHand refuses an order by hand with an entry twice, missing or from
// elsewhere.
func checkHand(s *day.State, d day.Division, stage int, field, order []day.EntryID) error {
	in := map[day.EntryID]bool{}
	for _, id := range order {
		e, err := s.Entry(id)
		switch {
		case err != nil:
			return err
		case !slices.Contains(field, id):
			return refusal.New("seed-stranger", "number", e.StartNumber, "division", d.ID, "stage", stage)
		case in[id]:
			return refusal.New("seed-twice", "number", e.StartNumber)
		}
		in[id] = true
	}
	for _, id := range field {
		if !in[id] && mustStand(s, id, stage) {
			return refusal.New("seed-missing", "number", s.Entries[id].StartNumber)
		}
	}
	return nil
}

// ranksOf are the ranks of a field by rating, shared by equals; 0 for the
// unrated.
func ranksOf(field []day.EntryID, ratings []day.Rated) []int {
	sorted := slices.SortedFunc(slices.Values(ratings), func(a, b day.Rated) int { return cmp.Compare(b.Rating, a.Rating) })
	rank := map[day.EntryID]int{}
	for i, r := range sorted {
		rank[r.Entry] = i + 1
		if i > 0 && sorted[i-1].Rating == r.Rating {
			rank[r.Entry] = rank[sorted[i-1].Entry]
		}
	}
	out := make([]int, len(field))
	for i, id := range field {
		out[i] = rank[id]
	}
	return out
}

func byRanks(field []day.EntryID, ranks []int, lotSeed uint64) []day.EntryID {
	out := make([]day.EntryID, 0, len(field))
	for _, at := range bracket.SeedByRank(ranks, lotSeed) {
		out = append(out, field[at])
	}
	return out
}
