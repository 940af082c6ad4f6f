package dayplan

import (
	"cmp"
	"fmt"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/timetable"
)

// solverRounds bounds the search of Improve: a number of rounds and no clock, so that the
// same day is improved in the same way.
const solverRounds = 60

// worthUS is by how much earlier a day has to end before its order is worth a change.
const worthUS = 60 * secondUS

// revisions is how many heats that moved are tried where they stood.
const revisions = 48

// Improved is another order of the heats that wait, and what it gives.
type Improved struct {
	// Order are all heats that are drawn and wait, the first first.
	Order []day.HeatID
	// Rest is the rest of the day in that order, Plan how it will likely go.
	Rest Rest
	Plan Plan
	// SavesUS is by how much earlier the day ends than in the order that stands.
	SavesUS int64
}

// Improve looks for an order of the heats that wait in which the day ends earlier: among
// that of a timetable of the rest of the day and those that bring one division forward, it
// takes the one that moves the fewest heats of those that save most. It is judged by the
// same play as [Order] gives, so it is never worse than keeping the order; false where
// nothing saves a minute. No heat that was told comes before its promise, and none five
// minutes or more after where it stood. What is called stays. The same rest, pace and seed give the
// same answer.
func Improve(r Rest, p Pace, seed uint64) (Improved, bool) {
	standing := r.waiting(nil)
	if len(standing) < 2 || len(r.Benches) == 0 {
		return Improved{}, false
	}
	t := trial{r: &r, standing: standing, game: newGame(&r), lengths: meanLengths(&r, p)}
	t.game.quiet = true
	t.stood, t.before = slices.Clone(t.calls(standing)), t.finish
	var good []candidate
	for _, order := range t.orders(t.solved(p, seed)) {
		c, fits := t.judge(order)
		if fits && c.finish <= t.before-worthUS {
			good = append(good, c)
		}
	}
	if len(good) == 0 {
		return Improved{}, false
	}
	earliest := slices.MinFunc(good, func(a, b candidate) int { return cmp.Compare(a.finish, b.finish) })
	best := earliest
	for _, c := range good {
		if c.finish < earliest.finish+worthUS && c.moved < best.moved {
			best = c
		}
	}
	best = t.revise(best)
	out := Improved{Rest: r.ordered(best.order), SavesUS: t.before - best.finish}
	for _, i := range best.order {
		out.Order = append(out.Order, r.Heats[i].ID)
	}
	out.Plan = Order(out.Rest, p)
	return out, true
}

// waiting appends the drawn heats that wait, in their order.
func (r *Rest) waiting(out []int) []int {
	if r.turn != nil {
		return append(out, r.turn...)
	}
	for i := range r.Heats {
		if h := &r.Heats[i]; h.Drawn && !h.again && h.Waits() {
			out = append(out, i)
		}
	}
	return out
}

// ordered is the same rest with its waiting heats in another order.
func (r Rest) ordered(turn []int) Rest {
	r.turn = slices.Clone(turn)
	return r
}

// trial tries orders of one day.
type trial struct {
	r        *Rest
	standing []int
	game     *game
	lengths  lengths
	// stood are the calls in the order that stands, before its end.
	stood  []int64
	before int64
	finish int64 // of the order tried last
}

// candidate is an order with what it gives.
type candidate struct {
	order  []int
	finish int64
	// moved is how many heats are called five minutes or more earlier or later.
	moved int
}

// calls plays an order and returns the calls of all heats.
func (t *trial) calls(order []int) []int64 {
	t.r.turn = order
	t.game.run(t.lengths)
	t.r.turn = nil
	t.finish = t.r.AtUS
	for _, i := range t.game.called {
		if !t.r.Heats[i].Possible {
			t.finish = max(t.finish, t.game.end[i])
		}
	}
	return t.game.start
}

// judge plays an order; it does not fit where something told comes later.
func (t *trial) judge(order []int) (candidate, bool) {
	calls := t.calls(order)
	c := candidate{order: order, finish: t.finish}
	for _, i := range t.standing {
		by := calls[i] - t.stood[i]
		if by >= ToldStepUS && t.r.Heats[i].NotBeforeUS > 0 {
			return c, false
		}
		if max(by, -by) >= ToldStepUS {
			c.moved++
		}
	}
	return c, true
}

// orders are those that are tried: that of a timetable; and for each division that one alone
// as it stands in the timetable, or brought to the front, among the others as they are.
func (t *trial) orders(solved []int) (out [][]int) {
	if solved != nil {
		out = append(out, solved)
	}
	var divisions []day.DivisionID
	for _, i := range t.standing {
		if id := t.division(i); !slices.Contains(divisions, id) {
			divisions = append(divisions, id)
		}
	}
	for _, id := range divisions {
		first := slices.Clone(t.standing)
		slices.SortStableFunc(first, func(a, b int) int {
			return cmp.Compare(oneUnless(t.division(a) == id), oneUnless(t.division(b) == id))
		})
		out = append(out, first)
		if solved == nil {
			continue
		}
		// Its heats take the places that they have in the timetable.
		others := slices.DeleteFunc(slices.Clone(t.standing), func(i int) bool { return t.division(i) == id })
		order := make([]int, 0, len(solved))
		for _, i := range solved {
			if t.division(i) == id {
				order = append(order, i)
			} else {
				order = append(order, others[0])
				others = others[1:]
			}
		}
		out = append(out, order)
	}
	return out
}

func oneUnless(yes bool) int {
	if yes {
		return 0
	}
	return 1
}

func (t *trial) division(i int) day.DivisionID { return t.r.Rounds[t.r.Heats[i].Round].Division }

// revise puts heats back to where they stood as long as the day ends no later for it and
// fewer move.
func (t *trial) revise(best candidate) candidate {
	tries := 0
	for place, i := range t.standing {
		if tries == revisions {
			break
		}
		if best.order[place] == i {
			continue
		}
		order := slices.DeleteFunc(slices.Clone(best.order), func(k int) bool { return k == i })
		order = slices.Insert(order, place, i)
		tries++
		if c, fits := t.judge(order); fits && c.finish <= best.finish && c.moved < best.moved {
			best = c
		}
	}
	return best
}

// solved is the order of a timetable; nil where there is none.
func (t *trial) solved(p Pace, seed uint64) []int {
	problem, standing := t.problem(p)
	plan, err := timetable.Solve(problem, timetable.Options{Seed: seed, Rounds: solverRounds, Standing: standing, Rough: true})
	if err != nil {
		// What was called keeps benches that are out: nothing to plan with.
		return nil
	}
	out := slices.Clone(t.standing)
	slices.SortStableFunc(out, func(a, b int) int {
		return cmp.Compare(plan.Starts[t.name(a)], plan.Starts[t.name(b)])
	})
	return out
}

func (t *trial) name(i int) string { return fmt.Sprint("h", i) }

// problem is the rest of the day for a timetable, in seconds from now, with the starts of the
// order that stands.
func (t *trial) problem(p Pace) (timetable.Problem, map[string]int) {
	r := t.r
	out := timetable.Problem{
		Resources: []timetable.Resource{{Name: "bench", Capacity: len(r.Benches)}},
		Rest:      timetable.Rest{Entries: map[string]int{}}, Fixed: map[string]int{},
	}
	standing := map[string]int{}
	seconds := func(us int64) int { return int((us + secondUS - 1) / secondUS) }
	last := map[day.DivisionID][]string{} // all heats of the division so far
	for k := range r.Rounds {
		round := &r.Rounds[k]
		drawn := fmt.Sprint("r", k)
		if !round.Drawn {
			a := timetable.Activity{ID: drawn, Duration: seconds(t.lengths.draws[k]), Release: seconds(max(0, round.ReadyUS-r.AtUS))}
			if !round.Apart {
				a.After = slices.Clone(last[round.Division])
			}
			for _, before := range r.Rounds[:k] {
				if before.Division == round.Division {
					a.Release = max(a.Release, seconds(before.PostedUS-r.AtUS))
				}
			}
			out.Activities = append(out.Activities, a)
		}
		var earlier []string
		if round.Apart {
			earlier = last[round.Division]
		}
		for n, i := range round.Heats {
			h := &r.Heats[i]
			if !t.lengths.left[i] {
				continue
			}
			a := timetable.Activity{
				ID: t.name(i), Duration: seconds(t.lengths.heats[i] + t.lengths.change[i][0]), Needs: map[string]int{"bench": h.Lanes},
				Release: seconds(max(0, r.promisedUS(h)-r.AtUS)),
			}
			if !h.Waits() {
				a.Needs["bench"] = len(t.game.on[i])
				out.Fixed[a.ID] = 0
			}
			if !round.Drawn {
				a.After = append(a.After, drawn)
				if at := (n + 1) * len(earlier) / len(round.Heats); at > 0 {
					a.After = append(a.After, earlier[at-1]) // nobody knows which of its cars comes last
				}
			}
			if h.After >= 0 && t.lengths.left[h.After] {
				a.After = append(a.After, t.name(h.After))
			}
			for _, c := range h.cars {
				car := fmt.Sprint("c", c)
				a.Entries = append(a.Entries, car)
				out.Rest.Entries[car] = max(out.Rest.Entries[car], seconds(max(0, h.RestUS-t.lengths.change[i][0])))
				if h.Waits() {
					a.Release = max(a.Release, seconds(r.rested[c]-r.AtUS))
				}
			}
			standing[a.ID] = seconds(t.stood[i] - r.AtUS)
			last[round.Division] = append(last[round.Division], a.ID)
			out.Activities = append(out.Activities, a)
		}
	}
	out.Outages = t.outages(out)
	return out, standing
}

// outages are the stops of the day as times in which no bench can be used, behind what is on
// the benches now.
func (t *trial) outages(p timetable.Problem) (out []timetable.Outage) {
	over := 0
	for _, a := range p.Activities {
		if _, begun := p.Fixed[a.ID]; begun {
			over = max(over, a.Duration)
		}
	}
	for _, s := range t.r.Stops {
		from, to := int(max(0, s.FromUS-t.r.AtUS)/secondUS), int((s.ToUS-t.r.AtUS)/secondUS)
		if from = max(from, over); from < to {
			out = append(out, timetable.Outage{Resource: "bench", Amount: len(t.r.Benches), From: from, To: &to})
			over = to
		}
	}
	return out
}
