package rehearsal

import (
	"context"
	"fmt"
	"time"

	"golang.org/x/sync/errgroup"

	"benchmeet/api/gen"
	"benchmeet/domain/simulate"
)

// starter has heats raced, and does what goes wrong on the way.
type starter struct{ *Day }

// raceHeat gets the cars of a called heat ready, starts it and has every bench
// make its run.
func (d starter) raceHeat(ctx context.Context, h gen.Heat, benchOut bool) error {
	lanes, err := d.start(ctx, h)
	if err != nil || len(lanes) == 0 {
		return err
	}
	return d.finish(ctx, h, lanes, benchOut)
}

// start gets the cars of a called heat ready and starts it. It gives the lanes that
// race: none in a walkover, or where nobody came.
func (d starter) start(ctx context.Context, h gen.Heat) ([]gen.Lane, error) {
	var lanes, missing []gen.Lane
	for _, l := range h.Lanes {
		if l.State != gen.LaneStateCalled {
			continue
		}
		if d.missesCall(h, l) {
			missing = append(missing, l)
			continue
		}
		body := gen.ConfirmReady{Bench: *l.Bench, StartNumber: l.Racer.StartNumber}
		if _, err := d.post(ctx, "/heats/"+h.Id+"/ready", body, *l.Armed); err != nil {
			return nil, err
		}
		lanes = append(lanes, l)
		if err := d.pace.sleep(ctx, 700*time.Millisecond); err != nil {
			return nil, err
		}
	}
	for _, l := range missing {
		if err := d.didNotStart(ctx, h, l); err != nil {
			return nil, err
		}
	}
	now, err := d.heat(ctx, h.Id)
	if err != nil || now.Phase != gen.HeatPhaseCalled || len(lanes) == 0 {
		return nil, err
	}
	_, err = d.post(ctx, "/heats/"+h.Id+"/start", nil, *lanes[0].Armed)
	return lanes, err
}

// finish has the benches of a heat that races make their runs. The first of them may
// fail meanwhile: its run waits, is accepted, and the bench is put back.
func (d starter) finish(ctx context.Context, h gen.Heat, lanes []gen.Lane, benchOut bool) error {
	if !benchOut {
		return d.runLanes(ctx, h, lanes)
	}
	out := *lanes[0].Bench
	if err := d.service(ctx, out, true, h.Id); err != nil {
		return err
	}
	if err := d.runLanes(ctx, h, lanes); err != nil {
		return err
	}
	return d.acceptAndPutBack(ctx, h, lanes[0], out)
}

// runLanes has the benches of a heat make their runs at the same time. One of
// them holds its last chunk back until the others are in, and sends all again.
func (d starter) runLanes(ctx context.Context, h gen.Heat, lanes []gen.Lane) error {
	late := make(chan struct{})
	inTime, inner := errgroup.WithContext(ctx)
	afterwards, outer := errgroup.WithContext(ctx)
	for i, l := range lanes {
		if d.plan.Trouble && len(lanes) > 1 && i == len(lanes)-1 && d.wave%3 == 0 {
			afterwards.Go(func() error { return d.runLate(outer, h, l, late) })
			continue
		}
		inTime.Go(func() error { return d.runLane(inner, h, l, nil) })
	}
	err := inTime.Wait()
	close(late)
	if other := afterwards.Wait(); err == nil {
		err = other
	}
	return err
}

// runLate sends late, then everything a second time, then once more after the
// counter box has started anew: the last one is a run that fits no lane.
func (d starter) runLate(ctx context.Context, h gen.Heat, l gen.Lane, late <-chan struct{}) error {
	if err := d.runLane(ctx, h, l, late); err != nil {
		return err
	}
	n := d.nodes[*l.Bench]
	again, err := n.make(ctx, d.race(h, l), nil)
	if err != nil {
		return err
	}
	if again.fresh {
		return fmt.Errorf("run %s was sent twice and taken twice", again.run)
	}
	n.restart()
	return d.runLane(ctx, h, l, nil)
}

func (d starter) runLane(ctx context.Context, h gen.Heat, l gen.Lane, late <-chan struct{}) error {
	s, err := d.nodes[*l.Bench].make(ctx, d.race(h, l), late)
	if err != nil {
		return err
	}
	if !s.recorded {
		return fmt.Errorf("run %s was acknowledged and not recorded", s.run)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.sent = append(d.sent, s)
	return nil
}

// race is the run that a lane's bench makes: the car's speed with the noise of
// this entry, heat and attempt.
func (d starter) race(h gen.Heat, l gen.Lane) race {
	e := d.entry(l.Racer.StartNumber)
	key := simulate.Key(d.plan.Seed, "run", entryID(e.Number), *l.Armed)
	rng := simulate.Source(key)
	p := simulate.Usual(key, e.RPM*(1+0.008*rng.NormFloat64()), *h.RaceS)
	if d.plan.Trouble && rng.Float64() < 0.04 {
		p.FailAtS = *h.RaceS * (0.2 + 0.6*rng.Float64()) // the sensor falls silent
	}
	return race{run: *l.Armed, meet: d.plan.Meet, raceS: *h.RaceS, params: p}
}

// missesCall says whether a child does not come to this call.
func (d starter) missesCall(h gen.Heat, l gen.Lane) bool {
	if !d.plan.Trouble || h.Stage > 1 {
		return false
	}
	rng := simulate.Source(simulate.Key(d.plan.Seed, "misses", *l.Armed))
	return rng.Float64() < 0.02
}

// didNotStart rules so when the call is over.
func (d starter) didNotStart(ctx context.Context, h gen.Heat, l gen.Lane) error {
	heat, entry := h.Id, l.Racer.Entry
	body := gen.RulingBody{Kind: gen.RulingBodyKindDidNotStart, Heat: &heat, Entry: &entry, Reason: gen.Reason{Code: "not-there"}}
	for {
		_, err := d.post(ctx, "/rulings", body, *l.Armed)
		if !IsProblem(err, "call-running") {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(retryEvery):
		}
	}
}

func (d starter) service(ctx context.Context, bench string, out bool, what string) error {
	body := gen.BenchService{Out: out}
	if out {
		body.Reason = &gen.Reason{Code: "bench-fault"}
	}
	_, err := d.post(ctx, "/benches/"+bench+"/service", body, what, fmt.Sprint(out))
	return err
}

// acceptAndPutBack accepts the run that waited because its bench was out.
func (d starter) acceptAndPutBack(ctx context.Context, h gen.Heat, l gen.Lane, bench string) error {
	run, heat, entry := *l.Armed, h.Id, l.Racer.Entry
	body := gen.RulingBody{
		Kind: gen.RulingBodyKindAcceptRun, Run: &run, Heat: &heat, Entry: &entry, Reason: gen.Reason{Code: "bench-fault"},
	}
	if _, err := d.post(ctx, "/rulings", body, "accept", run); err != nil {
		return err
	}
	return d.service(ctx, bench, false, h.Id)
}
