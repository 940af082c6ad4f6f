package bracket

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

type swissFile struct {
	RoundOne struct {
		Cases []struct {
			N        int
			Colour   string   `json:"seed1_colour"`
			Expected [][2]int `json:"expected_white_black"`
			Bye      int
		}
	} `json:"round_one"`
}

// FIDE Handbook C.04.2, "Brief examples of pairing": round one of 40, by both lots; 14 and 15 derived.
func TestSwissRoundOne(t *testing.T) {
	var file swissFile
	readJSON(t, "swiss_dutch.json", &file)
	lot := map[Side]uint64{}
	for seed := uint64(0); len(lot) < 2; seed++ {
		lot[(&swiss{options: SwissOptions{LotSeed: seed}}).byNumber(0)] = seed
	}
	if len(file.RoundOne.Cases) == 0 {
		t.Fatal("no case was read")
	}
	for _, c := range file.RoundOne.Cases {
		seed := lot[Left]
		if c.Colour == "B" {
			seed = lot[Right]
		}
		entries, o := newcomers(c.N), SwissOptions{Round: 1, Rounds: 5, Win: 2, LotSeed: seed}
		round, err := NextSwissRound(entries, o)
		if err != nil {
			t.Fatal(err)
		}
		var got [][2]int
		for _, p := range round.Pairs {
			got = append(got, [2]int{p.First + 1, p.Second + 1})
		}
		if diff := cmp.Diff(c.Expected, got); diff != "" {
			t.Errorf("%d entries, first one %s (-want +got):\n%s", c.N, c.Colour, diff)
		}
		if want := c.Bye - 1; round.Bye != want {
			t.Errorf("%d entries: bye of %d, want %d", c.N, round.Bye, want)
		}
	}
}

func newcomers(n int) []SwissEntry {
	entries := make([]SwissEntry, n)
	for i := range entries {
		entries[i].Car = -1
	}
	return entries
}

func sides(text string) []Side {
	var s []Side
	for _, c := range text {
		s = append(s, map[rune]Side{'W': Left, 'B': Right, '-': NoSide}[c])
	}
	return s
}

func TestPreferredSide(t *testing.T) {
	tests := []struct {
		history string
		want    preference
	}{
		{"", preference{}},
		{"--", preference{}},
		{"W", preference{Right, strong, 1}},
		{"WB", preference{Left, mild, 0}},
		{"BW-", preference{Right, mild, 0}},
		{"WW", preference{Right, absolute, 2}},
		{"BWW", preference{Right, absolute, 1}},
		{"WWBB", preference{Left, absolute, 0}},
		{"WBW-W", preference{Right, absolute, 2}},
		{"BBW", preference{Left, strong, -1}},
	}
	for _, tt := range tests {
		t.Run(tt.history, func(t *testing.T) {
			if got := preferred(sides(tt.history)); got != tt.want {
				t.Errorf("got %+v, want %+v", got, tt.want)
			}
		})
	}
}

func TestSides(t *testing.T) {
	tests := []struct {
		name string
		a, b string
		want Side
		why  Reason
	}{
		{"both get what they are due", "WB", "BW", Left, SidesWished},
		{"the stronger", "WB", "BWB", Right, SideStronger},
		{"one has no history", "WB", "--", Left, SideOfOne},
		{"the other has no history", "", "W", Left, SideOfOne},
		{"two absolute: the wider", "WBB", "BB", Right, SideStronger},
		// Public correspondence on rule E.3 (2006): both must have white, and four rounds ago, the last time
		// that they differed, the one ranked first had it: now the other gets it.
		{"two absolute: by history before rank", "BWWBB", "WBWBB", Right, SideHistory},
		{"the same with gaps", "BWW-BB", "WB-WBB", Right, SideHistory},
		{"equal in all: the one ranked first", "WB", "WB", Left, SideOfFirst},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			entries := newcomers(2)
			entries[0].Sides, entries[1].Sides = sides(tt.a), sides(tt.b)
			got, why := (&swiss{entries: entries}).sideOf(0, 1)
			if got != tt.want || why != tt.why {
				t.Errorf("got %d, %s; want %d, %s", got, why, tt.want, tt.why)
			}
		})
	}
}

func TestSwissHistory(t *testing.T) {
	got, err := SwissHistory(4, [][]SwissOutcome{
		{{First: 0, Second: 1, FirstPoints: 2, Played: true}, {First: 2, Second: -1, FirstPoints: 2}},
		{{First: 2, Second: 1, SecondPoints: 2}, {First: 3, Second: 0, FirstPoints: 1, SecondPoints: 1, Played: true}},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []SwissEntry{
		{Points: 3, Opponents: []int{1, 3}, Sides: sides("WB"), Floats: []Float{NoFloat, FloatDown}, Car: -1},
		{Points: 2, Opponents: []int{0, -1}, Sides: sides("B-"), Floats: []Float{NoFloat, FloatDown}, HadBye: true, Car: -1},
		{Points: 2, Opponents: []int{-1, -1}, Sides: sides("--"), Floats: []Float{FloatDown, NoFloat}, HadBye: true, Car: -1},
		{Points: 1, Opponents: []int{-1, 0}, Sides: sides("-W"), Floats: []Float{NoFloat, FloatUp}, Car: -1},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("entries (-want +got):\n%s", diff)
	}
	for name, round := range map[string][]SwissOutcome{
		"a stranger": {{First: 0, Second: 4}}, "itself": {{First: 1, Second: 1}}, "nobody": {{First: -1, Second: 1}},
		"twice": {{First: 0, Second: 1}, {First: 2, Second: 0}},
	} {
		if _, err := SwissHistory(4, [][]SwissOutcome{round}); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
}

// Where the rules leave a pairing, nothing is relaxed; where they do not, the sides give way first, then the bye,
// then the rematch.
func TestSwissRelaxesInOrder(t *testing.T) {
	after := func(points int64, bye bool, sides []Side, opponents ...int) SwissEntry {
		return SwissEntry{Points: points, Opponents: opponents, Sides: sides, HadBye: bye, Car: -1}
	}
	tests := []struct {
		name    string
		entries []SwissEntry
		round   int
		want    []Reason // that begin with "relaxed"
	}{
		{"nothing", []SwissEntry{after(0, false, nil), after(0, false, nil)}, 1, nil},
		{
			"a third time on one side rather than a rematch",
			[]SwissEntry{
				after(4, false, sides("WW"), 2, 3), after(4, false, sides("WW"), 3, 2),
				after(0, false, sides("BB"), 0, 1), after(0, false, sides("BB"), 1, 0),
			},
			3,
			[]Reason{RelaxedSide, RelaxedSide},
		},
		{
			"a third time on one side rather than a second bye",
			[]SwissEntry{after(2, true, sides("WW-"), -1), after(2, true, sides("-WW"), -1), after(2, false, sides("BB-"), -1)},
			4,
			[]Reason{RelaxedSide},
		},
		{
			"the one bye that spares a rematch",
			[]SwissEntry{after(4, true, nil, -1), after(2, false, nil, 2), after(0, false, nil, 1)},
			3, nil,
		},
		{
			"a second bye rather than a rematch",
			[]SwissEntry{after(4, true, nil, 1, -1), after(2, true, nil, 0, -1), after(0, false, nil, -1, -1)},
			4,
			[]Reason{RelaxedBye},
		},
		{
			"a third time on one side rather than a second bye and a rematch",
			[]SwissEntry{
				after(4, true, sides("WW-"), 2, -1), after(2, true, sides("WW-"), -1, -1), after(0, false, sides("BB-"), 0, -1),
			},
			4,
			[]Reason{RelaxedSide},
		},
		{
			"two who have only each other",
			[]SwissEntry{after(2, false, sides("W"), 1), after(0, false, sides("B"), 0)},
			2,
			[]Reason{RelaxedRemeet},
		},
		{
			"three who have all met: no rematch can be spared, a bye can",
			[]SwissEntry{after(4, true, nil, 1, 2, -1), after(2, true, nil, 0, -1, 2), after(0, false, nil, -1, 0, 1)},
			4,
			[]Reason{RelaxedRemeet},
		},
		{"one alone has a second bye", []SwissEntry{after(2, true, nil, -1)}, 2, []Reason{RelaxedBye}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			round, err := NextSwissRound(tt.entries, SwissOptions{Round: tt.round, Rounds: 9, Win: 2})
			if err != nil {
				t.Fatal(err)
			}
			var got []Reason
			for _, why := range append(slices.Clone(round.ByeReasons), reasonsOf(round)...) {
				if slices.Contains([]Reason{RelaxedBye, RelaxedRemeet, RelaxedSide}, why) {
					got = append(got, why)
				}
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("relaxed (-want +got):\n%s", diff)
			}
		})
	}
}

func reasonsOf(r SwissRound) []Reason {
	var all []Reason
	for _, p := range r.Pairs {
		all = append(all, p.Reasons...)
	}
	return all
}

// FIDE C.04.3, 2016 edition, C3 (from memory): in the last round a top scorer may meet somebody who must have the same
// side; in any other round the two best are kept from each other.
func TestTopScorersAreFreeOfSidesInTheLastRound(t *testing.T) {
	entries := []SwissEntry{
		{Points: 4, Opponents: []int{2, 3}, Sides: sides("WW"), Car: -1},
		{Points: 4, Opponents: []int{3, 4}, Sides: sides("WW"), Car: -1},
		{Points: 0, Opponents: []int{0, 5}, Sides: sides("BW"), Car: -1},
		{Points: 0, Opponents: []int{1, 0}, Sides: sides("BB"), Car: -1},
		{Points: 0, Opponents: []int{5, 1}, Sides: sides("BB"), Car: -1},
		{Points: 0, Opponents: []int{4, 2}, Sides: sides("WB"), Car: -1},
	}
	for rounds, together := range map[int]bool{3: true, 4: false} {
		round, err := NextSwissRound(entries, SwissOptions{Round: 3, Rounds: rounds, Win: 2})
		if err != nil {
			t.Fatal(err)
		}
		best := round.Pairs[0]
		if got := best.First < 2 && best.Second < 2; got != together {
			t.Errorf("round 3 of %d: the best pairing is %+v", rounds, best)
		}
		if got := slices.Contains(best.Reasons, TopScorers); got != together {
			t.Errorf("round 3 of %d: the reasons are %v", rounds, best.Reasons)
		}
	}
}

// Two on one car are paired last of all, and run one after the other.
func TestSwissKeepsOneCarApart(t *testing.T) {
	entries := newcomers(4)
	entries[0].Car, entries[2].Car = 7, 7
	round, err := NextSwissRound(entries, SwissOptions{Round: 1, Rounds: 3, Win: 2})
	if err != nil {
		t.Fatal(err)
	}
	if slices.Contains(reasonsOf(round), OneCar) {
		t.Errorf("one car against itself although it could be spared: %+v", round)
	}
	two, err := NextSwissRound([]SwissEntry{{Car: 7}, {Car: 7}}, SwissOptions{Round: 1, Rounds: 3, Win: 2})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(reasonsOf(two), OneCar) {
		t.Errorf("not said that the two share a car: %+v", two)
	}
}

func TestSwissRefuses(t *testing.T) {
	good := SwissOptions{Round: 2, Rounds: 5, Win: 2}
	two := func(change func(*SwissEntry)) []SwissEntry {
		entries := newcomers(2)
		change(&entries[1])
		return entries
	}
	tests := []struct {
		name    string
		entries []SwissEntry
		o       SwissOptions
		rule    string
	}{
		{"nobody", nil, good, "entries"},
		{"too many", newcomers(MaxSwiss + 1), good, "entries"},
		{"too many with those who left", newcomers(MaxEntries + 1), good, "entries"},
		{"nobody present", []SwissEntry{{Absent: true}}, good, "entries"},
		{"round 0", newcomers(2), SwissOptions{Round: 0, Rounds: 5, Win: 2}, "round"},
		{"round 6 of 5", newcomers(2), SwissOptions{Round: 6, Rounds: 5, Win: 2}, "round"},
		{"round 2 of far too many", newcomers(2), SwissOptions{Round: 2, Rounds: MaxEntries + 1, Win: 2}, "round"},
		{"too great a win", newcomers(2), SwissOptions{Round: 1, Rounds: 5, Win: maxPoints + 1}, "win"},
		{"too many points", two(func(e *SwissEntry) { e.Points = maxPoints + 1 }), good, "points"},
		{"too few points", two(func(e *SwissEntry) { e.Points = -maxPoints - 1 }), good, "points"},
		{"a worthless win", newcomers(2), SwissOptions{Round: 1, Rounds: 5}, "win"},
		{"too long a history", two(func(e *SwissEntry) { e.Opponents = []int{0, 0} }), good, "history"},
		{"a stranger", two(func(e *SwissEntry) { e.Opponents = []int{2} }), good, "opponent"},
		{"itself", two(func(e *SwissEntry) { e.Opponents = []int{1} }), good, "opponent"},
		{"no side", two(func(e *SwissEntry) { e.Sides = []Side{3} }), good, "side"},
		{"lot seed too large", newcomers(2), SwissOptions{Round: 1, Rounds: 5, Win: 2, LotSeed: MaxLotSeed + 1}, "lot-seed"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := NextSwissRound(tt.entries, tt.o)
			var refusal *Refusal
			if !errors.As(err, &refusal) || refusal.Rule != tt.rule {
				t.Errorf("got %v, want a refusal by the rule %q", err, tt.rule)
			}
		})
	}
}
