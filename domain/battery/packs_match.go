package battery

import (
	"cmp"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/refusal"
)

// PackFigures is what packs are matched by.
type PackFigures struct {
	ID string `json:"id"`
	// EMFMV is the voltage at no current, in mV; MOhm the internal resistance in mΩ.
	// See [TwoLoads].
	EMFMV int64 `json:"emf_mv"`
	MOhm  int64 `json:"mohm"`
}

// loadedUV is the voltage at a current in mA, in µV.
func (p PackFigures) loadedUV(ma int64) int64 { return 1000*p.EMFMV - p.MOhm*ma }

// Matching says how like the packs of one set have to be.
type Matching struct {
	// Size is how many packs a set has: as many as there are cars in a heat.
	Size int `json:"size"`
	// RaceMA is about what a car takes, in mA; packs are compared by the voltage
	// that they hold at it, which is what a motor feels.
	RaceMA int64 `json:"race_ma"`
	// SpreadMV bounds the voltage at RaceMA within a set, in mV, and SpreadMOhm the
	// resistance, in mΩ.
	SpreadMV   int64 `json:"spread_mv"`
	SpreadMOhm int64 `json:"spread_mohm"`
}

// MatchPacks makes as many sets of like packs as can be had from neighbours in
// the order of their voltage under load, and of these the ones with the least
// spread in all; what is left over comes second, in that order. Equal packs are
// ordered by number, so the same packs give the same sets. Sets whose packs are
// not neighbours are not looked for: a pack between two of a set would be as
// good as they are. It takes time with packs times the size of a set.
func MatchPacks(packs []PackFigures, m Matching) (sets [][]PackFigures, left []PackFigures, err error) {
	if m.Size < 1 || m.RaceMA < 0 || m.SpreadMV < 0 || m.SpreadMOhm < 0 {
		return nil, nil, refusal.New("pack-set-size")
	}
	sorted := slices.Clone(packs)
	slices.SortFunc(sorted, func(a, b PackFigures) int {
		return cmp.Or(cmp.Compare(b.loadedUV(m.RaceMA), a.loadedUV(m.RaceMA)), cmp.Compare(a.MOhm, b.MOhm), cmp.Compare(a.ID, b.ID))
	})
	numbers := map[string]bool{}
	for _, p := range sorted {
		if numbers[p.ID] {
			return nil, nil, refusal.New("pack-twice", "pack", p.ID)
		}
		numbers[p.ID] = true
	}
	// best[i] is the best that can be had of the first i packs, and whether the
	// last of them ends a set.
	type best struct {
		sets   int
		spread int64
		ends   bool
	}
	table := make([]best, len(sorted)+1)
	for i := 1; i <= len(sorted); i++ {
		table[i] = best{table[i-1].sets, table[i-1].spread, false}
		if i < m.Size {
			continue
		}
		spread, like := m.like(sorted[i-m.Size : i])
		before := table[i-m.Size]
		if with := (best{before.sets + 1, before.spread + spread, true}); like &&
			(with.sets > table[i].sets || with.sets == table[i].sets && with.spread < table[i].spread) {
			table[i] = with
		}
	}
	for i := len(sorted); i > 0; {
		if table[i].ends {
			sets = append(sets, sorted[i-m.Size:i])
			i -= m.Size
			continue
		}
		left = append(left, sorted[i-1])
		i--
	}
	slices.Reverse(sets)
	slices.Reverse(left)
	return sets, left, nil
}

// like says whether packs in order are like enough for a set, and how far apart
// they are: the spread of the voltages under load in µV.
func (m Matching) like(set []PackFigures) (spread int64, like bool) {
	least, most := set[0].MOhm, set[0].MOhm
	for _, p := range set {
		least, most = min(least, p.MOhm), max(most, p.MOhm)
	}
	spread = set[0].loadedUV(m.RaceMA) - set[len(set)-1].loadedUV(m.RaceMA)
	return spread, spread <= 1000*m.SpreadMV && most-least <= m.SpreadMOhm
}

// Dealt is a pack that was dealt to an entry.
type Dealt struct {
	Entry string `json:"entry"`
	Pack  string `json:"pack"`
}

// DealPacks deals every heat a set of its own, and the packs of that set to its
// entries, both by lot: which set, and which pack of it, is nobody's choice. The
// seed is drawn when the heats stand, and is kept; the same seed deals the same
// (see [bracket.Lot]). Heats are lists of entries, none longer than a set.
func DealPacks(sets [][]PackFigures, heats [][]string, seed uint64) ([][]Dealt, error) {
	cars := 0
	for _, heat := range heats {
		cars = max(cars, len(heat))
	}
	short := len(sets) < len(heats)
	for _, set := range sets {
		short = short || len(set) < cars
	}
	if short {
		return nil, refusal.New("packs-short", "sets", len(sets), "heats", len(heats), "cars", cars)
	}
	lot := bracket.NewLot(seed)
	order := lot.Perm(len(sets))
	out := make([][]Dealt, len(heats))
	for h, heat := range heats {
		set := sets[order[h]]
		for i, place := range lot.Perm(len(set))[:len(heat)] {
			out[h] = append(out[h], Dealt{Entry: heat[i], Pack: set[place].ID})
		}
	}
	return out, nil
}
