package day

import (
	"maps"

	"benchmeet/bracket"
)

// DrawnUS is when the last round was drawn; 0 before the first.
func (p Programme) DrawnUS() int64 {
	last, _ := p.Current()
	return last.DrawnUS
}

// State is the day so far: the fold of its events. Values in the maps are
// replaced, never changed in place, so that a Clone stays as it was.
type State struct {
	Seq    int64 `json:"seq"`
	TimeUS int64 `json:"time_us"` // of the last event

	Planned   bool                    `json:"planned"`
	Plan      Plan                    `json:"plan"`
	Rules     Rules                   `json:"rules"`
	Divisions map[DivisionID]Division `json:"divisions"`
	Benches   map[BenchID]Bench       `json:"benches"`
	Entries   map[EntryID]Entry       `json:"entries"`
	// Numbers leads from a start number to its entry.
	Numbers map[int]EntryID `json:"numbers"`
	// Programmes say how far each division is.
	Programmes map[DivisionID]Programme `json:"programmes"`
	Heats      map[HeatID]Heat          `json:"heats"`
	Runs       map[RunID]Run            `json:"runs"`
	Protests   map[ProtestID]Protest    `json:"protests"`

	Rulings     []Ruling `json:"rulings"`
	Corrections int      `json:"corrections"`
	// Factors are the sets of bench factors that rulings adopted, oldest first.
	Factors []FactorSet `json:"factors,omitempty"`

	// Packs are the battery packs of the day, Inspections how the cars of entries
	// stand at the inspection table.
	Packs       map[PackID]Pack        `json:"packs,omitempty"`
	Inspections map[EntryID]inspection `json:"inspections,omitempty"`
	// Wanted are the benches that wait for an official.
	Wanted map[BenchID]Ask `json:"wanted,omitempty"`
	// BatteriesSinceUS is since when battery checks are asked for anew: the end of
	// the last pause.
	BatteriesSinceUS int64 `json:"batteries_since_us,omitempty"`

	Paused        bool       `json:"paused"`
	PausedUS      int64      `json:"paused_us,omitempty"`
	PausedBecause ReasonCode `json:"paused_because,omitempty"`
	// resumedUS is the end of the last pause.
	resumedUS int64

	// Told is what was told of the day's times last; nil before anything was.
	Told *Told `json:"told,omitempty"`
	// Order is the order that was given to heats that wait, and Held until when some are
	// not to be called.
	Order []HeatID         `json:"order,omitempty"`
	Held  map[HeatID]int64 `json:"held,omitempty"`

	// Adults are the adults at the benches as they were counted, oldest first.
	Adults []AdultsSince `json:"adults,omitempty"`
	// Cuts is what may be left out of the day; nil before anything was chosen.
	Cuts *CutList `json:"cuts,omitempty"`

	// Away is what was put away: it is part of the log and of nothing else.
	Away away `json:"away,omitzero"`

	// rests are the long stretches without events, oldest first: they tell where a clock
	// leapt. They follow from the times of the events.
	rests rests

	// Changed says when parts of the day changed last. It is no fact of its own: it
	// follows from the events like the rest, and is not kept anywhere.
	Changed changes `json:"-"`
}

// Programme says how far a division is.
type Programme struct {
	// EntriesClosed stands before the first draw.
	EntriesClosed bool `json:"entries_closed"`
	// Short is set where somebody closed the entries knowing that the programme makes sure
	// of fewer races than promised.
	Short *ShortOfPromise `json:"short,omitempty"`
	// EndedEarly is set where a ruling ended the division before its last round.
	EndedEarly bool         `json:"ended_early,omitempty"`
	Stages     []StageState `json:"stages"` // those that were drawn
	// MergedInto is the division in which this one races, if it does not by itself.
	MergedInto DivisionID `json:"merged_into,omitempty"`
	// Seeding is the seed order that was given for the draw of a stage.
	Seeding *SeedList `json:"seeding,omitempty"`
	// LetStand is the sum of what a ruling has let stand of a draw that is outdated.
	LetStand string `json:"let_stand,omitempty"`
	// Published are the standings that were published, oldest first.
	Published []Publication `json:"published,omitempty"`
	// SteppedUS is when its entries or its last round were closed, or it was ended: since
	// then its next step is due.
	SteppedUS int64 `json:"-"`
}

// StageState is a stage that was drawn.
type StageState struct {
	// Seeds are the entries in seed order as the draw took them.
	Seeds  []EntryID    `json:"seeds"`
	Rounds []RoundState `json:"rounds"`
	// Tree is the whole draw of a stage that has one, over positions in Seeds.
	Tree *bracket.Draw `json:"tree,omitempty"`
	// Design is how the lanes of a stage with a lane design are shared out, and
	// Benches are the benches that it counts on, in plate order.
	Design  bracket.DesignKind `json:"design,omitempty"`
	Benches []BenchID          `json:"benches,omitempty"`
}

// RoundState is a round that was drawn.
type RoundState struct {
	Heats []HeatID  `json:"heats"`
	Byes  []EntryID `json:"byes,omitempty"`
	// ByeReasons explain the bye of a Swiss round.
	ByeReasons []bracket.Reason `json:"bye_reasons,omitempty"`
	LotSeed    uint64           `json:"lot_seed"`
	Method     string           `json:"method"` // of the draw, with its version
	Closed     bool             `json:"closed"`
	DrawnUS    int64            `json:"drawn_us"`
	// Factors is the number of the factor set that its results were closed with, 0 for
	// none.
	Factors int `json:"factors,omitempty"`
	// Spent are the numbers of heats that were called and then drawn again: no other heat
	// has them, since a bench may still send what it ran for their call.
	Spent []int `json:"spent,omitempty"`
}

// Publication is a final standing as it was published.
type Publication struct {
	Number int      `json:"number"` // from 1; later ones correct earlier ones
	AtUS   int64    `json:"at_us"`
	Ranks  []Placed `json:"ranks"`
	// Rulings is how many there had been, so that later ones are known.
	Rulings int `json:"rulings"`
}

// Placed is one line of a publication.
type Placed struct {
	Rank  int     `json:"rank"` // 0 is unranked
	Entry EntryID `json:"entry"`
}

// New is the state of a meet without events.
func New() *State {
	return &State{
		Divisions:  map[DivisionID]Division{},
		Benches:    map[BenchID]Bench{},
		Entries:    map[EntryID]Entry{},
		Numbers:    map[int]EntryID{},
		Programmes: map[DivisionID]Programme{},
		Heats:      map[HeatID]Heat{},
		Runs:       map[RunID]Run{},
		Protests:   map[ProtestID]Protest{},
		Rulings:    []Ruling{},

		Packs: map[PackID]Pack{}, Inspections: map[EntryID]inspection{},

		Changed: newChanges(),
	}
}

// Clone is a copy that Evolve may change while others read s. It costs a copy
// of each map's table, not of what the values point to.
func (s *State) Clone() *State {
	c := *s
	c.Divisions = maps.Clone(s.Divisions)
	c.Benches = maps.Clone(s.Benches)
	c.Entries = maps.Clone(s.Entries)
	c.Numbers = maps.Clone(s.Numbers)
	c.Programmes = maps.Clone(s.Programmes)
	c.Heats = maps.Clone(s.Heats)
	c.Runs = maps.Clone(s.Runs)
	c.Protests = maps.Clone(s.Protests)
	c.Packs = maps.Clone(s.Packs)
	c.Inspections = maps.Clone(s.Inspections)
	c.Wanted = maps.Clone(s.Wanted)
	c.Away.Divisions = maps.Clone(s.Away.Divisions)
	c.Away.Entries = maps.Clone(s.Away.Entries)
	c.Changed = s.Changed.clone()
	return &c
}
