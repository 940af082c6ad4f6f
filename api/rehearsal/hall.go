package rehearsal

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"benchmeet/api/gen"
	"benchmeet/domain/simulate"
)

// How long people take, on average, and by how much that scatters, as a part of it: from
// the call of a heat to its start, from the end of its race to the last stamp at the server,
// from then until its benches are free for the next call, and from the end of a round's
// protest time to the next draw (engineering judgement).
var (
	callTakes   = takes{"call", 125 * time.Second, 0.3}
	postTakes   = takes{"post", 20 * time.Second, 0.4}
	changeTakes = takes{"change", 50 * time.Second, 0.4}
	drawTakes   = takes{"draw", 60 * time.Second, 0.5}
)

// takes is how long a piece of work takes.
type takes struct {
	work    string
	mean    time.Duration
	scatter float64
}

// of is how long it takes this time: the same for the same seed.
func (t takes) of(seed uint64, what string) time.Duration {
	random := simulate.Source(simulate.Key(seed, "takes", t.work, what))
	factor := math.Exp(t.scatter*random.NormFloat64() - t.scatter*t.scatter/2)
	return time.Duration(float64(t.mean) * factor).Truncate(time.Millisecond)
}

// hall races a day by its timetable, heat after heat in the order of the plan and none
// before its promised time. It steps the clock from one thing that happens to the next, one
// at a time, so that the same seed gives the same day to the second.
type hall struct {
	starter
	caller
	clock *Clock
	// standing are the heats at the benches.
	standing []*standing
	// changed is from when on a bench that was raced on is free for the next call.
	changed map[string]time.Time
	// closing is when a round whose protest time is over gets closed, by division.
	closing map[string]time.Time
}

// standing is a heat at the benches, and when it starts or, once it has, when it is over.
type standing struct {
	heat   gen.Heat
	called []gen.Lane
	call   int // its number among the calls of the day
	at     time.Time
	lanes  []gen.Lane // those that started; none before the start
}

func newHall(d *Day, c caller) *hall {
	return &hall{starter: starter{d}, caller: c, clock: d.clock, changed: map[string]time.Time{}, closing: map[string]time.Time{}}
}

// race races until every division is through, or until no heat is called any more.
func (h *hall) race(ctx context.Context) error {
	var waits time.Time
	left := 0
	for stirred := true; ; {
		over, err := h.happen(ctx)
		if err != nil {
			return err
		}
		stirred = stirred || over || !waits.IsZero() && h.due(waits)
		closed, err := h.closeWhatIsDue(ctx, stirred)
		if err != nil {
			return err
		}
		if closed {
			if _, err := h.drawWhatIsDue(ctx); err != nil {
				return err
			}
		}
		if stirred || closed {
			if waits, left, err = h.callWhatIsDue(ctx); err != nil {
				return err
			}
		}
		next := earliest(waits, h.next())
		switch {
		case len(h.standing) == 0 && h.leaves(next):
			return nil
		case next.IsZero() && left > 0:
			return fmt.Errorf("none of %d heats can be called on %d benches", left, len(h.plan.Benches))
		case next.IsZero():
			return nil
		}
		h.clock.Step(next)
		stirred = false
		if err := ctx.Err(); err != nil {
			return err
		}
	}
}

// leaves says whether the day is left before an instant.
func (h *hall) leaves(at time.Time) bool { return !h.until.IsZero() && !at.Before(h.until) }

// next is when something happens that needs no further call; zero where nothing does.
func (h *hall) next() time.Time {
	var at time.Time
	for _, x := range h.standing {
		at = earliest(at, x.at)
	}
	return earliest(at, h.nextClosing())
}

// nextClosing is when the next round is closed that is raced; zero where none is.
func (h *hall) nextClosing() time.Time {
	var at time.Time
	for _, x := range h.closing {
		at = earliest(at, x)
	}
	return at
}

// earliest of two instants; zero is none.
func earliest(a, b time.Time) time.Time {
	if a.IsZero() || !b.IsZero() && b.Before(a) {
		return b
	}
	return a
}

// due says whether an instant has come.
func (h *hall) due(at time.Time) bool { return !at.After(h.clock.Now()) }

// happen starts the heats whose cars are ready, ends those that are over, and says whether
// there are any of these.
func (h *hall) happen(ctx context.Context) (bool, error) {
	slices.SortStableFunc(h.standing, func(a, b *standing) int { return cmp.Or(a.at.Compare(b.at), cmp.Compare(a.call, b.call)) })
	still, any := h.standing[:0], false
	for _, x := range h.standing {
		if !h.due(x.at) {
			still = append(still, x)
			continue
		}
		over, err := h.goOn(ctx, x)
		if err != nil {
			return false, err
		}
		if any = any || over; !over {
			still = append(still, x)
		}
	}
	h.standing = still
	return any, nil
}

// goOn does with a heat what comes next, and says whether it is over.
func (h *hall) goOn(ctx context.Context, x *standing) (bool, error) {
	h.wave = x.call
	if x.lanes == nil {
		lanes, err := h.start(ctx, x.heat)
		if err != nil {
			return false, err
		}
		if len(lanes) > 0 {
			race := time.Duration(*x.heat.RaceS * float64(time.Second))
			x.lanes, x.at = lanes, h.clock.Now().Add(race+postTakes.of(h.plan.Seed, *lanes[0].Armed))
			return false, nil
		}
	} else if err := h.finish(ctx, x.heat, x.lanes, h.plan.Trouble && x.call == benchFailsIn); err != nil {
		return false, err
	}
	for _, l := range x.called {
		h.changed[*l.Bench] = h.clock.Now().Add(changeTakes.of(h.plan.Seed, *l.Armed))
	}
	return true, h.decide(ctx)
}

// benchFailsIn is the call of the day in whose race a bench fails.
const benchFailsIn = 2

// closeWhatIsDue closes the rounds that somebody comes to close now, notes when the
// others are closed where heats have ended: when their protest time is over; and says whether
// it closed any.
func (h *hall) closeWhatIsDue(ctx context.Context, ended bool) (bool, error) {
	if at := h.nextClosing(); !ended && (at.IsZero() || !h.due(at)) {
		return false, nil
	}
	var m gen.Meet
	if err := h.page(ctx, "", &m); err != nil {
		return false, err
	}
	var all gen.HeatList
	if err := h.page(ctx, "/heats", &all); err != nil {
		return false, err
	}
	closed := false
	for _, div := range m.Divisions {
		raced, until := raced(div, all.Heats)
		at, noted := h.closing[div.Id]
		switch {
		case !raced:
			delete(h.closing, div.Id)
		case !noted:
			until = later(until, h.clock.Now())
			h.closing[div.Id] = until.Add(drawTakes.of(h.plan.Seed, fmt.Sprint(div.Id, div.Stage, ".", div.Round)))
		case h.due(at):
			if err := h.closeRound(ctx, div); err != nil {
				return false, err
			}
			delete(h.closing, div.Id)
			closed = true
		}
	}
	return closed, nil
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// raced says whether the open round of a division is raced, and until when protests may come.
func raced(div gen.Division, heats []gen.Heat) (bool, time.Time) {
	var until time.Time
	if div.Stage == 0 || div.RoundClosed {
		return false, until
	}
	for _, x := range heats {
		if x.Division != div.Id || x.Stage != div.Stage || x.Round != div.Round {
			continue
		}
		if x.Phase != gen.HeatPhaseProvisional && x.Phase != gen.HeatPhaseOfficial {
			return false, until
		}
		if x.ProtestUntil != nil {
			until = later(until, *x.ProtestUntil)
		}
	}
	return true, until
}

// callWhatIsDue calls heats in the order of the plan, as long as the first of those that
// wait may be called and finds its benches. It says how many are left, and from when on the
// first may be called where that is known.
func (h *hall) callWhatIsDue(ctx context.Context) (time.Time, int, error) {
	for {
		waiting, err := h.waiting(ctx)
		if err != nil || len(waiting) == 0 {
			return time.Time{}, 0, err
		}
		if h.leaves(h.clock.Now()) {
			return time.Time{}, 0, nil
		}
		first := waiting[0]
		if first.NotBefore != nil && !h.due(*first.NotBefore) {
			return *first.NotBefore, len(waiting), nil
		}
		free, next := h.free()
		if h.needs(first) > free {
			return next, len(waiting), nil
		}
		called, err := h.call(ctx, first.Heat)
		if err != nil || !called {
			return time.Time{}, len(waiting), err
		}
	}
}

// free is how many benches are free for a call, and when the next of those is that nobody
// races on.
func (h *hall) free() (int, time.Time) {
	taken := map[string]bool{}
	for _, x := range h.standing {
		for _, l := range x.called {
			taken[*l.Bench] = true
		}
	}
	n, next := 0, time.Time{}
	for _, b := range h.plan.Benches {
		switch at := h.changed[b.ID]; {
		case taken[b.ID]:
		case h.due(at):
			n++
		default:
			next = earliest(next, at)
		}
	}
	return n, next
}

// needs is how many benches a heat needs at once: siblings with one car race in turn.
func (h *hall) needs(x gen.PlanHeat) int {
	cars := map[string]bool{}
	for _, r := range x.Cars {
		cars[h.entry(r.StartNumber).Car] = true
	}
	return min(len(cars), len(h.plan.Benches))
}

// call calls a heat. It gives false where a car of it, or the leg before, is still at a bench.
func (h *hall) call(ctx context.Context, id string) (bool, error) {
	number := h.calls + 1
	_, err := h.post(ctx, "/heats/"+id+"/call", gen.CallHeat{}, fmt.Sprint("wave ", number))
	if IsProblem(err, "car-busy") || IsProblem(err, "leg-early") {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	h.calls = number
	now, err := h.heat(ctx, id)
	if err != nil {
		return false, err
	}
	x := &standing{heat: now, call: number, at: h.clock.Now()}
	for _, l := range now.Lanes {
		if l.State == gen.LaneStateCalled {
			x.called = append(x.called, l)
		}
	}
	for i, l := range x.called {
		if i == 0 {
			x.at = x.at.Add(callTakes.of(h.plan.Seed, *l.Armed))
		}
		if h.missesCall(now, l) && now.Deadline != nil {
			x.at = later(x.at, *now.Deadline)
		}
	}
	h.standing = append(h.standing, x)
	return true, nil
}
