package bracket

import (
	"fmt"
	"slices"
)

// Kind names a form of competition.
type Kind string

// The forms that this package draws.
const (
	KnockoutKind          Kind = "knockout"
	DoubleEliminationKind Kind = "double-elimination"
	RoundRobinKind        Kind = "round-robin"
	GroupsKind            Kind = "groups"
	HeatsKind             Kind = "heats"
	TimedRoundsKind       Kind = "timed-rounds"
)

// SlotKind says what fills a slot.
type SlotKind string

// The ways to fill a slot.
const (
	// EntrySlot holds Entry itself.
	EntrySlot SlotKind = "entry"
	// WinnerSlot takes the first of Heat.
	WinnerSlot SlotKind = "winner"
	// LoserSlot takes the last of Heat; only heats of two have such slots.
	LoserSlot SlotKind = "loser"
	// PlaceSlot takes the entry on Place of Heat.
	PlaceSlot SlotKind = "place"
	// GroupSlot takes the entry on Place of Group.
	GroupSlot SlotKind = "group"
	// NextBestSlot takes the Place-th best of those who did not go on by their place.
	NextBestSlot SlotKind = "next-best"
	// EmptySlot is a lane that stays empty.
	EmptySlot SlotKind = "empty"
)

// Slot is one seat of a plan: an entry, or where the entry will come from.
type Slot struct {
	Kind SlotKind `json:"kind"`
	// Entry is the caller's number of the entry (0 or more), for EntrySlot.
	Entry int `json:"entry"`
	// Heat is the id of an earlier heat, for WinnerSlot, LoserSlot and PlaceSlot.
	Heat string `json:"heat,omitempty"`
	// Group is the letter of a group, for GroupSlot.
	Group string `json:"group,omitempty"`
	// Place counts from 1, for PlaceSlot, GroupSlot and NextBestSlot.
	Place int `json:"place,omitempty"`
	// Round is the round that the next best come from, for NextBestSlot; 0 stands for the groups.
	Round int `json:"round,omitempty"`
}

// EntryAt returns the slot that holds the entry itself.
func EntryAt(entry int) Slot { return Slot{Kind: EntrySlot, Entry: entry} }

// WinnerOf returns the slot that waits for the winner of the heat.
func WinnerOf(heat string) Slot { return Slot{Kind: WinnerSlot, Heat: heat} }

// LoserOf returns the slot that waits for the loser of the heat.
func LoserOf(heat string) Slot { return Slot{Kind: LoserSlot, Heat: heat} }

// PlaceOf returns the slot that waits for a place (from 1) of the heat.
func PlaceOf(heat string, place int) Slot { return Slot{Kind: PlaceSlot, Heat: heat, Place: place} }

// GroupPlace returns the slot that waits for a place (from 1) of the group.
func GroupPlace(group string, place int) Slot {
	return Slot{Kind: GroupSlot, Group: group, Place: place}
}

// NextBest returns the slot that waits for the n-th (from 1) of the next best of a round of heats, or of the
// groups for round 0.
func NextBest(round, n int) Slot { return Slot{Kind: NextBestSlot, Round: round, Place: n} }

// Nobody returns the slot of a lane that stays empty.
func Nobody() Slot { return Slot{Kind: EmptySlot} }

// Purpose marks a heat that decides more than who goes on.
type Purpose string

// The heats with a purpose of their own.
const (
	// Final decides the first two places.
	Final Purpose = "final"
	// SecondFinal is the reserved heat of a double elimination: it runs only if the finalist who had
	// lost before wins the first final, for then both have lost once.
	SecondFinal Purpose = "second-final"
	// ThirdPlace decides the third and fourth places.
	ThirdPlace Purpose = "third-place"
	// PlateFinal decides the plate.
	PlateFinal Purpose = "plate-final"
	// BFinal is a heat of many for the best of those who did not reach the final.
	BFinal Purpose = "b-final"
)

// Heat is one race of a plan.
type Heat struct {
	// ID is the round's number, a dot, and the heat's number in the round, both from 1.
	ID string `json:"id"`
	// Group is the letter of the group whose heat this is, or empty.
	Group string `json:"group,omitempty"`
	// Lanes are the seats in lane order; in a heat of two the first one is the left bench.
	Lanes []Slot `json:"lanes"`
	// Purpose is empty for most heats.
	Purpose Purpose `json:"purpose,omitempty"`
	// IfNeeded marks a heat that is reserved and may not run.
	IfNeeded bool `json:"if_needed,omitempty"`
}

// Round is a set of heats that may run side by side: no entry stands in two of them.
type Round struct {
	Number int `json:"number"`
	// Part is WinnersPart or LosersPart in a double elimination, for those who have not lost and those who
	// have lost once, PlatePart for those beaten at once in a knockout, and else empty.
	Part  string `json:"part,omitempty"`
	Heats []Heat `json:"heats"`
	// Byes are the seats that go on without a heat in this round.
	Byes []Slot `json:"byes,omitempty"`
}

// NoteCode names something that a draw could not do, or did on purpose, and that its readers should know.
type NoteCode string

// The notes of this package.
const (
	// ClubmatesMeet says that Entries, of one club, may meet already in Round because no better place was
	// free: a club of k is kept in k different sections as far as possible.
	ClubmatesMeet NoteCode = "clubmates-meet"
	// ClubmatesInGroup says that Entries, of one club, stand in one Group.
	ClubmatesInGroup NoteCode = "clubmates-in-group"
	// SeedsMoved says that Entries changed lines with seeds of their own group (3-4, 5-8, 9-16, ...) to
	// keep clubmates apart.
	SeedsMoved NoteCode = "seeds-moved"
	// RunInTurn says that Entries share a car and are drawn against each other: they run one after the other.
	RunInTurn NoteCode = "run-in-turn"
	// NoPlate says that a plate was asked for and is left out: fewer than two who are beaten at once have no other
	// heat to go to.
	NoPlate NoteCode = "no-plate"
	// NoThirdPlace says that a heat for third place was asked for and is left out: fewer than four are in the knockout.
	NoThirdPlace NoteCode = "no-third-place"
	// NoBFinal says that a B-final was asked for and is left out: fewer than two are left for it, or no final follows.
	NoBFinal NoteCode = "no-b-final"
	// FewerNextBest says that fewer next best go on from Round than were asked for, by Left: the final has no more
	// lanes, or nobody else ran.
	FewerNextBest NoteCode = "fewer-next-best"
)

// Note is a remark on a draw for its readers.
type Note struct {
	Code    NoteCode `json:"code"`
	Entries []int    `json:"entries,omitempty"`
	Round   int      `json:"round,omitempty"`
	Group   string   `json:"group,omitempty"`
	// Left is how many are left out, for FewerNextBest.
	Left int `json:"left,omitempty"`
}

// Draw is a whole plan. Rounds are in playing order: every slot points to an earlier round.
type Draw struct {
	Kind   Kind    `json:"kind"`
	Rounds []Round `json:"rounds"`
	Groups []Group `json:"groups,omitempty"`
	// Legs is 2 where every heat is run in two legs, with a decider when level; else 0 or 1.
	Legs  int    `json:"legs,omitempty"`
	Notes []Note `json:"notes,omitempty"`
}

// Group is a set of entries that all meet each other.
type Group struct {
	// Name is a letter: A, B, ..., Z, AA, AB, ...
	Name string `json:"name"`
	// Entries are in seed order.
	Entries []int `json:"entries"`
}

// HeatsTotal returns the number of heats of the plan, reserved ones included.
func (d *Draw) HeatsTotal() int {
	total := 0
	for _, r := range d.Rounds {
		total += len(r.Heats)
	}
	return total
}

// Heat returns the heat with the id, and whether there is one.
func (d *Draw) Heat(id string) (Heat, bool) {
	for _, r := range d.Rounds {
		for _, h := range r.Heats {
			if h.ID == id {
				return h, true
			}
		}
	}
	return Heat{}, false
}

// HeatID returns the id of a heat: round and place in the round, both from 1.
func HeatID(round, heat int) string { return fmt.Sprintf("%d.%d", round, heat) }

// Refusal says why something cannot be drawn: the rule that is broken and the entries that break it. Nothing
// was drawn.
type Refusal struct {
	// Rule is a short code of the rule.
	Rule string
	// Entries are the numbers of the entries concerned, in ascending order; it may be empty.
	Entries []int
	// Says is a sentence for an official that names no entry.
	Says string
}

// Error returns the sentence, with the numbers of the entries where there are some.
func (r *Refusal) Error() string {
	if len(r.Entries) == 0 {
		return r.Says
	}
	return fmt.Sprintf("%s (entries number %v)", r.Says, r.Entries)
}

func refuse(rule string, entries []int, format string, args ...any) *Refusal {
	sorted := slices.Clone(entries)
	slices.Sort(sorted)
	return &Refusal{Rule: rule, Entries: sorted, Says: fmt.Sprintf(format, args...)}
}
