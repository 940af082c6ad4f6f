package programme_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
)

// TestAheadComesTrue plays random programmes of all forms to their end and keeps, before
// each draw, what was said to lie ahead. What is drawn then is never more: no round that
// was not named, no further heat, no further car; of a stage that is not drawn as a whole,
// since another number of cars may have another draw. Where nobody leaves and no car is shared
// it is exactly that, but for what was called only possible.
func TestAheadComesTrue(t *testing.T) {
	kinds := map[day.StageKind]bool{}
	rapid.Check(t, func(t *rapid.T) {
		g := newForetold(t)
		for _, st := range g.s.Divisions["d"].Stages {
			kinds[st.Kind()] = true
		}
		g.play()
	})
	for _, kind := range programme.Kinds() {
		if !kinds[kind] && kind != "sum-without-worst" {
			t.Errorf("the form %s was never played", kind)
		}
	}
}

// foretold is a division that is played, with what was said of it.
type foretold struct {
	t       *rapid.T
	s       *day.State
	now     int64
	said    []saying
	exactly bool
	shared  bool
	runs    int64
}

// saying is what was said to lie ahead when so many stages were drawn.
type saying struct {
	stages int
	rounds []programme.RoundAhead
}

// sizes are the cars of heats that are raced, the largest heat first.
type sizes []int

func newForetold(t *rapid.T) *foretold {
	g := &foretold{t: t, s: day.New(), exactly: true}
	g.give(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: day.UsualRules()})
	for n := range rapid.IntRange(3, 8).Draw(t, "benches") {
		g.give(meet.AddBench{Bench: day.Bench{
			ID: day.BenchID(fmt.Sprint("b", n+1)), Number: n + 1, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000,
		}})
	}
	forms := []day.Stage{
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "lanes": 4, "rule": "mean"}),
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 4, "lanes": 3, "rule": "best", "lane_design": true}),
		programmetest.Stage("points-rounds", programmetest.Set{"rounds": 3, "lanes": 3}),
		programmetest.Stage("points-rounds", programmetest.Set{"rounds": 3, "lanes": 4, "lane_design": true}),
		programmetest.Stage("groups", programmetest.Set{"groups": 2}),
		programmetest.Stage("round-robin", programmetest.Set{"cycles": 2}),
		programmetest.Stage("swiss", programmetest.Set{"rounds": 3}),
		programmetest.Stage("knockout", programmetest.Set{"third_place": true}),
		programmetest.Stage("knockout", programmetest.Set{"plate": true}),
		programmetest.Stage("knockout", programmetest.Set{"legs": 2}),
		programmetest.Stage("double-elimination", nil),
		programmetest.Stage("heats", programmetest.Set{"lanes": 3, "advance": 1, "next_best": 1, "b_final": true}),
	}
	d := day.Division{ID: "d", Name: "d", AgeTo: 12, Class: day.CarClass{LapUM: 20_000_000}, Stages: []day.Stage{
		rapid.SampledFrom(forms).Draw(t, "first"),
	}}
	if rapid.Bool().Draw(t, "then") {
		then := rapid.SampledFrom(forms).Draw(t, "second")
		then.Entries = rapid.SampledFrom([]int{0, 4, 7}).Draw(t, "going on")
		d.Stages = append(d.Stages, then)
	}
	g.give(meet.AddDivision{Division: d})
	share := rapid.IntRange(0, 4).Draw(t, "shared") == 0
	for n := range rapid.IntRange(6, 14).Draw(t, "entries") {
		n++
		car := n
		if share && n%5 == 0 {
			car, g.exactly, g.shared = 1, false, true
		}
		id := day.EntryID(fmt.Sprint("e", n))
		g.give(meet.TakeEntry{
			ID: id, Division: "d", StartNumber: n, Entrant: day.EntrantID("p" + id), Car: day.CarID(fmt.Sprint("c", car)), Age: 9,
		})
		g.give(meet.CheckIn{Entry: id, There: true})
	}
	return g
}

func (g *foretold) decide(c meet.Command) error {
	g.now += 1_000_000
	events, err := meet.Decide(g.s, c, meet.Meta{Actor: "o", NowUS: g.now, Seed: uint64(g.now)})
	for _, e := range events {
		day.Evolve(g.s, e, g.now)
	}
	return err
}

func (g *foretold) give(c meet.Command) {
	if err := g.decide(c); err != nil {
		g.t.Fatalf("%T: %v", c, err)
	}
}

// ask keeps what is said to lie ahead now.
func (g *foretold) ask() {
	g.said = append(g.said, saying{len(g.s.Programmes["d"].Stages), programme.Ahead(g.s, g.s.Divisions["d"])})
}

// play races the programme to its end. A stage that cannot be drawn for so few ends it.
func (g *foretold) play() {
	g.ask()
	g.give(meet.CloseEntries{Division: "d"})
	leaves := rapid.IntRange(0, 3).Draw(g.t, "somebody leaves") == 0
	for range 200 {
		g.ask()
		if programme.Through(g.s, g.s.Divisions["d"]) {
			break
		}
		if g.decide(meet.DrawRound{Division: "d"}) != nil {
			return
		}
		g.compare()
		g.ask()
		if leaves && rapid.IntRange(0, 3).Draw(g.t, "now") == 0 {
			g.exactly = false
			id := day.EntryID(fmt.Sprint("e", rapid.IntRange(1, 6).Draw(g.t, "who")))
			if g.decide(meet.Withdraw{Entry: id, Reason: day.Reason{Code: day.ReasonTime}}) == nil {
				g.ask()
			}
		}
		g.race()
		g.compare()
		if err := g.decide(meet.CloseRound{Division: "d", Early: &day.Reason{Code: day.ReasonTime}}); err != nil {
			g.t.Fatalf("closing: %v", err)
		}
	}
	if last := g.said[len(g.said)-1]; len(last.rounds) > 0 {
		g.t.Fatalf("at the end there lies ahead %+v", last)
	}
	g.allCame()
}

// race races all heats that are drawn, with distances of which no two are alike.
func (g *foretold) race() {
	for range 500 {
		var next day.Heat
		for _, h := range g.s.SortedHeats() {
			_, early := programme.LegBefore(g.s, h)
			if h.Phase == day.PhaseDrawn && !early {
				next = h
				break
			}
		}
		if next.ID == "" {
			return
		}
		g.give(meet.CallHeat{Heat: next.ID})
		for _, l := range g.s.Heats[next.ID].Lanes {
			if l.State == day.LaneCalled {
				g.give(meet.ConfirmReady{Heat: next.ID, Bench: l.Bench, StartNumber: g.s.Number(l.Entry)})
			}
		}
		g.give(meet.StartHeat{Heat: next.ID})
		for _, l := range g.s.Heats[next.ID].Lanes {
			if l.State != day.LaneRacing {
				continue
			}
			g.runs++
			um := rapid.Int64Range(1, 50).Draw(g.t, "metres")*1_000_000 + g.runs*1000
			g.give(meet.RecordRun{
				ID: l.Armed, Bench: l.Bench, Boot: "b", Trace: string(l.Armed), Figures: measure.Figures{DistanceUM: um, UDistanceUM: 1},
			})
		}
	}
}

// cameOf are the heats of a drawn round that are raced, and those among them that are
// deciders.
func (g *foretold) cameOf(stage, round int) (all, deciders sizes) {
	for _, id := range g.s.Programmes["d"].Stages[stage-1].Rounds[round-1].Heats {
		h := g.s.Heats[id]
		if h.Posted() && !h.Begun() {
			continue // a walkover
		}
		all = append(all, len(h.Lanes))
		if h.Leg == day.ThirdLeg {
			deciders = append(deciders, len(h.Lanes))
		}
	}
	return all.sorted(), deciders.sorted()
}

func (z sizes) sorted() sizes {
	slices.Sort(z)
	slices.Reverse(z)
	return z
}

func (z sizes) cars() (n int) {
	for _, size := range z {
		n += size
	}
	return n
}

// within says whether heats are no more and no larger than others.
func (z sizes) within(most sizes) bool {
	for i, size := range z {
		if i >= len(most) || size > most[i] {
			return false
		}
	}
	return true
}

// compare holds the round that was drawn last against all that was said of it.
func (g *foretold) compare() {
	stage, round := g.s.Programmes["d"].Round()
	came, deciders := g.cameOf(stage, round)
	for i, said := range g.said {
		for _, r := range said.rounds {
			if r.Stage != stage || r.Round != round {
				continue
			}
			if r.Stage > said.stages && !g.exactly {
				continue // of fewer cars another draw is made: see allCame
			}
			var most, sure sizes
			for _, h := range r.Heats {
				most = append(most, h.Lanes)
				if !h.Possible {
					sure = append(sure, h.Lanes)
				}
			}
			if r.Drawn {
				if !deciders.within(most.sorted()) {
					g.t.Fatalf("%d.%d got the deciders %v, of which %v were said at asking %d", stage, round, deciders, most, i)
				}
				continue
			}
			if len(came) > len(most) || came.cars() > most.cars() || g.exactly && !came.within(most.sorted()) {
				g.t.Fatalf("%d.%d came with heats of %v, of which at most %v were said at asking %d", stage, round, came, most, i)
			}
			if g.exactly && !sure.sorted().within(came) {
				g.t.Fatalf("%d.%d came with heats of %v, of which %v were said to be sure at asking %d", stage, round, came, sure, i)
			}
			g.cars(stage, round, r)
		}
	}
}

// cars checks that the cars that were named in a heat ahead came into it.
func (g *foretold) cars(stage, round int, r programme.RoundAhead) {
	for _, h := range r.Heats {
		drawn := g.s.Heats[day.DivisionID("d").Heat(stage, round, h.Number).Leg(h.Leg)]
		for _, id := range h.Entries {
			if _, in := drawn.Lane(id); !in && g.s.Entries[id].Racing() && g.exactly && !h.Possible {
				g.t.Fatalf("%s was said to come into heat %d of %d.%d and is not in it", id, h.Number, stage, round)
			}
		}
	}
}

// allCame checks that each round that came was said from the beginning, and where nobody
// leaves, that each came that was said to be sure. Where somebody left, a stage that was not
// drawn has no more heats and cars than were said of it.
func (g *foretold) allCame() {
	for i, said := range g.said {
		most := map[int]sizes{}
		for _, r := range said.rounds {
			for _, h := range r.Heats {
				most[r.Stage] = append(most[r.Stage], h.Lanes)
			}
		}
		for stage := said.stages + 1; stage <= len(g.s.Programmes["d"].Stages); stage++ {
			var came sizes
			for round := range g.s.Programmes["d"].Stages[stage-1].Rounds {
				all, _ := g.cameOf(stage, round+1)
				came = append(came, all...)
			}
			if len(came) > len(most[stage]) || came.cars() > most[stage].cars() {
				g.t.Fatalf("stage %d had heats of %v, of which at most %v were said at asking %d", stage, came, most[stage], i)
			}
		}
	}
	named := map[[2]int]bool{}
	for _, r := range g.said[0].rounds {
		named[[2]int{r.Stage, r.Round}] = true
		sure := slices.ContainsFunc(r.Heats, func(h programme.HeatAhead) bool { return !h.Possible })
		stages := g.s.Programmes["d"].Stages
		if there := r.Stage <= len(stages) && r.Round <= len(stages[r.Stage-1].Rounds); !there && sure && g.exactly {
			g.t.Fatalf("%d.%d was said to be sure and never came", r.Stage, r.Round)
		}
	}
	for i, st := range g.s.Programmes["d"].Stages {
		for k := range st.Rounds {
			came, _ := g.cameOf(i+1, k+1)
			// A design has its heats in more rounds, and is followed if no siblings come.
			design := st.Design != "" && g.shared
			if len(came) > 0 && !named[[2]int{i + 1, k + 1}] && !design {
				g.t.Fatalf("%d.%d came and was never said", i+1, k+1)
			}
		}
	}
}

// TestAheadByHand holds rounds that can be counted on paper.
func TestAheadByHand(t *testing.T) {
	for name, c := range map[string]struct {
		stage day.Stage
		n     int
		want  []string // heats of each round by their lanes; ? marks what is only possible
	}{
		"timed rounds of ten on four lanes":          {programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "lanes": 4, "rule": "best"}), 10, []string{"4 3 3", "4 3 3"}},
		"a knockout of six has two byes":             {programmetest.Stage("knockout", programmetest.Set{"third_place": true}), 6, []string{"2 2", "2 2", "2 2"}},
		"legs of a knockout of four":                 {programmetest.Stage("knockout", programmetest.Set{"legs": 2}), 4, []string{"2 2 2? 2 2 2?", "2 2 2?"}},
		"a double elimination of four":               {programmetest.Stage("double-elimination", nil), 4, []string{"2 2", "2", "2", "2", "2", "2?"}},
		"a round robin of five":                      {programmetest.Stage("round-robin", nil), 5, []string{"2 2", "2 2", "2 2", "2 2", "2 2"}},
		"Swiss rounds of seven":                      {programmetest.Stage("swiss", programmetest.Set{"rounds": 3}), 7, []string{"2 2 2", "2 2 2", "2 2 2"}},
		"two groups of three":                        {programmetest.Stage("groups", programmetest.Set{"groups": 2}), 6, []string{"2 2", "2 2", "2 2"}},
		"heats of three, of each the first and best": {programmetest.Stage("heats", programmetest.Set{"lanes": 3, "advance": 1, "next_best": 1, "heat_order": bracket.ZigzagOrder}), 6, []string{"3 3", "3"}},
	} {
		t.Run(name, func(t *testing.T) {
			s := day.New()
			d := day.Division{ID: "d", Stages: []day.Stage{c.stage}}
			s.Divisions["d"] = d
			for n := range c.n {
				id := day.EntryID(fmt.Sprintf("e%02d", n))
				s.Entries[id] = day.Entry{ID: id, Division: "d", StartNumber: n + 1, Car: day.CarID("c" + id)}
			}
			var got []string
			for _, r := range programme.Ahead(s, d) {
				line := ""
				for _, h := range r.Heats {
					line += fmt.Sprint(" ", h.Lanes)
					if h.Possible {
						line += "?"
					}
				}
				got = append(got, line[1:])
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("ahead lie %q, want %q", got, c.want)
			}
		})
	}
}
