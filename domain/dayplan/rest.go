package dayplan

import (
	"cmp"
	"slices"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/programme"
)

// Rest is the rest of a day.
type Rest struct {
	// AtUS is the instant at which it begins, in µs since 1970.
	AtUS int64
	// Benches are those in service, in plate order.
	Benches []day.BenchID
	Rounds  []Round
	// Heats are those that were called, then those that are drawn, in the order of the
	// call board, then those of rounds ahead.
	Heats []Heat
	// cars is how many cars the known heats have, each with a number from 0; rested is from
	// when on each may be called.
	cars   int
	rested []int64
	// Out are those that are out of service: nobody knows when they are back.
	Out []OutBench
	// plate is the position of each bench in Benches.
	plate map[day.BenchID]int
	// Stops are the tasks of the plan that are not over, the earliest first; Lunches those
	// that each child has for itself.
	Stops   []Stop
	Lunches []Lunch
	// ate says of each lunch which cars had it, lastEnd when each car last raced.
	ate     [][]bool
	lastEnd []int64
	// tellUS is how long the desk waits on average until it tells times anew; 0 where it never
	// told any.
	tellUS int64
	// fields are the cars of each division that still race, by number.
	fields map[day.DivisionID][]int
	// turn are the drawn heats that wait in an order of their own; nil for that of Heats.
	turn []int
}

// OutBench is a bench that is out of service, and since when; 0 where that is not known.
type OutBench struct {
	Bench   day.BenchID
	SinceUS int64
}

// Round is a round that is not closed: drawn, or ahead. The rounds of a division stand in
// the order in which they are drawn.
type Round struct {
	Division day.DivisionID
	Stage    int
	Number   int
	Drawn    bool
	// Possible says that results may make the whole round needless.
	Possible bool
	// Apart says that it is drawn when all heats of the one before are under way; else
	// when all before it are closed.
	Apart bool
	// ReadyUS is an instant before which it is not drawn.
	ReadyUS int64
	// NotBeforeUS is what was told of it before it was drawn; 0 where nothing was.
	NotBeforeUS int64
	// PostedUS is when the last of its heats was posted that are; 0 where none is.
	PostedUS int64
	// Heats are its heats that are still to be raced, as positions in Rest.Heats.
	Heats []int
}

// Heat is a heat that is still to be raced, or is being raced.
type Heat struct {
	// ID is the heat's, or what it will be as far as its number is known beforehand.
	ID    day.HeatID
	Round int // in Rest.Rounds
	Drawn bool
	// Possible marks a heat that results may make needless.
	Possible bool
	Number   int
	Leg      int
	// Lanes is how many benches it needs at once, Turns how often it is called: where
	// siblings share a car, or benches are too few, its cars race in turn.
	Lanes, Turns int
	// Entries are those that still race in it, as far as they are known.
	Entries []day.EntryID
	// After is the leg before it that has to be posted first; -1 where there is none.
	After int
	// Phase is how far a drawn heat is; On are the benches it was called to.
	Phase     day.Phase
	On        []day.BenchID
	CalledUS  int64
	StartedUS int64
	// RaceUS is how long a run lasts.
	RaceUS int64
	// RestUS is how long its cars rest after it.
	RestUS int64
	// NotBeforeUS is what was told of it, or until when it is held; 0 where neither is.
	NotBeforeUS int64
	// inspectedUS is when its cars have passed the inspection, in a rehearsed day.
	inspectedUS int64
	// walkover says that the last car left in it need not race.
	walkover bool
	// again marks a further race of a car of the heat After.
	again bool
	// cars are the cars of its entries as numbers, each once; first is an entry of each.
	cars  []int
	first []day.EntryID
}

// Waits says whether the heat is still to be called.
func (h Heat) Waits() bool { return h.Phase != day.PhaseCalled && h.Phase != day.PhaseRacing }

// RestOf is what is left of the day at an instant. OpensUS is when the hall opens; 0 where
// that is not known; see From. It costs what programme.Ahead does for each division.
func RestOf(s *day.State, nowUS, opensUS int64) Rest {
	nowUS = From(s, nowUS, opensUS)
	g := gathering{s: s, rest: Rest{AtUS: nowUS, plate: map[day.BenchID]int{}}, cars: map[day.CarID]int{}, round: map[roundKey]int{}}
	for _, b := range programme.BenchesInService(s) {
		g.rest.plate[b.ID] = len(g.rest.Benches)
		g.rest.Benches = append(g.rest.Benches, b.ID)
	}
	for _, b := range s.SortedBenches() {
		if b.OutOfService {
			g.rest.Out = append(g.rest.Out, OutBench{b.ID, b.OutSinceUS})
		}
	}
	ahead := map[day.DivisionID][]programme.RoundAhead{}
	for _, d := range s.SortedDivisions() {
		ahead[d.ID] = programme.Ahead(s, d)
		g.rounds(d, ahead[d.ID], opensUS)
	}
	b := board.CallBoardOf(s)
	for _, id := range slices.Concat(b.Racing, b.Called, b.Next) {
		g.heat(s.Heats[id])
	}
	for _, d := range s.SortedDivisions() {
		g.heatsAhead(d, ahead[d.ID])
	}
	g.legs()
	g.fields()
	g.lastRuns()
	g.tasks(opensUS)
	g.told()
	return g.rest
}

// From is the instant that the rest of a day is of: nothing is raced before the hall opens,
// unless somebody has called a heat already.
func From(s *day.State, nowUS, opensUS int64) int64 {
	if board.RulesFixed(s) {
		return nowUS
	}
	return max(nowUS, opensUS)
}

// Paused is the rest of a day in which nothing is called and no round is drawn for so long.
// Heats that are on benches race on.
func (r Rest) Paused(forUS int64) Rest {
	if forUS == 0 {
		return r
	}
	r.Heats, r.Rounds = slices.Clone(r.Heats), slices.Clone(r.Rounds)
	for i := range r.Heats {
		if h := &r.Heats[i]; h.Drawn && h.Waits() {
			h.NotBeforeUS = max(h.NotBeforeUS, r.AtUS+forUS)
		}
	}
	for i := range r.Rounds {
		if x := &r.Rounds[i]; !x.Drawn {
			x.ReadyUS = max(x.ReadyUS, r.AtUS+forUS)
		}
	}
	return r
}

type roundKey struct {
	division      day.DivisionID
	stage, number int
}

// gathering is a rest of a day as it is put together.
type gathering struct {
	s     *day.State
	rest  Rest
	cars  map[day.CarID]int
	round map[roundKey]int
}

// rounds puts in the rounds of a division that are drawn and open, or ahead.
func (g *gathering) rounds(d day.Division, ahead []programme.RoundAhead, opensUS int64) {
	p := g.s.Programmes[d.ID]
	for i, st := range p.Stages {
		for k, r := range st.Rounds {
			if r.Closed && !g.reopened(r) {
				continue
			}
			out := Round{Division: d.ID, Stage: i + 1, Number: k + 1, Drawn: true, ReadyUS: r.DrawnUS}
			for _, id := range r.Heats {
				out.PostedUS = max(out.PostedUS, g.s.Heats[id].PostedUS)
			}
			g.put(out)
		}
	}
	for _, r := range ahead {
		if r.Drawn {
			continue
		}
		out := Round{Division: d.ID, Stage: r.Stage, Number: r.Round, Apart: r.Apart, ReadyUS: g.rest.AtUS}
		if len(p.Stages) == 0 && !p.EntriesClosed {
			out.ReadyUS = max(g.rest.AtUS, opensUS)
		}
		out.Possible = !slices.ContainsFunc(r.Heats, func(h programme.HeatAhead) bool { return !h.Possible })
		g.put(out)
	}
}

// walkover says whether the last car left in a heat of a stage need not race.
func walkover(d day.Division, stage int) bool {
	_, form := programme.FormOf(d, stage)
	return form != nil && form.Walkover()
}

// reopened says whether a closed round has a heat that is raced again.
func (g *gathering) reopened(r day.RoundState) bool {
	return slices.ContainsFunc(r.Heats, func(id day.HeatID) bool { return !g.s.Heats[id].Posted() })
}

func (g *gathering) put(r Round) {
	g.round[roundKey{r.Division, r.Stage, r.Number}] = len(g.rest.Rounds)
	g.rest.Rounds = append(g.rest.Rounds, r)
}

// heat puts in a drawn heat that is not posted.
func (g *gathering) heat(h day.Heat) {
	at := g.round[roundKey{h.Division, h.Stage, h.Round}]
	d := g.s.Divisions[h.Division]
	out := Heat{
		ID: h.ID, Round: at, Drawn: true, Number: h.Number, Leg: h.Leg, After: -1, Phase: h.Phase,
		CalledUS: h.CalledUS, StartedUS: h.StartedUS, RaceUS: d.Stages[h.Stage-1].RaceUS, RestUS: restUS(g.s, d), walkover: walkover(d, h.Stage),
	}
	if out.Waits() {
		out.CalledUS, out.StartedUS = 0, 0
	}
	turns := map[int]int{}
	for _, l := range h.Lanes {
		if l.State == day.LaneDone {
			continue
		}
		out.Entries = append(out.Entries, l.Entry)
		car := g.car(l.Entry)
		if turns[car]++; turns[car] == 1 {
			out.cars, out.first = append(out.cars, car), append(out.first, l.Entry)
		}
		out.Turns = max(out.Turns, turns[car])
		if l.State != day.LaneWaiting && l.Bench != "" {
			out.On = append(out.On, l.Bench)
		}
	}
	out.Lanes = len(out.cars)
	g.fit(&out)
	g.rest.Rounds[at].Heats = append(g.rest.Rounds[at].Heats, len(g.rest.Heats))
	g.rest.Heats = append(g.rest.Heats, out)
}

// fit lets a heat that is wider than there are benches race in turns.
func (g *gathering) fit(h *Heat) {
	h.Turns = max(1, h.Turns)
	if most := len(g.rest.Benches); most > 0 && h.Lanes > most {
		h.Turns = max(h.Turns, (h.Lanes+most-1)/most)
		h.Lanes = most
	}
}

func (g *gathering) car(entry day.EntryID) int {
	id := g.s.Entries[entry].Car
	at, known := g.cars[id]
	if !known {
		at = g.rest.cars
		g.cars[id] = at
		g.rest.cars++
	}
	return at
}

// heatsAhead puts in the heats of a division that are not drawn.
func (g *gathering) heatsAhead(d day.Division, ahead []programme.RoundAhead) {
	for _, r := range ahead {
		at, there := g.round[roundKey{d.ID, r.Stage, r.Round}]
		if !there {
			continue
		}
		for _, h := range r.Heats {
			out := Heat{
				ID: d.ID.Heat(r.Stage, r.Round, h.Number).Leg(h.Leg), Round: at, Possible: h.Possible, Number: h.Number, Leg: h.Leg,
				Lanes: h.Lanes, Entries: h.Entries, After: -1, RaceUS: d.Stages[r.Stage-1].RaceUS, RestUS: restUS(g.s, d),
				walkover: walkover(d, r.Stage),
			}
			for _, id := range h.Entries {
				if car := g.car(id); !slices.Contains(out.cars, car) {
					out.cars, out.first = append(out.cars, car), append(out.first, id)
				}
			}
			g.fit(&out)
			g.rest.Rounds[at].Heats = append(g.rest.Rounds[at].Heats, len(g.rest.Heats))
			g.rest.Heats = append(g.rest.Heats, out)
		}
	}
}

// legs lets each leg wait for the one before it.
func (g *gathering) legs() {
	type leg struct {
		round, number, leg int
	}
	at := map[leg]int{}
	for i, h := range g.rest.Heats {
		at[leg{h.Round, h.Number, h.Leg}] = i
	}
	for i, h := range g.rest.Heats {
		if h.Leg < 2 {
			continue
		}
		if before, there := at[leg{h.Round, h.Number, h.Leg - 1}]; there {
			g.rest.Heats[i].After = before
		}
	}
	// Legs of one draw are called in turns: all first ones, then all second ones.
	for r := range g.rest.Rounds {
		round := &g.rest.Rounds[r]
		if round.Drawn {
			continue
		}
		slices.SortStableFunc(round.Heats, func(a, b int) int {
			x, y := g.rest.Heats[a], g.rest.Heats[b]
			return cmp.Or(cmp.Compare(x.Leg, y.Leg), cmp.Compare(x.Number, y.Number))
		})
	}
}

// lastRuns notes from when on each car has rested from the races that it has behind it.
func (g *gathering) lastRuns() {
	g.rest.rested = make([]int64, g.rest.cars)
	for _, h := range g.s.Heats {
		if h.StartedUS == 0 {
			continue
		}
		d := g.s.Divisions[h.Division]
		until := h.StartedUS + d.Stages[h.Stage-1].RaceUS + restUS(g.s, d)
		for _, l := range h.Lanes {
			car, known := g.cars[g.s.Entries[l.Entry].Car]
			if known && l.Counts != "" {
				g.rest.rested[car] = max(g.rest.rested[car], until)
			}
		}
	}
}

// CarRestUS is how long a car of a division has to rest between its races, in µs; 0 where
// the rules do not hold cars back for it.
func CarRestUS(s *day.State, d day.Division) int64 { return restUS(s, d) }

// restUS is how long a car of a division has to rest between its races: as long as the
// pack that rests longest, where the rules hold cars back for it.
func restUS(s *day.State, d day.Division) (us int64) {
	if s.Rules.BatteryGate != day.GateHold || d.Class.Battery == nil {
		return 0
	}
	for _, w := range inspection.Windows(s, d.ID) {
		us = max(us, w.RestUS)
	}
	return us
}
