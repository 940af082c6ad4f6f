package sheet

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"benchmeet/bracket"
)

// PairHelp shows the format of a Swiss round.
const PairHelp = `
Pairs the next round of a Swiss: equal points meet where possible, nobody meets twice, nobody has a second
bye, and benches are shared out as colours are in the rule book.

  {"round": 2, "rounds_total": 5, "lot_seed": 42,
   "entries": [{"id": "A", "rank": 1, "points": 1, "opponents": ["C"], "sides": ["L"]},
               {"id": "B", "rank": 2, "points": 1, "opponents": ["D"], "sides": ["R"]},
               {"id": "C", "rank": 3, "points": 0, "opponents": ["A"], "sides": ["R"], "floats": [""]},
               {"id": "D", "rank": 4, "points": 0, "opponents": ["B"], "sides": ["L"], "withdrawn": false},
               {"id": "E", "rank": 5, "points": 1, "opponents": [null], "sides": [""], "floats": ["down"], "bye": true}]}

  rank       the order before the first round, 1 the best; the order of the list where nobody names one
  opponents  one a round so far, null for a bye or a round not run; shorter for who came late, and for who left
  sides      L, R or empty; floats: down, up or empty
  bye        had a bye, or a win without a race
  withdrawn  is not paired; keep such entries in the list while others have met them
  car        entries of one car meet last of all, and run one after the other
  win        what a win is worth (1)

The first named of a heat runs on the left bench. It follows the FIDE Dutch system (C.04.3, order of criteria of
the 2016 edition), weighed over the whole field at once: the fewest who leave each score group, the smallest score
differences (of all pairs, the largest first), then sides and floats. Histories that contradict each other are
refused. Where no legal pairing is left, the side rules give way
first, then the second bye, then the rematch; why says so. What is equal by every rule is decided by lot: the same
file gives the same pairing.
`

// PairInput is a Swiss with its rounds so far.
type PairInput struct {
	Round       int         `json:"round"`
	RoundsTotal int         `json:"rounds_total"`
	LotSeed     uint64      `json:"lot_seed"`
	Win         json.Number `json:"win"`
	Entries     []pairEntry `json:"entries"`
}

type pairEntry struct {
	ID        string      `json:"id"`
	Rank      *int        `json:"rank"`
	Points    json.Number `json:"points"`
	Opponents []*string   `json:"opponents"`
	Sides     []*string   `json:"sides"`
	Floats    []*string   `json:"floats"`
	Bye       bool        `json:"bye"`
	Withdrawn bool        `json:"withdrawn"`
	Car       string      `json:"car"`
}

// PairOutput is the next round, with reasons.
type PairOutput struct {
	Heats [][2]string `json:"heats"`
	Bye   *string     `json:"bye"`
	Why   []pairWhy   `json:"why"`
}

type pairWhy struct {
	Heat    []string         `json:"heat,omitempty"`
	Bye     string           `json:"bye,omitempty"`
	Reasons []bracket.Reason `json:"reasons"`
	Says    string           `json:"says"`
}

// pairUnit is the unit of points here: six decimal places.
const pairUnit = 1_000_000

// Pair pairs the next round. The same input gives the same PairOutput.
func Pair(in PairInput) (any, error) {
	ordered, err := pairOrder(in.Entries)
	if err != nil {
		return nil, err
	}
	o := bracket.SwissOptions{Round: in.Round, Rounds: in.RoundsTotal, Win: pairUnit, LotSeed: in.LotSeed}
	if in.Win != "" {
		if o.Win, err = rankWhole(in.Win, pairUnit); err != nil {
			return nil, fmt.Errorf("win: %w", err)
		}
	}
	entries, err := pairEntries(ordered)
	if err != nil {
		return nil, err
	}
	round, err := bracket.NextSwissRound(entries, o)
	if err != nil {
		// The refusal names entries by number; here they get their ids back.
		named := make([]drawEntry, len(ordered))
		for i, e := range ordered {
			named[i].ID = e.ID
		}
		return nil, drawRefusal(err, named)
	}
	out := PairOutput{Heats: [][2]string{}, Why: []pairWhy{}}
	for _, p := range round.Pairs {
		first, second := ordered[p.First].ID, ordered[p.Second].ID
		out.Heats = append(out.Heats, [2]string{first, second})
		out.Why = append(out.Why, pairWhy{Heat: []string{first, second}, Reasons: p.Reasons, Says: reasonsSay(p.Reasons)})
	}
	if round.Bye >= 0 {
		out.Bye = &ordered[round.Bye].ID
		out.Why = append(out.Why, pairWhy{Bye: *out.Bye, Reasons: round.ByeReasons, Says: reasonsSay(round.ByeReasons)})
	}
	return out, nil
}

// pairOrder puts the entries in the order of their rank.
func pairOrder(entries []pairEntry) ([]pairEntry, error) {
	seen := map[string]bool{}
	byRank := map[int]string{}
	ranked := slices.ContainsFunc(entries, func(e pairEntry) bool { return e.Rank != nil })
	for i, e := range entries {
		if e.ID == "" {
			return nil, Refuse("entries: number %d has no id", i+1)
		}
		if seen[e.ID] {
			return nil, Refuse("entry %s is listed twice; each id stands for one entry", e.ID)
		}
		seen[e.ID] = true
		if !ranked {
			continue
		}
		if e.Rank == nil {
			return nil, Refuse("entry %s names no rank, but others do", e.ID)
		}
		if other, taken := byRank[*e.Rank]; taken {
			return nil, Refuse("entries %s and %s both have the rank %d", other, e.ID, *e.Rank)
		}
		byRank[*e.Rank] = e.ID
	}
	ordered := slices.Clone(entries)
	if ranked {
		slices.SortFunc(ordered, func(a, b pairEntry) int { return cmp.Compare(*a.Rank, *b.Rank) })
	}
	return ordered, nil
}

func pairEntries(ordered []pairEntry) ([]bracket.SwissEntry, error) {
	index := map[string]int{}
	named := make([]drawEntry, len(ordered))
	// All are numbered before any is read, because opponents name each other.
	for i, e := range ordered {
		index[e.ID] = i
		named[i] = drawEntry{ID: e.ID, Car: e.Car}
	}
	cars := numberNames(named, func(e drawEntry) string { return e.Car })
	entries := make([]bracket.SwissEntry, len(ordered))
	for i, e := range ordered {
		x := bracket.SwissEntry{HadBye: e.Bye, Absent: e.Withdrawn, Car: cars[i]}
		if e.Points != "" {
			var err error
			if x.Points, err = rankWhole(e.Points, pairUnit); err != nil {
				return nil, fmt.Errorf("points of entry %s: %w", e.ID, err)
			}
		}
		for r, id := range e.Opponents {
			// Null stands for a round without an opponent.
			other := -1
			if id != nil {
				known := false
				if other, known = index[*id]; !known {
					return nil, Refuse("entry %s met %q in its round %d, who is not listed; list who left with \"withdrawn\": true", e.ID, *id, r+1)
				}
			}
			x.Opponents = append(x.Opponents, other)
		}
		for _, text := range e.Sides {
			side, known := map[string]bracket.Side{"": bracket.NoSide, "L": bracket.Left, "R": bracket.Right}[orEmpty(text)]
			if !known {
				return nil, Refuse("entry %s has had the side %q; sides are L, R or empty", e.ID, *text)
			}
			x.Sides = append(x.Sides, side)
		}
		for _, text := range e.Floats {
			float, known := map[string]bracket.Float{"": bracket.NoFloat, "down": bracket.FloatDown, "up": bracket.FloatUp}[orEmpty(text)]
			if !known {
				return nil, Refuse("entry %s has the float %q; floats are down, up or empty", e.ID, *text)
			}
			x.Floats = append(x.Floats, float)
		}
		entries[i] = x
	}
	return entries, nil
}

func orEmpty(text *string) string {
	if text == nil {
		return ""
	}
	return *text
}

// reasonTexts words the reasons of a pairing.
var reasonTexts = map[bracket.Reason]string{
	bracket.SameScore:     "same score group",
	bracket.FloatsDown:    "one with more points meets the score group below",
	bracket.SidesWished:   "both get the side they are due",
	bracket.SideOfOne:     "one is due a side and gets it",
	bracket.SideStronger:  "both are due one side, the one more often denied it gets it",
	bracket.SideHistory:   "both are due one side, so the sides of their last differing round are turned",
	bracket.SideOfFirst:   "both are due one side, the better placed gets it",
	bracket.SideByNumber:  "nobody is due a side, so sides go by lot and number",
	bracket.ByeLowest:     "the lowest who may have a bye",
	bracket.RelaxedSide:   "no legal pairing was left: a side is given too often",
	bracket.RelaxedBye:    "no legal pairing was left: a second bye",
	bracket.RelaxedRemeet: "no legal pairing was left: the two meet again",
	bracket.TopScorers:    "in the last round a top scorer may have a side too often",
	bracket.OneCar:        "they share a car and run one after the other",
}

func reasonsSay(reasons []bracket.Reason) string {
	var says []string
	for _, r := range reasons {
		says = append(says, reasonTexts[r])
	}
	return strings.Join(says, "; ")
}
