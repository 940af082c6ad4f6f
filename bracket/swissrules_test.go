package bracket

import (
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// ruleBook judges whole pairings by the FIDE Dutch rules (C.04.3, order of criteria of the 2016 edition, from memory)
// and by what NextSwissRound says that it does otherwise. It is written from the rules and the histories alone and
// shares nothing with the criteria by which a round is paired.
type ruleBook struct {
	swissLaw
	scores []int64 // of those present, the highest first, each once
}

func newRuleBook(entries []SwissEntry, o SwissOptions) ruleBook {
	b := ruleBook{swissLaw: newSwissLaw(entries, o)}
	for _, e := range b.field {
		b.scores = append(b.scores, entries[e].Points)
	}
	slices.Sort(b.scores)
	b.scores = slices.Compact(b.scores)
	slices.Reverse(b.scores)
	return b
}

// due is the side that an entry is due by its history, and how much: 1 to alternate, 2 for one more of the other, 3
// for two more, or two running.
func (b ruleBook) due(e int) (side Side, much int) {
	left, right, running := 0, 0, 0
	last := NoSide
	for _, s := range b.entries[e].Sides {
		switch s {
		case Left:
			left++
		case Right:
			right++
		default:
			continue
		}
		if s == last {
			running++
		} else {
			running = 1
		}
		last = s
	}
	switch {
	case last == NoSide:
		return NoSide, 0
	case left >= right+2:
		return Right, 3
	case right >= left+2:
		return Left, 3
	case running >= 2 && last == Left:
		return Right, 3
	case running >= 2:
		return Left, 3
	case left > right:
		return Right, 2
	case right > left:
		return Left, 2
	case last == Left:
		return Right, 1
	}
	return Left, 1
}

// before is the float of an entry so many rounds ago.
func (b ruleBook) before(e, rounds int) Float {
	floats := b.entries[e].Floats
	if rounds > len(floats) {
		return NoFloat
	}
	return floats[len(floats)-rounds]
}

// judgement is what a pairing costs, the gravest first.
type judgement struct {
	Rematches, SecondByes, SidesClash, OneCar int64
	ByeScore                                  int64
	Leavers                                   []int64 // of each score group downward (C5, C7)
	Differences                               []int64 // of the pairs, the largest first (C6)
	SidesDenied, StrongSidesDenied            int64   // C10, C11
	DownAgain, UpAgain, DownTwoAgo, UpTwoAgo  int64   // C12 to C15
}

func (j judgement) compare(other judgement) int {
	flat := func(j judgement) []int64 {
		all := []int64{j.Rematches, j.SecondByes, j.SidesClash, j.OneCar, j.ByeScore}
		all = append(append(all, j.Leavers...), j.Differences...)
		return append(all, j.SidesDenied, j.StrongSidesDenied, j.DownAgain, j.UpAgain, j.DownTwoAgo, j.UpTwoAgo)
	}
	return slices.Compare(flat(j), flat(other))
}

// judge weighs the pairs of a round, and the bye, which is negative where there is none.
func (b ruleBook) judge(pairs [][2]int, bye int) judgement {
	j := judgement{Leavers: make([]int64, len(b.scores))}
	leave := func(from, to int64) { // Everybody leaves the groups of all scores from its own to above where it ends.
		for g, score := range b.scores {
			if score <= from && score > to {
				j.Leavers[g]++
			}
		}
	}
	for _, p := range pairs {
		upper, lower := b.entries[p[0]], b.entries[p[1]]
		u, l := p[0], p[1]
		if upper.Points < lower.Points {
			upper, lower, u, l = lower, upper, l, u
		}
		for _, other := range upper.Opponents {
			if other == l {
				j.Rematches++
			}
		}
		if !b.sidesFit(u, l) {
			j.SidesClash++
		}
		if upper.Car >= 0 && upper.Car == lower.Car {
			j.OneCar++
		}
		leave(upper.Points, lower.Points)
		j.Differences = append(j.Differences, upper.Points-lower.Points)
		sideU, muchU := b.due(u)
		sideL, muchL := b.due(l)
		if sideU != NoSide && sideU == sideL {
			j.SidesDenied++
			if min(muchU, muchL) >= 2 {
				j.StrongSidesDenied++
			}
		}
		if upper.Points > lower.Points {
			j.DownAgain += one(b.before(u, 1) == FloatDown)
			j.UpAgain += one(b.before(l, 1) == FloatUp)
			j.DownTwoAgo += one(b.before(u, 2) == FloatDown)
			j.UpTwoAgo += one(b.before(l, 2) == FloatUp)
		}
	}
	if bye >= 0 {
		x := b.entries[bye]
		j.SecondByes = one(x.HadBye)
		j.ByeScore = x.Points
		leave(x.Points, b.scores[len(b.scores)-1]-1)
		j.DownAgain += one(b.before(bye, 1) == FloatDown)
		j.DownTwoAgo += one(b.before(bye, 2) == FloatDown)
	}
	slices.Sort(j.Differences)
	slices.Reverse(j.Differences)
	return j
}

// least judges every pairing of the field.
func (b ruleBook) least() judgement {
	var best *judgement
	var try func(left []int, pairs [][2]int, bye int)
	try = func(left []int, pairs [][2]int, bye int) {
		if len(left) == 0 {
			if j := b.judge(pairs, bye); best == nil || j.compare(*best) < 0 {
				best = &j
			}
			return
		}
		for i := 1; i < len(left); i++ {
			rest := slices.Concat(left[1:i], left[i+1:])
			try(rest, append(pairs, [2]int{left[0], left[i]}), bye)
		}
		if len(left)%2 == 1 {
			try(left[1:], pairs, left[0])
		}
	}
	try(b.field, nil, -1)
	return *best
}

// proveTimes is how often a long simulation is run: all in make prove.
func proveTimes(short, all int) int {
	if os.Getenv("BENCHMEET_PROVE") != "" {
		return all
	}
	return short
}

// Every round is as good as the best of all pairings by the rule book: up to ten entries, who win, draw, forfeit, come
// late, miss rounds and leave, in Swisses as they are run and after rounds that were paired blindly.
func TestProveSwissKeepsTheRuleBook(t *testing.T) {
	judged, far := 0, 0
	for seed := uint64(1); judged < proveTimes(1000, 20_000); seed++ {
		luck := NewLot(seed)
		n, rounds := 2+luck.Intn(9), 1+luck.Intn(8)
		enters := make([]int, n)
		for e := range enters {
			enters[e] = 1 + max(0, luck.Intn(10)-7)
		}
		var played [][]SwissOutcome
		for r := 1; r <= rounds; r++ {
			entries := history(t, n, played, luck)
			if seed%4 == 0 {
				entries = anyHistory(n, r-1, 1+luck.Intn(10), luck.Intn(5), luck)
			}
			for e := range entries {
				entries[e].Absent = entries[e].Absent || e > 0 && r < enters[e]
				if luck.Intn(12) == 0 {
					entries[e].Car = 0
				}
			}
			o := SwissOptions{Round: r, Rounds: rounds, Win: 2, LotSeed: seed}
			round, err := NextSwissRound(entries, o)
			if err != nil {
				t.Fatal(err)
			}
			checkSwissRound(t, entries, round)
			var pairs [][2]int
			for _, p := range round.Pairs {
				pairs = append(pairs, [2]int{p.First, p.Second})
			}
			book := newRuleBook(entries, o)
			got, want := book.judge(pairs, round.Bye), book.least()
			if diff := cmp.Diff(want, got); diff != "" {
				t.Fatalf("seed %d, round %d of %d entries (-best +got):\n%s\n%+v\n%v", seed, r, n, diff, entries, round)
			}
			judged++
			far += int(one(len(got.Differences) > 1 && got.Differences[0] > 1))
			played = append(played, outcomes(round, luck))
		}
	}
	t.Logf("%d rounds, %d of them with a difference of a point and more", judged, far)
	if far < judged/20 {
		t.Errorf("only %d of %d rounds ask for score differences", far, judged)
	}
}
