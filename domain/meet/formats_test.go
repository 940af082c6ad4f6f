package meet_test

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
)

// TestFormatsPlayedThrough races whole divisions of heats of two and checks what
// their forms promise. Cars may go home between rounds; no form is wedged by it.
func TestFormatsPlayedThrough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := rapid.SampledFrom(
			append(
				pairStages(), programmetest.Stage("knockout", programmetest.Set{"plate": true, "third_place": true}),
				programmetest.Stage("knockout", programmetest.Set{"legs": 2}),
			),
		).Draw(
			t, "stage",
		)
		n := rapid.IntRange(4, 11).Draw(t, "entries")
		if day.OneOf(st.Kind(), "round-robin", "groups") {
			st = programmetest.With(st, programmetest.Set{"cycles": rapid.IntRange(0, 2).Draw(t, "cycles")})
		}
		stages := []day.Stage{st}
		if st.Kind() == "groups" {
			stages = append(stages, programmetest.Stage("knockout", programmetest.Set{"entries": 4}))
		}
		p := newPlayed(t, stages, n)
		leave := rapid.Bool().Draw(t, "some leave")
		for p.drawNext() {
			p.raceRound()
			if leave && rapid.IntRange(0, 3).Draw(t, "leaves") == 0 {
				p.withdraw(rapid.IntRange(1, n).Draw(t, "who"))
			}
		}
		if len(programme.Winners(p.s, "d")) == 0 {
			t.Fatal("it is over and nobody has won")
		}
		if p.left > 0 {
			return
		}
		switch st.Kind() {
		case "round-robin":
			p.allMet(max(1, programmetest.Number(st, "cycles")), func(a, b day.EntryID) bool { return true })
		case "groups":
			p.groupsKept(max(1, programmetest.Number(st, "cycles")))
		case "swiss":
			p.neverAgain()
		case "double-elimination":
			p.lostTwice()
		case "knockout":
			p.plateKept(st)
			p.legsKept(st)
		}
	})
}

// played is a division "d" being played through.
type played struct {
	t    *rapid.T
	s    *day.State
	now  int64
	n    int
	left int // how many went home
}

func newPlayed(t *rapid.T, stages []day.Stage, n int) *played {
	p := &played{t: t, s: day.New(), now: dayStart, n: n}
	p.must(meet.PlanMeet{Plan: goodPlan(), Rules: day.UsualRules()})
	for b := range 2 {
		p.must(meet.AddBench{Bench: goodBench(day.BenchID("b"+strconv.Itoa(b+1)), b+1)})
	}
	p.must(meet.AddDivision{Division: day.Division{ID: "d", Name: "d", AgeTo: 12, Class: day.CarClass{LapUM: 20_000_000}, Stages: stages}})
	for i := 1; i <= n; i++ {
		id := day.EntryID("e" + strconv.Itoa(i))
		p.must(
			meet.TakeEntry{
				ID: id, Division: "d", StartNumber: i, Entrant: day.EntrantID("p" + strconv.Itoa(i)), Car: day.CarID("c" + strconv.Itoa(i)), Age: 9,
			},
		)
		p.must(meet.CheckIn{Entry: id, There: true})
	}
	p.must(meet.CloseEntries{Division: "d"})
	return p
}

func (p *played) must(c meet.Command) {
	p.now += 1_000_000
	events, err := meet.Decide(p.s, c, meet.Meta{Actor: "o", NowUS: p.now, Seed: uint64(p.now % 1000)})
	if err != nil {
		p.t.Fatalf("%T %+v: %v", c, c, err)
	}
	for _, e := range events {
		day.Evolve(p.s, e, p.now)
	}
}

// drawNext draws the next round, if there is one; a division without two cars
// left is ended early.
func (p *played) drawNext() bool {
	there := 0
	for _, e := range p.s.SortedEntries("d") {
		if e.Racing() {
			there++
		}
	}
	over := slices.ContainsFunc(board.Tasks(p.s, p.now), func(x board.Task) bool { return x.Kind == board.TaskPublish })
	switch {
	case over:
		return false
	case there < 2:
		p.must(meet.EndProgramme{Division: "d", Reason: day.Reason{Code: day.ReasonTime}})
		return false
	}
	p.must(meet.DrawRound{Division: "d"})
	return true
}

// raceRound races the drawn heats, in different distances where the form needs
// an order, and the deciders that their legs ask for.
func (p *played) raceRound() {
	pr := programme.ProgressOf(p.s, "d")
	st := p.s.Divisions["d"].Stages[pr.Stage-1]
	ordered := st.Kind() == "knockout" && programmetest.Number(st, "legs") < 2 || st.Kind() == "double-elimination"
	for p.raceDrawn(pr, ordered) {
		ordered = ordered || programmetest.Number(st, "legs") > 1 // those that are left are deciders
	}
	p.must(meet.CloseRound{Division: "d", Early: &day.Reason{Code: day.ReasonTime}})
}

func (p *played) raceDrawn(pr programme.Progress, ordered bool) bool {
	raced := false
	for _, h := range p.s.SortedHeats() {
		if h.Stage != pr.Stage || h.Round != pr.Round || h.Phase != day.PhaseDrawn {
			continue
		}
		raced = true
		p.must(meet.CallHeat{Heat: h.ID})
		for _, l := range p.s.Heats[h.ID].Lanes {
			p.must(meet.ConfirmReady{Heat: h.ID, Bench: l.Bench, StartNumber: p.s.Entries[l.Entry].StartNumber})
		}
		p.must(meet.StartHeat{Heat: h.ID})
		first := rapid.Int64Range(1, 3).Draw(p.t, "m") * 100_000_000
		second := rapid.Int64Range(1, 3).Draw(p.t, "m") * 100_000_000
		if first == second && ordered {
			second++
		}
		for i, l := range p.s.Heats[h.ID].Lanes {
			p.must(meet.RecordRun{ID: l.Armed, Bench: l.Bench, Boot: "b", Trace: string(l.Armed), Figures: figures([]int64{first, second}[i])})
		}
	}
	return raced
}

func (p *played) withdraw(n int) {
	id := day.EntryID("e" + strconv.Itoa(n))
	if p.s.Entries[id].Racing() {
		p.must(meet.Withdraw{Entry: id, Reason: why})
		p.left++
	}
}

// met counts the heats of a stage by pair, the lower id first.
func (p *played) met(stage int) map[[2]day.EntryID]int {
	out := map[[2]day.EntryID]int{}
	for _, h := range p.s.SortedHeats() {
		if h.Stage == stage && len(h.Lanes) == 2 {
			a, b := h.Lanes[0].Entry, h.Lanes[1].Entry
			out[[2]day.EntryID{min(a, b), max(a, b)}]++
		}
	}
	return out
}

// allMet checks how often each two that should meet did, and that the points of
// all heats were given.
func (p *played) allMet(times int, should func(a, b day.EntryID) bool) {
	met := p.met(1)
	for i := 1; i <= p.n; i++ {
		for k := i + 1; k <= p.n; k++ {
			a, b := day.EntryID(fmt.Sprintf("e%d", i)), day.EntryID(fmt.Sprintf("e%d", k))
			want := 0
			if should(a, b) {
				want = times
			}
			if got := met[[2]day.EntryID{min(a, b), max(a, b)}]; got != want {
				p.t.Fatalf("%s and %s met %d times, want %d", a, b, got, want)
			}
		}
	}
	heats, points := int64(0), int64(0)
	for _, n := range met {
		heats += int64(n)
	}
	for _, l := range programme.Standings(p.s, "d") {
		if l.Points != nil {
			points += *l.Points
		}
	}
	if len(p.s.Divisions["d"].Stages) == 1 && points != 2*heats {
		p.t.Fatalf("%d heats gave %d points, want 2 each", heats, points)
	}
}

// groupsKept checks that the groups met among themselves, that two of each went
// on, and that those of one group do not meet at once.
func (p *played) groupsKept(times int) {
	of := map[day.EntryID]string{}
	for _, h := range p.s.SortedHeats() {
		if h.Stage == 1 {
			of[h.Lanes[0].Entry], of[h.Lanes[1].Entry] = h.Group, h.Group
		}
	}
	p.allMet(times, func(a, b day.EntryID) bool { return of[a] == of[b] })
	on := map[string]int{}
	for _, id := range p.s.Programmes["d"].Stages[1].Seeds {
		on[of[id]]++
	}
	if !maps.Equal(on, map[string]int{"A": 2, "B": 2}) {
		p.t.Fatalf("of the groups go on %v", on)
	}
	for _, h := range p.s.SortedHeats() {
		if h.Stage == 2 && h.Round == 1 && of[h.Lanes[0].Entry] == of[h.Lanes[1].Entry] {
			p.t.Fatalf("two of group %s meet in %s", of[h.Lanes[0].Entry], h.ID)
		}
	}
}

// neverAgain checks that no pair met twice and nobody had two byes, which a Swiss
// of three rounds can do from seven entries on.
func (p *played) neverAgain() {
	if p.n < 7 {
		return
	}
	for pair, n := range p.met(1) {
		if n > 1 {
			p.t.Fatalf("%v met %d times", pair, n)
		}
	}
	byes := map[day.EntryID]int{}
	for _, r := range programme.Rounds(p.s, "d") {
		for _, id := range r.Byes {
			if byes[id]++; byes[id] > 1 {
				p.t.Fatalf("%s has a second bye", id)
			}
		}
	}
}

// lostTwice checks that everybody but the champion was beaten twice, and the
// champion once at most.
func (p *played) lostTwice() {
	lost := map[day.EntryID]int{}
	for _, h := range p.s.SortedHeats() {
		order, _ := programme.FinishOf(p.s, h)
		lost[order[1].Entry]++
	}
	champion := programme.Winners(p.s, "d")
	for _, e := range p.s.SortedEntries("d") {
		switch won := slices.Contains(champion, e.ID); {
		case len(champion) != 1, won && lost[e.ID] > 1, !won && lost[e.ID] != 2:
			p.t.Fatalf("champion %v; %s lost %d times", champion, e.ID, lost[e.ID])
		}
	}
}

// plateKept checks that nobody goes home after one race where there is a plate,
// that its ranks are 1 2 3 3 and so on, and that nobody is both in it and high up.
func (p *played) plateKept(st day.Stage) {
	if !programmetest.On(st, "plate") || p.n < 6 {
		return
	}
	heats := map[day.EntryID]int{}
	for _, h := range p.s.SortedHeats() {
		for _, l := range h.Lanes {
			heats[l.Entry]++
		}
	}
	ranks := map[int]int{}
	for _, l := range programme.Standings(p.s, "d") {
		if heats[l.Entry] < 2 {
			p.t.Fatalf("%s goes home after %d heats", l.Entry, heats[l.Entry])
		}
		if l.PlateRank > 0 {
			ranks[l.PlateRank]++
		}
		if l.PlateRank > 0 && l.Rank <= 2 {
			p.t.Fatalf("%s is number %d and in the plate", l.Entry, l.Rank)
		}
	}
	if ranks[1] != 1 || ranks[2] != 1 {
		p.t.Fatalf("the plate has the ranks %v", ranks)
	}
}

// legsKept checks that both cars of a heat raced on both benches, and that deciders
// were raced where the legs left it level and nowhere else.
func (p *played) legsKept(st day.Stage) {
	if programmetest.Number(st, "legs") < 2 {
		return
	}
	for _, h := range p.s.SortedHeats() {
		if h.Leg != 1 || h.CalledUS == 0 {
			continue
		}
		second := p.s.Heats[h.ID+".2"]
		third, there := p.s.Heats[h.ID+".3"]
		a, b := h.Lanes[0], h.Lanes[1]
		if second.Lanes[0].Entry != b.Entry || second.Lanes[0].Bench != a.Bench || second.Lanes[1].Bench != b.Bench {
			p.t.Fatalf("%s was raced on %s and %s, its second leg is %+v", h.ID, a.Bench, b.Bench, second.Lanes)
		}
		first, tied := programme.FinishOf(p.s, h)
		again, tiedAgain := programme.FinishOf(p.s, second)
		level := tied && tiedAgain || !tied && !tiedAgain && first[0].Entry != again[0].Entry
		if level != there {
			p.t.Fatalf("the legs of %s are level: %v, and there is a decider: %v %+v", h.ID, level, there, third)
		}
	}
}
