package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"benchmeet/bracket"
)

const drawHelp = `
Draws a competition. The same file always gives the same draw: chance comes from lot_seed alone
(SHA-256 of seed and counter, rejection sampling, Fisher-Yates).

  {"kind": "knockout", "lot_seed": 42,
   "entries": [{"id": "A", "seed": 1, "club": "north"}, {"id": "B", "seed": 2, "club": "south"},
               {"id": "C", "club": "north"}, {"id": "D", "car": "7"}],
   "options": {"third_place": true, "separate_clubs": true}}

Entries may name a seed (1, 2, 3, ... without holes; without one they are drawn by lot), a club and a car.
Entries of one car never stand in one heat of many; drawn against each other they run in turn.

Kinds and their options:
  knockout   seeds        how many entries count as seeded (all that name a seed)
             order        nested, or by-lot: seeds 3-4, 5-8, 9-16 ... drawn among the lines of their group
             lines        for by-lot: sections, or quarters (up to 8 seeds)
             separate_clubs, third_place

The answer lists rounds of heats. A lane is an entry, or says where one will come from:
{"winner_of": "1.1"}, {"loser_of": "1.1"}, {"heat": "1.1", "place": 2}, {"group": "A", "place": 1},
{"next_best": 3}. Notes say what could not be done.
`

// newDrawCommand makes the subcommand that draws from a file.
func newDrawCommand() *cobra.Command {
	return newComputation("draw", "Draw a knockout, groups, a round robin or heats from a file", drawHelp, computeDraw)
}

type drawInput struct {
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
	Cycles        int               `json:"cycles"`
	Groups        int               `json:"groups"`
	Heats         int               `json:"heats"`
	Lanes         int               `json:"lanes"`
	Advance       int               `json:"advance"`
	HeatOrder     string            `json:"heat_order"`
	Benches       int               `json:"benches"`
}

type drawOutput struct {
	LotSeed    uint64      `json:"lot_seed"`
	Groups     []drawGroup `json:"groups,omitempty"`
	Rounds     []drawRound `json:"rounds"`
	HeatsTotal int         `json:"heats_total"`
	Notes      []drawNote  `json:"notes,omitempty"`
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
	Says    string           `json:"says"`
}

func computeDraw(in drawInput) (any, error) {
	entries, seeded, err := seedOrder(in.Entries)
	if err != nil {
		return nil, err
	}
	if o := in.Options; o.Benches < 0 || o.Benches > 0 && o.Lanes > o.Benches {
		return nil, refuse("options: %d lanes need as many benches, there are %d; take fewer lanes", o.Lanes, o.Benches)
	}
	seeds := seeded
	if in.Options.Seeds != nil {
		seeds = *in.Options.Seeds
		if seeds > seeded {
			return nil, refuse("options: %d seeds are asked for, but only %d entries name a seed", seeds, seeded)
		}
	}
	d, err := drawKind(in, entries, seeds)
	if err != nil {
		return nil, drawRefusal(err, entries)
	}
	return showDraw(in.LotSeed, d, entries), nil
}

func drawKind(in drawInput, entries []drawEntry, seeds int) (*bracket.Draw, error) {
	o := in.Options
	clubs, cars := drawClubs(entries, o.SeparateClubs), drawCars(entries)
	switch in.Kind {
	case bracket.KnockoutKind:
		return bracket.Knockout(len(entries), bracket.KnockoutOptions{
			Seeds: seeds, Order: o.Order, Lines: o.Lines, ThirdPlace: o.ThirdPlace,
			Clubs: clubs, Cars: cars, LotSeed: in.LotSeed,
		})
	}
	return nil, refuse("the kind %q is not known; known are: %s", in.Kind, strings.Join(drawKinds(), ", "))
}

func drawKinds() []string {
	return []string{string(bracket.KnockoutKind)}
}

// seedOrder puts the entries that name a seed first, in its order, and the others behind them as listed. It
// refuses ids that are missing or double and seeds that are not 1, 2, 3, ...
func seedOrder(entries []drawEntry) (ordered []drawEntry, seeded int, err error) {
	seen := map[string]bool{}
	bySeed := map[int]string{}
	for i, e := range entries {
		if e.ID == "" {
			return nil, 0, refuse("entries: number %d has no id", i+1)
		}
		if seen[e.ID] {
			return nil, 0, refuse("entry %s is listed twice; each id stands for one entry", e.ID)
		}
		seen[e.ID] = true
		if e.Seed == nil {
			continue
		}
		if *e.Seed < 1 {
			return nil, 0, refuse("entry %s has the seed %d; seeds count from 1", e.ID, *e.Seed)
		}
		if other, taken := bySeed[*e.Seed]; taken {
			return nil, 0, refuse("entries %s and %s both have the seed %d", other, e.ID, *e.Seed)
		}
		bySeed[*e.Seed] = e.ID
	}
	for seed := 1; seed <= len(bySeed); seed++ {
		if _, taken := bySeed[seed]; !taken {
			return nil, 0, refuse("nobody has the seed %d, but %d entries name a seed; seeds are 1, 2, 3, ... without holes", seed, len(bySeed))
		}
	}
	ordered = slices.Clone(entries)
	slices.SortStableFunc(ordered, func(a, b drawEntry) int {
		switch {
		case a.Seed != nil && b.Seed != nil:
			return *a.Seed - *b.Seed
		case a.Seed != nil:
			return -1
		case b.Seed != nil:
			return 1
		}
		return 0
	})
	return ordered, len(bySeed), nil
}

// drawClubs numbers the clubs, or returns nil when clubmates need not be kept apart.
func drawClubs(entries []drawEntry, separate bool) []int {
	if !separate {
		return nil
	}
	return numberNames(entries, func(e drawEntry) string { return e.Club })
}

// drawCars numbers the cars, or returns nil when nobody names one.
func drawCars(entries []drawEntry) []int {
	if !slices.ContainsFunc(entries, func(e drawEntry) bool { return e.Car != "" }) {
		return nil
	}
	return numberNames(entries, func(e drawEntry) string { return e.Car })
}

func numberNames(entries []drawEntry, name func(drawEntry) string) []int {
	known := map[string]int{}
	numbers := make([]int, len(entries))
	for i, e := range entries {
		n := name(e)
		if n == "" {
			numbers[i] = -1
			continue
		}
		if _, seen := known[n]; !seen {
			known[n] = len(known)
		}
		numbers[i] = known[n]
	}
	return numbers
}

// drawRefusal words a refusal of the bracket with the ids of the entries.
func drawRefusal(err error, entries []drawEntry) error {
	var no *bracket.Refusal
	if !errors.As(err, &no) {
		return err
	}
	if len(no.Entries) == 0 {
		return refuse("%s", no.Says)
	}
	return refuse("entries %s: %s", strings.Join(entryIDs(entries, no.Entries), ", "), no.Says)
}

func entryIDs(entries []drawEntry, numbers []int) []string {
	ids := make([]string, len(numbers))
	for i, n := range numbers {
		ids[i] = entries[n].ID
	}
	return ids
}

func showDraw(lotSeed uint64, d *bracket.Draw, entries []drawEntry) drawOutput {
	out := drawOutput{LotSeed: lotSeed, HeatsTotal: d.HeatsTotal()}
	for _, g := range d.Groups {
		out.Groups = append(out.Groups, drawGroup{g.Name, entryIDs(entries, g.Entries)})
	}
	for _, r := range d.Rounds {
		round := drawRound{Number: r.Number, Part: r.Part, Heats: []drawHeat{}, Byes: showSlots(r.Byes, entries)}
		for _, h := range r.Heats {
			round.Heats = append(round.Heats, drawHeat{
				ID: h.ID, Group: h.Group, Lanes: showSlots(h.Lanes, entries), Purpose: h.Purpose, IfNeeded: h.IfNeeded,
			})
		}
		out.Rounds = append(out.Rounds, round)
	}
	for _, n := range d.Notes {
		ids := entryIDs(entries, n.Entries)
		out.Notes = append(out.Notes, drawNote{n.Code, ids, n.Round, noteSays(n, ids)})
	}
	return out
}

func showSlots(slots []bracket.Slot, entries []drawEntry) []any {
	var shown []any
	for _, s := range slots {
		switch s.Kind {
		case bracket.EntrySlot:
			shown = append(shown, entries[s.Entry].ID)
		case bracket.WinnerSlot:
			shown = append(shown, map[string]any{"winner_of": s.Heat})
		case bracket.LoserSlot:
			shown = append(shown, map[string]any{"loser_of": s.Heat})
		case bracket.PlaceSlot:
			shown = append(shown, map[string]any{"heat": s.Heat, "place": s.Place})
		case bracket.GroupSlot:
			shown = append(shown, map[string]any{"group": s.Group, "place": s.Place})
		case bracket.NextBestSlot:
			shown = append(shown, map[string]any{"next_best": s.Place})
		}
	}
	return shown
}

// noteSays words the notes of a draw.
func noteSays(n bracket.Note, ids []string) string {
	who := strings.Join(ids, " and ")
	switch n.Code {
	case bracket.ClubmatesMeet:
		return fmt.Sprintf("%s, of one club, may meet in round %d: no better place was free", who, n.Round)
	case bracket.SeedsMoved:
		return fmt.Sprintf("%s changed places within their group of seeds to keep clubmates apart", strings.Join(ids, ", "))
	case bracket.RunInTurn:
		return fmt.Sprintf("%s share a car: they run one after the other", who)
	case bracket.MeetAgain:
		return fmt.Sprintf("%s meet again in round %d", who, n.Round)
	}
	return string(n.Code)
}
