package day

import "maps"

// changes says when what can be seen of a part of the day may have changed last, as
// positions of the log; 0 is never. It follows from the events, so whoever has shown
// a part at some position knows whether that still holds without comparing states.
//
// It is about what is shown of the racing: entries, rounds, heats, results and ranks.
// The inspector's table, the meet's own page and the call board are not in it, for they
// change with nearly everything that happens.
type changes struct {
	all   int64                // everything
	whole map[DivisionID]int64 // all of a division
	any   map[DivisionID]int64 // a heat of a division at least
	heats map[HeatID]int64     // this heat, with all its legs
}

// Division is when anything of a division may have changed: a heat, its table, its
// programme or an entry of it. Divisions that race together change together.
func (c changes) Division(id DivisionID) int64 { return max(c.all, c.whole[id], c.any[id]) }

// Heat is when a heat of a division may have changed, or the name of a car in it.
func (c changes) Heat(id HeatID, of DivisionID) int64 { return max(c.all, c.whole[of], c.heats[id]) }

// Entries is when an entry of a division may have changed; how far it is counts for
// that, since published results have names of their own.
func (c changes) Entries(id DivisionID) int64 { return max(c.all, c.whole[id]) }

func (c changes) clone() changes {
	c.whole, c.any, c.heats = maps.Clone(c.whole), maps.Clone(c.any), maps.Clone(c.heats)
	return c
}

func newChanges() changes {
	return changes{whole: map[DivisionID]int64{}, any: map[DivisionID]int64{}, heats: map[HeatID]int64{}}
}
