package rehearsal

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"golang.org/x/sync/errgroup"

	"benchmeet/api/gen"
	"benchmeet/domain/simulate"
)

// raceAll draws, races and closes until every division is through. Heats are
// raced in waves: as many heats as there are benches for are called one after
// the other and raced at the same time. A wave depends only on the state of the
// day, so the same seed gives the same waves.
func (d *Day) raceAll(ctx context.Context) error {
	for {
		drawn, err := d.drawWhatIsDue(ctx)
		if err != nil {
			return err
		}
		var board gen.Board
		if err := d.desk.Get(ctx, d.meetPath("/board"), &board); err != nil {
			return err
		}
		if len(board.Next) == 0 && !drawn {
			closed, err := d.closeWhatIsPosted(ctx)
			if err != nil || !closed {
				return err
			}
			continue
		}
		if len(board.Next) > 0 {
			if err := d.raceWave(ctx, board.Next); err != nil {
				return err
			}
			if err := d.decide(ctx); err != nil {
				return err
			}
		}
	}
}

// drawWhatIsDue draws the next round of each division whose last one is closed.
func (d *Day) drawWhatIsDue(ctx context.Context) (bool, error) {
	var m gen.Meet
	if err := d.desk.Get(ctx, d.meetPath(""), &m); err != nil {
		return false, err
	}
	drawn := false
	for _, div := range m.Divisions {
		due := div.Stage == 0 || div.RoundClosed && (div.Round < div.RoundsTotal || div.Stage < len(div.Stages))
		if !due {
			continue
		}
		d.rounds[div.Id]++
		if err := d.leave(ctx, div.Id, d.rounds[div.Id]); err != nil {
			return false, err
		}
		what := fmt.Sprint("round ", d.rounds[div.Id])
		if _, err := d.post(ctx, "/divisions/"+div.Id+"/draw", nil, what); err != nil {
			return false, err
		}
		drawn = true
	}
	return drawn, nil
}

// leave withdraws the families who go home before a round.
func (d *Day) leave(ctx context.Context, division string, round int) error {
	for _, e := range d.plan.Entries {
		if e.Division != division || e.Leaves == 0 || e.Leaves != round || e.Absent {
			continue
		}
		id := entryID(e.Number)
		text := "The family has to catch the ferry."
		body := gen.RulingBody{Kind: gen.RulingBodyKindWithdraw, Entry: &id, Reason: gen.Reason{Code: "family", Text: &text}}
		if _, err := d.post(ctx, "/rulings", body, "withdraw", id); err != nil {
			return err
		}
	}
	return nil
}

// closeWhatIsPosted closes open rounds, waiting for their protest time.
func (d *Day) closeWhatIsPosted(ctx context.Context) (bool, error) {
	var m gen.Meet
	if err := d.desk.Get(ctx, d.meetPath(""), &m); err != nil {
		return false, err
	}
	closed := false
	for _, div := range m.Divisions {
		if div.Stage == 0 || div.RoundClosed {
			continue
		}
		if err := d.closeRound(ctx, div); err != nil {
			return false, err
		}
		closed = true
	}
	return closed, nil
}

func (d *Day) closeRound(ctx context.Context, div gen.Division) error {
	for {
		_, err := d.post(ctx, "/divisions/"+div.Id+"/close", gen.CloseRound{}, fmt.Sprintf("%d.%d", div.Stage, div.Round))
		if !IsProblem(err, "protest-time") {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(retryEvery):
		}
	}
}

// raceWave calls and races as many heats as there are benches for.
func (d *Day) raceWave(ctx context.Context, next []gen.Heat) error {
	d.wave++
	free := len(d.plan.Benches)
	cars := map[string]bool{}
	var called []gen.Heat
	for _, h := range next {
		need := 0
		for _, l := range h.Lanes {
			if l.State != gen.LaneStateDone {
				need++
			}
		}
		if need > free {
			break
		}
		if d.sharesCar(h, cars) {
			continue // a sibling's car is at another bench in this wave
		}
		free -= need
		what := fmt.Sprint("wave ", d.wave)
		if _, err := d.post(ctx, "/heats/"+h.Id+"/call", gen.CallHeat{}, what); err != nil {
			return err
		}
		now, err := d.heat(ctx, h.Id)
		if err != nil {
			return err
		}
		called = append(called, now)
	}
	if len(called) == 0 {
		return fmt.Errorf("no heat of %d fits on %d benches", len(next), len(d.plan.Benches))
	}
	if err := d.pace.sleep(ctx, 4*time.Second); err != nil {
		return err
	}
	group, ctx := errgroup.WithContext(ctx)
	for i, h := range called {
		group.Go(func() error { return d.raceHeat(ctx, h, d.plan.Trouble && d.wave == 2 && i == 0) })
	}
	return group.Wait()
}

// sharesCar says whether a car of the heat is in the wave already, and notes the
// heat's cars where it is not.
func (d *Day) sharesCar(h gen.Heat, cars map[string]bool) bool {
	var mine []string
	for _, l := range h.Lanes {
		car := d.entry(l.Racer.StartNumber).Car
		if cars[car] {
			return true
		}
		mine = append(mine, car)
	}
	for _, car := range mine {
		cars[car] = true
	}
	return false
}

func (d *Day) entry(number int) Entry {
	for _, e := range d.plan.Entries {
		if e.Number == number {
			return e
		}
	}
	return Entry{}
}

// heat reads one heat.
func (d *Day) heat(ctx context.Context, id string) (gen.Heat, error) {
	var all gen.HeatList
	if err := d.desk.Get(ctx, d.meetPath("/heats"), &all); err != nil {
		return gen.Heat{}, err
	}
	i := slices.IndexFunc(all.Heats, func(h gen.Heat) bool { return h.Id == id })
	if i < 0 {
		return gen.Heat{}, fmt.Errorf("heat %s is not in the list", id)
	}
	return all.Heats[i], nil
}

// raceHeat gets the cars of a called heat ready, starts it and has every bench
// make its run.
func (d *Day) raceHeat(ctx context.Context, h gen.Heat, benchOut bool) error {
	var lanes []gen.Lane
	for _, l := range h.Lanes {
		if l.State != gen.LaneStateCalled {
			continue
		}
		if d.missesCall(h, l) {
			if err := d.didNotStart(ctx, h, l); err != nil {
				return err
			}
			continue
		}
		body := gen.ConfirmReady{Bench: *l.Bench, StartNumber: l.Racer.StartNumber}
		if _, err := d.post(ctx, "/heats/"+h.Id+"/ready", body, *l.Armed); err != nil {
			return err
		}
		lanes = append(lanes, l)
		if err := d.pace.sleep(ctx, 700*time.Millisecond); err != nil {
			return err
		}
	}
	now, err := d.heat(ctx, h.Id)
	if err != nil || now.Phase != gen.HeatPhaseCalled || len(lanes) == 0 {
		return err // a walkover, or nobody came
	}
	if _, err := d.post(ctx, "/heats/"+h.Id+"/start", nil, *lanes[0].Armed); err != nil {
		return err
	}
	out := ""
	if benchOut {
		out = *lanes[0].Bench
		if err := d.service(ctx, out, true, h.Id); err != nil {
			return err
		}
	}
	if err := d.runLanes(ctx, h, lanes); err != nil {
		return err
	}
	if out == "" {
		return nil
	}
	return d.acceptAndPutBack(ctx, h, lanes[0], out)
}

// runLanes has the benches of a heat make their runs at the same time. One of
// them holds its last chunk back until the others are in, and sends all again.
func (d *Day) runLanes(ctx context.Context, h gen.Heat, lanes []gen.Lane) error {
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
func (d *Day) runLate(ctx context.Context, h gen.Heat, l gen.Lane, late <-chan struct{}) error {
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

func (d *Day) runLane(ctx context.Context, h gen.Heat, l gen.Lane, late <-chan struct{}) error {
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
func (d *Day) race(h gen.Heat, l gen.Lane) race {
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
func (d *Day) missesCall(h gen.Heat, l gen.Lane) bool {
	if !d.plan.Trouble || h.Stage > 1 {
		return false
	}
	rng := simulate.Source(simulate.Key(d.plan.Seed, "misses", *l.Armed))
	return rng.Float64() < 0.02
}

// didNotStart rules so when the call is over.
func (d *Day) didNotStart(ctx context.Context, h gen.Heat, l gen.Lane) error {
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

func (d *Day) service(ctx context.Context, bench string, out bool, what string) error {
	body := gen.BenchService{Out: out}
	if out {
		body.Reason = &gen.Reason{Code: "bench-fault"}
	}
	_, err := d.post(ctx, "/benches/"+bench+"/service", body, what, fmt.Sprint(out))
	return err
}

// acceptAndPutBack accepts the run that waited because its bench was out.
func (d *Day) acceptAndPutBack(ctx context.Context, h gen.Heat, l gen.Lane, bench string) error {
	run, heat, entry := *l.Armed, h.Id, l.Racer.Entry
	body := gen.RulingBody{
		Kind: gen.RulingBodyKindAcceptRun, Run: &run, Heat: &heat, Entry: &entry, Reason: gen.Reason{Code: "bench-fault"},
	}
	if _, err := d.post(ctx, "/rulings", body, "accept", run); err != nil {
		return err
	}
	return d.service(ctx, bench, false, h.Id)
}

// decide rules on what the list of decisions asks: runs that fit no lane are set
// aside, doubtful ones are raced again while the rules allow it, ties too.
func (d *Day) decide(ctx context.Context) error {
	for {
		var list gen.DecisionList
		if err := d.desk.Get(ctx, d.meetPath("/decisions"), &list); err != nil {
			return err
		}
		slices.SortFunc(list.Decisions, func(a, b gen.Decision) int {
			return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(str(a.Heat), str(b.Heat)), cmp.Compare(str(a.Run), str(b.Run)))
		})
		ruled := false
		for _, line := range list.Decisions {
			did, err := d.rule(ctx, line)
			if err != nil {
				return err
			}
			ruled = ruled || did
		}
		if !ruled {
			return nil
		}
	}
}

func (d *Day) rule(ctx context.Context, line gen.Decision) (bool, error) {
	switch line.Kind {
	case "waiting-run":
		body := gen.RulingBody{Kind: gen.RulingBodyKindSetAside, Run: line.Run, Reason: gen.Reason{Code: "volunteer-error"}}
		_, err := d.post(ctx, "/rulings", body, "set aside", *line.Run)
		return true, err
	case "doubtful-run":
		counts := gen.Rerun
		body := gen.RulingBody{
			Kind: gen.RulingBodyKindGrantRerun, Heat: line.Heat, Entry: &line.Racer.Entry, Counts: &counts,
			Reason: gen.Reason{Code: "missed-pulses"},
		}
		_, err := d.post(ctx, "/rulings", body, "re-run", *line.Run)
		if IsProblem(err, "rerun-limit") {
			return false, nil // the run stands
		}
		return err == nil, err
	case "tie":
		return d.raceTieAgain(ctx, *line.Heat)
	}
	return false, nil
}

func (d *Day) raceTieAgain(ctx context.Context, id string) (bool, error) {
	h, err := d.heat(ctx, id)
	if err != nil {
		return false, err
	}
	counts := gen.Rerun
	for _, l := range h.Lanes {
		body := gen.RulingBody{
			Kind: gen.RulingBodyKindGrantRerun, Heat: &id, Entry: &l.Racer.Entry, Counts: &counts, Reason: gen.Reason{Code: "tie"},
		}
		if _, err := d.post(ctx, "/rulings", body, "tie", str(l.Run)); err != nil {
			return false, err
		}
	}
	return true, nil
}

func str(p *string) string {
	if p == nil {
		return ""
	}
	return *p
}

// publish publishes every division.
func (d *Day) publish(ctx context.Context) error {
	for _, div := range d.plan.Divisions {
		if _, err := d.post(ctx, "/divisions/"+div.ID+"/publish", nil); err != nil {
			return err
		}
	}
	return nil
}
