package sheet

import (
	"errors"
	"slices"
	"strings"

	"benchmeet/bracket"
)

// DrawHelp shows the format of a draw.
const DrawHelp = `
Draws a competition. The same file always gives the same draw: chance comes from lot_seed alone
(SHA-256 of seed and counter, rejection sampling, Fisher-Yates).

  {"kind": "knockout", "lot_seed": 42,
   "entries": [{"id": "A", "seed": 1, "club": "north"}, {"id": "B", "seed": 2, "club": "south"},
               {"id": "C", "club": "north"}, {"id": "D", "car": "7"}],
   "options": {"third_place": true, "separate_clubs": true}}

Entries may name a seed (1, 2, 3, ... without holes; without one they are drawn by lot), a club and a car.
Entries of one car never stand in one heat of many; drawn against each other they run in turn.

Kinds and their options:
  knockout            seeds        how many entries count as seeded (all that name a seed)
                      order        nested, or by-lot: seeds 3-4, 5-8, 9-16 ... drawn within their group
                      lines        for by-lot: sections, or quarters (up to 8 seeds)
                      separate_clubs, third_place; plate: a knockout for those beaten at once;
                      legs: 2 for two legs with the benches swapped and a decider when level
  double-elimination  the same without third_place and plate; the reserved second final is marked if_needed
  round-robin         cycles (1): how often each two meet; Berger tables
  groups              groups, cycles (1), separate_clubs; advance: how many of each go on to a knockout,
                      next_best: how many more; third_place
  heats               lanes, heats (as few as needed), heat_order: zigzag or circle, circled (3),
                      centre_lanes; advance: how many of each go on, next_best: how many more;
                      b_final: a heat for the next best behind the finalists
  timed-rounds        lanes, rounds; entries that name a seed are dealt by it, else by lot. Without seeds a
                      published design is used where one fits, and the balance says how even meetings and the
                      lanes in use are; without rounds it takes those of the design. In full heats with as
                      many rounds as lanes everybody has each lane once; where all run in every heat and
                      are even in number, everybody also follows everybody else once on a lane
All know seeds; benches, where given, is the most lanes that a heat may have.

The answer lists rounds of heats. A lane is an entry, or says where one will come from:
{"winner_of": "1.1"}, {"loser_of": "1.1"}, {"heat": "1.1", "place": 2}, {"group": "A", "place": 1},
{"next_best": 3}; null stays empty. Notes say what could not be done, what was left out or cut, and which
options have no meaning for the kind.
`

// DrawInput is what is to be drawn.
type DrawInput struct {
	Kind    bracket.Kind `json:"kind"`
	LotSeed uint64       `json:"lot_seed"`
	Entries []drawEntry  `json:"entries"`
	Options drawOptions  `json:"options"`
}

type drawEntry struct {
	ID   string `json:"id"`
	Seed *int   `json:"seed"`
	Club string `json:"club"`
	Car  string `json:"car"`
}

type drawOptions struct {
	Seeds         *int              `json:"seeds"`
	Order         bracket.SeedOrder `json:"order"`
	Lines         bracket.Lines     `json:"lines"`
	SeparateClubs bool              `json:"separate_clubs"`
	ThirdPlace    bool              `json:"third_place"`
	Plate         bool              `json:"plate"`
	Legs          int               `json:"legs"`
	BFinal        bool              `json:"b_final"`
	Cycles        *int              `json:"cycles"`
	Groups        int               `json:"groups"`
	Heats         int               `json:"heats"`
	Lanes         int               `json:"lanes"`
	Rounds        int               `json:"rounds"`
	Advance       int               `json:"advance"`
	NextBest      int               `json:"next_best"`
	HeatOrder     bracket.HeatOrder `json:"heat_order"`
	Circled       int               `json:"circled"`
	CentreLanes   bool              `json:"centre_lanes"`
	Benches       int               `json:"benches"`
}

// DrawOutput is a draw as it is printed.
type DrawOutput struct {
	LotSeed    uint64      `json:"lot_seed"`
	Groups     []drawGroup `json:"groups,omitempty"`
	Rounds     []drawRound `json:"rounds"`
	HeatsTotal int         `json:"heats_total"`
	Legs       int         `json:"legs,omitempty"`
	// RunsAtLeast is how many heats an entry is sure to run, the least over all entries.
	RunsAtLeast int `json:"runs_at_least"`
	// Design and Balance say how timed rounds share lanes out.
	Design  bracket.DesignKind `json:"design,omitempty"`
	Balance *drawBalance       `json:"balance,omitempty"`
	Notes   []drawNote         `json:"notes,omitempty"`
}

// drawBalance gives the least and the most.
type drawBalance struct {
	RunsPerEntry    [2]int `json:"runs_per_entry"`
	MeetingsPerPair [2]int `json:"meetings_per_pair"`
	RunsPerLane     [2]int `json:"runs_per_entry_and_lane"`
}

type drawGroup struct {
	Name    string   `json:"name"`
	Entries []string `json:"entries"`
}

type drawRound struct {
	Number int        `json:"number"`
	Part   string     `json:"part,omitempty"`
	Heats  []drawHeat `json:"heats"`
	Byes   []any      `json:"byes,omitempty"`
}

type drawHeat struct {
	ID       string          `json:"id"`
	Group    string          `json:"group,omitempty"`
	Lanes    []any           `json:"lanes"`
	Purpose  bracket.Purpose `json:"purpose,omitempty"`
	IfNeeded bool            `json:"if_needed,omitempty"`
}

type drawNote struct {
	Code    bracket.NoteCode `json:"code"`
	Entries []string         `json:"entries,omitempty"`
	Round   int              `json:"round,omitempty"`
	Group   string           `json:"group,omitempty"`
	Says    string           `json:"says"`
}

// Draw draws. The same input gives the same DrawOutput.
func Draw(in DrawInput) (any, error) {
	entries, seeded, err := seedOrder(in.Entries)
	if err != nil {
		return nil, err
	}
	if o := in.Options; o.Benches < 0 || o.Benches > 0 && o.Lanes > o.Benches {
		return nil, Refuse("options: %d lanes need as many benches, there are %d; take fewer lanes", o.Lanes, o.Benches)
	}
	// Fewer than are named may be asked for: the lot then places the others.
	seeds := seeded
	if in.Options.Seeds != nil {
		seeds = *in.Options.Seeds
		if seeds > seeded {
			return nil, Refuse("options: %d seeds are asked for, but only %d entries name a seed", seeds, seeded)
		}
	}
	draw, known := drawKinds[in.Kind]
	if !known {
		return nil, Refuse("the kind %q is not known; known are: %s", in.Kind, strings.Join(sortedKinds(), ", "))
	}
	d, err := draw(in, drawField{
		entries: entries, seeds: seeds, clubs: drawClubs(entries, in.Options.SeparateClubs), cars: drawCars(entries),
	})
	if err != nil {
		return nil, drawRefusal(err, entries)
	}
	out := showDraw(in.LotSeed, d.Draw, entries)
	// What an option did not change is said, for somebody who set it expects something of it.
	out.Notes = append(out.Notes, ignoredOptions(in, seeded)...)
	out.Design = d.design
	if d.design != "" {
		out.Balance = &drawBalance{
			RunsPerEntry:    [2]int{d.balance.RunsLeast, d.balance.RunsMost},
			MeetingsPerPair: [2]int{d.balance.MeetsLeast, d.balance.MeetsMost},
			RunsPerLane:     [2]int{d.balance.LaneLeast, d.balance.LaneMost},
		}
	}
	return out, nil
}

// drawField is who is drawn: the entries in seed order, of whom the first are seeds.
type drawField struct {
	entries     []drawEntry
	seeds       int
	clubs, cars []int
}

// drawn is a draw, for timed rounds with how it shares lanes out.
type drawn struct {
	*bracket.Draw
	design  bracket.DesignKind
	balance bracket.Balance
}

// drawKinds draws each kind.
var drawKinds = map[bracket.Kind]func(DrawInput, drawField) (drawn, error){
	bracket.KnockoutKind: func(in DrawInput, f drawField) (drawn, error) {
		d, err := bracket.Knockout(len(f.entries), knockoutOptions(in, f))
		return drawn{Draw: d}, err
	},
	bracket.DoubleEliminationKind: func(in DrawInput, f drawField) (drawn, error) {
		d, err := bracket.DoubleElimination(len(f.entries), knockoutOptions(in, f))
		return drawn{Draw: d}, err
	},
	bracket.RoundRobinKind: func(in DrawInput, f drawField) (drawn, error) {
		d, err := bracket.RoundRobin(len(f.entries), bracket.RoundRobinOptions{
			Cycles: in.Options.cycles(), Seeds: f.seeds, Cars: f.cars, LotSeed: in.LotSeed,
		})
		return drawn{Draw: d}, err
	},
	bracket.GroupsKind: func(in DrawInput, f drawField) (drawn, error) {
		o := in.Options
		d, err := bracket.Groups(len(f.entries), bracket.GroupOptions{
			Groups: o.Groups, Cycles: o.cycles(), Seeds: f.seeds, Clubs: f.clubs, Cars: f.cars,
			Advance: o.Advance, NextBest: o.NextBest, ThirdPlace: o.ThirdPlace, LotSeed: in.LotSeed,
		})
		return drawn{Draw: d}, err
	},
	bracket.HeatsKind: func(in DrawInput, f drawField) (drawn, error) {
		o := in.Options
		d, err := bracket.Heats(len(f.entries), bracket.HeatsOptions{
			Lanes: o.Lanes, Heats: o.Heats, Order: o.HeatOrder, Circled: o.Circled, CentreLanes: o.CentreLanes,
			Advance: o.Advance, NextBest: o.NextBest, BFinal: o.BFinal, Seeds: f.seeds, Cars: f.cars, LotSeed: in.LotSeed,
		})
		return drawn{Draw: d}, err
	},
	bracket.TimedRoundsKind: drawTimedRounds,
}

// drawTimedRounds deals by seed where everybody names one; else lanes and meetings are shared out evenly.
func drawTimedRounds(in DrawInput, f drawField) (drawn, error) {
	o := bracket.TimedOptions{Lanes: in.Options.Lanes, Heats: in.Options.Heats, Cars: f.cars, LotSeed: in.LotSeed}
	if f.seeds == 0 || f.seeds < len(f.entries) {
		d, design, balance, err := bracket.ShareOut(len(f.entries), in.Options.Rounds, o)
		return drawn{d, design, balance}, err
	}
	o.Order = bracket.DealBySeed
	d, err := bracket.TimedRounds(len(f.entries), max(1, in.Options.Rounds), o)
	return drawn{Draw: d}, err
}

func knockoutOptions(in DrawInput, f drawField) bracket.KnockoutOptions {
	o := in.Options
	return bracket.KnockoutOptions{
		Seeds: f.seeds, Order: o.Order, Lines: o.Lines, ThirdPlace: o.ThirdPlace, Plate: o.Plate, Legs: o.Legs,
		Clubs: f.clubs, Cars: f.cars, LotSeed: in.LotSeed,
	}
}

// cycles is 1 where the file does not say.
func (o drawOptions) cycles() int {
	if o.Cycles == nil {
		return 1
	}
	return *o.Cycles
}

func sortedKinds() []string {
	var kinds []string
	for kind := range drawKinds {
		kinds = append(kinds, string(kind))
	}
	slices.Sort(kinds)
	return kinds
}

// drawRefusal words a refusal of the bracket with the ids of the entries.
func drawRefusal(err error, entries []drawEntry) error {
	var no *bracket.Refusal
	if !errors.As(err, &no) {
		return err
	}
	if len(no.Entries) == 0 {
		return Refuse("%s", no.Says)
	}
	return Refuse("entries %s: %s", strings.Join(entryIDs(entries, no.Entries), ", "), no.Says)
}

func entryIDs(entries []drawEntry, numbers []int) []string {
	ids := make([]string, len(numbers))
	for i, n := range numbers {
		ids[i] = entries[n].ID
	}
	return ids
}
