package bracket

import "slices"

// DesignKind names a published way to share lanes out.
type DesignKind string

// The kinds of design.
const (
	// LatinSquare: as many heats as entries, all entries in each, everyone once in every lane.
	LatinSquare DesignKind = "latin"
	// WilliamsSquare is a Latin square in which everyone also follows everyone else once from lane to lane
	// (Williams 1949); it exists for even numbers.
	WilliamsSquare DesignKind = "williams"
	// YoudenSquare: as many heats as entries, everyone once in every lane, every two meet equally often
	// (Youden 1937).
	YoudenSquare DesignKind = "youden"
	// BalancedDesign: every two meet equally often; lanes are near balance (Fisher and Yates; Cochran and Cox).
	BalancedDesign DesignKind = "balanced"
	// NearBalance is no design: rounds dealt so that repeated meetings are few, as far as a search finds, with the
	// lanes of all rounds as level as the heats allow.
	NearBalance DesignKind = "near"
)

// Design is a set of heats that shares lanes and meetings out evenly.
type Design struct {
	Kind           DesignKind
	Entries, Lanes int
	// Runs is how often each entry runs, Meets how often each two meet.
	Runs, Meets int
	// Heats holds the entries (from 0) of each heat in lane order.
	Heats [][]int
}

// Efficiency is the design's efficiency factor, lambda v / (r k), as a fraction: what part of the information of
// as many runs with everybody in one heat it keeps. It is 1 where everybody runs in every heat.
func (d Design) Efficiency() (num, den int) {
	num, den = d.Meets*d.Entries, d.Runs*d.Lanes
	if d.Lanes == d.Entries {
		return 1, 1
	}
	a, b := num, den
	for b != 0 {
		a, b = b, a%b
	}
	return num / a, den / a
}

// differenceSets are starters: the numbers of one heat, from 0; the other heats add 1, 2, ... modulo the number
// of entries. From memory; the tests check that every two meet equally often.
var differenceSets = []struct {
	entries int
	base    []int
}{
	{7, []int{0, 1, 3}},
	{7, []int{2, 4, 5, 6}},
	{11, []int{1, 3, 4, 5, 9}},
	{11, []int{0, 2, 6, 7, 8, 10}},
	{13, []int{0, 1, 3, 9}},
	{15, []int{0, 1, 2, 4, 5, 8, 10}},
	{15, []int{3, 6, 7, 9, 11, 12, 13, 14}},
	{21, []int{3, 6, 7, 12, 14}},
	{31, []int{1, 5, 11, 24, 25, 27}},
	{57, []int{1, 6, 7, 9, 19, 38, 42, 49}},
}

// blocks are balanced designs that no starter gives, by the numbers of entries from 1. From memory (listed by
// Fisher and Yates and by Cochran and Cox, chapter 11); the tests check them.
var blocks = []struct {
	entries int
	heats   [][]int
}{
	{6, [][]int{
		{1, 2, 5}, {1, 3, 4}, {1, 2, 6}, {1, 3, 5}, {1, 4, 6}, {2, 3, 4}, {2, 3, 6}, {2, 4, 5}, {3, 5, 6}, {4, 5, 6},
	}},
	{9, [][]int{
		{1, 2, 3},
		{4, 5, 6},
		{7, 8, 9},
		{1, 4, 7},
		{2, 5, 8},
		{3, 6, 9},
		{1, 5, 9},
		{2, 6, 7},
		{3, 4, 8},
		{1, 6, 8},
		{2, 4, 9},
		{3, 5, 7},
	}},
	{16, [][]int{
		{2, 3, 4, 5, 9, 13},
		{1, 3, 4, 6, 10, 14},
		{1, 2, 4, 7, 11, 15},
		{1, 2, 3, 8, 12, 16},
		{1, 6, 7, 8, 9, 13},
		{2, 5, 7, 8, 10, 14},
		{3, 5, 6, 8, 11, 15},
		{4, 5, 6, 7, 12, 16},
		{1, 5, 10, 11, 12, 13},
		{2, 6, 9, 11, 12, 14},
		{3, 7, 9, 10, 12, 15},
		{4, 8, 9, 10, 11, 16},
		{1, 5, 9, 14, 15, 16},
		{2, 6, 10, 13, 15, 16},
		{3, 7, 11, 13, 14, 16},
		{4, 8, 12, 13, 14, 15},
	}},
}

// FindDesign returns the smallest design for so many entries in heats of exactly so many lanes, and whether one is
// known: a Williams or Latin square where all run together, the Berger table for two lanes, a Youden square, or a
// balanced design.
func FindDesign(entries, lanes int) (Design, bool) {
	d := Design{Entries: entries, Lanes: lanes}
	switch {
	case lanes < 2 || entries < lanes:
		return Design{}, false
	case lanes == entries && entries%2 == 0:
		d.Kind, d.Heats = WilliamsSquare, williams(entries)
	case lanes == entries:
		d.Kind, d.Heats = LatinSquare, develop(entries, upTo(entries))
	case lanes == 2:
		d.Kind, d.Heats = BalancedDesign, bergerHeats(entries)
	case lanes == entries-1:
		d.Kind, d.Heats = YoudenSquare, develop(entries, upTo(lanes))
	default:
		if !d.lookUp() {
			return Design{}, false
		}
	}
	d.Runs = len(d.Heats) * lanes / entries
	d.Meets = d.Runs * (lanes - 1) / (entries - 1)
	return d, true
}

func (d *Design) lookUp() bool {
	for _, s := range differenceSets {
		if s.entries == d.Entries && len(s.base) == d.Lanes {
			d.Kind, d.Heats = YoudenSquare, develop(d.Entries, s.base)
			return true
		}
	}
	for _, b := range blocks {
		if b.entries != d.Entries || len(b.heats[0]) != d.Lanes {
			continue
		}
		d.Kind = BalancedDesign
		for _, heat := range b.heats {
			numbers := make([]int, len(heat))
			for i, e := range heat {
				numbers[i] = e - 1
			}
			d.Heats = append(d.Heats, shareLanes(numbers, lanesHad(d.Heats)))
		}
		return true
	}
	return false
}

// develop adds 0, 1, 2, ... to the base modulo n.
func develop(n int, base []int) [][]int {
	heats := make([][]int, n)
	for shift := range heats {
		for _, b := range base {
			heats[shift] = append(heats[shift], (b+shift)%n)
		}
	}
	return heats
}

// williams returns the square of even order n whose first row is 0 1 n-1 2 n-2 ...
func williams(n int) [][]int {
	base := make([]int, 0, n)
	for low, high := 1, n-1; len(base) < n; {
		switch {
		case len(base) == 0:
			base = append(base, 0)
		case len(base)%2 == 1:
			base = append(base, low)
			low++
		default:
			base = append(base, high)
			high--
		}
	}
	return develop(n, base)
}

// inOrder returns the heats in the order in which they are run. Those of a Williams square are put in the order of its
// own first row: so everybody follows everybody else once on the same lane, from heat to heat, as it does in a heat from
// lane to lane (a row- and column-complete square; Gordon 1961, from memory). Whoever leaves a bench warm or worn does so to
// everybody alike. Other designs are run as published: on a lane the same often follow each other.
func (d Design) inOrder() [][]int {
	if d.Kind != WilliamsSquare {
		return d.Heats
	}
	heats := make([][]int, 0, len(d.Heats))
	for _, shift := range d.Heats[0] {
		heats = append(heats, d.Heats[shift])
	}
	return heats
}

func bergerHeats(n int) [][]int {
	var heats [][]int
	for _, round := range Berger(n) {
		for _, p := range round {
			if p.First <= n && p.Second <= n {
				heats = append(heats, []int{p.First - 1, p.Second - 1})
			}
		}
	}
	return heats
}

// Balance says how evenly a set of heats shares runs, meetings and lanes out. All are the least and the most over
// entries, over pairs, and over entries and the lanes that are used.
type Balance struct {
	Heats                 int
	RunsLeast, RunsMost   int
	MeetsLeast, MeetsMost int
	LaneLeast, LaneMost   int
}

// MeasureBalance counts the heats of the entries 0..entries-1, which are in lane order, with a negative number for
// an empty lane. Lanes that no heat uses do not count.
func MeasureBalance(entries int, heats [][]int) Balance {
	met := timesMet(upTo(entries), heats)
	had := lanesHad(heats)
	lanes := 0
	for _, h := range had {
		lanes = max(lanes, len(h))
	}
	var runs, meets, inLane []int
	for e := range entries {
		sum := 0
		for lane := range lanes {
			times := 0
			if lane < len(had[e]) {
				times = had[e][lane]
			}
			inLane = append(inLane, times)
			sum += times
		}
		runs = append(runs, sum)
		for other := range e {
			meets = append(meets, int(met[e][other]))
		}
	}
	b := Balance{Heats: len(heats)}
	b.RunsLeast, b.RunsMost = leastMost(runs)
	b.MeetsLeast, b.MeetsMost = leastMost(meets)
	b.LaneLeast, b.LaneMost = leastMost(inLane)
	return b
}

func leastMost(of []int) (least, most int) {
	if len(of) == 0 {
		return 0, 0
	}
	return slices.Min(of), slices.Max(of)
}

// ShareOut draws timed rounds in which each of the entries 0..n-1 runs so many times in heats of at most so many
// lanes. Where a design has that many runs (or a part of it: it is repeated), it is used, with its numbers drawn
// by lot; else the rounds are those of TimedRounds. Lanes are level either way, as [TimedRounds] says. It says
// which, and how even the result is. With runs 0 it takes the runs of the design, and refuses where none is known.
// Entries that share a car never meet, so no design serves them.
func ShareOut(n, runs int, o TimedOptions) (*Draw, DesignKind, Balance, error) {
	o.Round = 1
	if _, err := checkTimed(upTo(max(n, 0)), &o); err != nil {
		return nil, "", Balance{}, err
	}
	if n < 1 {
		return nil, "", Balance{}, refuse("entries", nil, "nobody is entered for the timed rounds")
	}
	if runs < 0 {
		return nil, "", Balance{}, refuse("rounds", nil, "the number of rounds cannot be %d", runs)
	}
	lanes := min(o.Lanes, n)
	design, known := FindDesign(n, lanes)
	if len(largestCar(upTo(n), o.Cars)) > 1 || o.Heats > 0 {
		known = false
	}
	switch {
	case runs == 0 && !known:
		return nil, "", Balance{}, refuse("rounds", nil, "no design is known for %d entries in heats of %d: say how many rounds", n, o.Lanes)
	case runs == 0:
		runs = design.Runs
	}
	if !known || runs%design.Runs != 0 {
		d, err := TimedRounds(n, runs, o)
		if err != nil {
			return nil, "", Balance{}, err
		}
		return d, NearBalance, MeasureBalance(n, d.entryHeats()), nil
	}
	lot := NewLot(o.LotSeed)
	var heats [][]int
	for range runs / design.Runs {
		who := lot.Perm(n)
		for _, heat := range design.inOrder() {
			numbers := make([]int, len(heat))
			for i, e := range heat {
				numbers[i] = who[e]
			}
			heats = append(heats, numbers)
		}
	}
	levelLanes(heats) // The lanes of designs that are near balance become level where they are repeated.
	return sideBySide(heats), design.Kind, MeasureBalance(n, heats), nil
}

// sideBySide puts heats into rounds in their order: a heat joins the round before it when nobody stands in both.
func sideBySide(heats [][]int) *Draw {
	d := &Draw{Kind: TimedRoundsKind}
	busy := map[int]bool{}
	for _, heat := range heats {
		clash := slices.ContainsFunc(heat, func(e int) bool { return busy[e] })
		if clash || len(d.Rounds) == 0 {
			d.Rounds = append(d.Rounds, Round{Number: len(d.Rounds) + 1})
			clear(busy)
		}
		r := &d.Rounds[len(d.Rounds)-1]
		h := Heat{ID: HeatID(r.Number, len(r.Heats)+1)}
		for _, e := range heat {
			busy[e] = true
			h.Lanes = append(h.Lanes, EntryAt(e))
		}
		r.Heats = append(r.Heats, h)
	}
	return d
}

// entryHeats lists the entries of all heats, which must hold entries only.
func (d *Draw) entryHeats() [][]int {
	var heats [][]int
	for _, r := range d.Rounds {
		for _, h := range r.Heats {
			heats = append(heats, entriesOf(h))
		}
	}
	return heats
}
