package rehearsal

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"time"

	"golang.org/x/sync/errgroup"

	"benchmeet/api/gen"
)

// raceAll draws, races and closes until every division is through: by the timetable
// where the clock is the day's own, else in waves.
func (d *Day) raceAll(ctx context.Context) error {
	for _, n := range d.nodes {
		n.hurry = false
	}
	if d.clock == nil {
		return d.raceWaves(ctx)
	}
	if _, err := d.drawWhatIsDue(ctx); err != nil {
		return err
	}
	if err := d.tellTimes(ctx); err != nil {
		return err
	}
	d.clock.Step(d.clock.Now().Add(time.Duration(d.plan.LateMin) * time.Minute))
	c, err := newCaller(ctx, d)
	if err != nil {
		return err
	}
	return newHall(d, c).race(ctx)
}

// raceWaves races heats in waves: as many heats as there are benches for are called one
// after the other and raced at the same time. A wave depends only on the state of the
// day, so the same seed gives the same waves.
// Who plays in real time keeps to what the hall was told: a heat whose time has not come waits.
func (d *Day) raceWaves(ctx context.Context) error {
	c, err := newCaller(ctx, d)
	if err != nil {
		return err
	}
	for {
		drawn, err := d.drawWhatIsDue(ctx)
		if err != nil {
			return err
		}
		var board gen.Board
		if err := d.page(ctx, "/board", &board); err != nil {
			return err
		}
		if len(board.Next) == 0 && !drawn {
			closed, err := d.closeWhatIsPosted(ctx)
			if err != nil || !closed {
				return err
			}
			continue
		}
		if d.pace.Real {
			if board.Next, err = c.mayCall(ctx, board.Next); err != nil {
				return err
			}
			if len(board.Next) == 0 {
				if err := d.pace.sleep(ctx, time.Second); err != nil {
					return err
				}
			}
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
	if err := d.page(ctx, "", &m); err != nil {
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
	if err := d.page(ctx, "", &m); err != nil {
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
		group.Go(func() error { return starter{d}.raceHeat(ctx, h, d.plan.Trouble && d.wave == 2 && i == 0) })
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

// heat reads one heat. Of the list of all heats no other is decoded.
func (d *Day) heat(ctx context.Context, id string) (gen.Heat, error) {
	var all struct {
		Heats []json.RawMessage `json:"heats"`
	}
	if err := d.page(ctx, "/heats", &all); err != nil {
		return gen.Heat{}, err
	}
	named := []byte(`"id":"` + id + `"`)
	for _, text := range all.Heats {
		if !bytes.Contains(text, named) {
			continue
		}
		var h gen.Heat
		if err := json.Unmarshal(text, &h); err != nil || h.Id == id {
			return h, err
		}
	}
	return gen.Heat{}, fmt.Errorf("heat %s is not in the list", id)
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
