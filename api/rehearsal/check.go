package rehearsal

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/programme"
)

// Finding is one invariant with what was found.
type Finding struct {
	Name  string `json:"name"`
	Holds bool   `json:"holds"`
	Says  string `json:"says"`
}

// Evidence is everything that the checks look at, read at one moment.
type Evidence struct {
	State     *day.State
	Head      journal.Head
	Commands  map[string][]int64 // seqs by command id
	Meet      json.RawMessage
	Runs      gen.RunList
	Standings map[string]gen.Standings
	// crowded is the first moment at which a bench or a car was in two places.
	crowded error
	// called is when each heat was called first, promises what was told of heats.
	called   map[day.HeatID]int64
	promises promises
}

// Gather reads the log and folds it here, apart from the server.
func (d *Day) Gather(ctx context.Context) (Evidence, error) {
	out := Evidence{
		State: day.New(), Commands: map[string][]int64{}, Standings: map[string]gen.Standings{},
		called: map[day.HeatID]int64{}, promises: promises{told: map[day.HeatID]bool{}},
	}
	var log []byte
	if err := d.desk.Get(ctx, d.meetPath("/log"), &log); err != nil {
		return out, err
	}
	if err := out.fold(log); err != nil {
		return out, err
	}
	if err := d.page(ctx, "", &out.Meet); err != nil {
		return out, err
	}
	if err := d.page(ctx, "/runs", &out.Runs); err != nil {
		return out, err
	}
	for _, div := range d.plan.Divisions {
		var s gen.Standings
		if err := d.page(ctx, "/divisions/"+div.ID+"/standings", &s); err != nil {
			return out, err
		}
		out.Standings[div.ID] = s
	}
	return out, nil
}

func (ev *Evidence) fold(log []byte) error {
	lines := bufio.NewScanner(bytes.NewReader(log))
	// A line of the log may be longer than the scanner's usual 64 KiB.
	lines.Buffer(nil, 64<<20)
	for lines.Scan() {
		var l struct {
			Seq   int64           `json:"seq"`
			Hash  string          `json:"hash"`
			Event json.RawMessage `json:"event"`
		}
		if err := json.Unmarshal(lines.Bytes(), &l); err != nil {
			return fmt.Errorf("the log cannot be read: %w", err)
		}
		hash, err := journal.ParseHash(l.Hash)
		if err != nil {
			return err
		}
		r := journal.Record{Seq: l.Seq, Bytes: l.Event, Hash: hash}
		if ev.Head, err = ev.Head.Follow(r); err != nil {
			return err
		}
		envelope, err := r.Open()
		if err != nil {
			return err
		}
		event, err := day.Decode(envelope.Type, envelope.V, envelope.Data)
		if err != nil {
			return err
		}
		ev.promises.see(ev.State, event, envelope.Time)
		if c, is := event.(day.HeatCalled); is && ev.called[c.Heat] == 0 {
			ev.called[c.Heat] = envelope.Time
		}
		day.Evolve(ev.State, event, envelope.Time)
		// Looked at after every event, because the state at the end shows nothing of it any more.
		if ev.crowded == nil {
			ev.crowded = oneBenchOneCar(ev.State)
		}
		ev.Commands[envelope.Command] = append(ev.Commands[envelope.Command], l.Seq)
	}
	return lines.Err()
}

// Check looks at every invariant of the day.
func (d *Day) Check(ev Evidence) []Finding {
	j := judge{d}
	return []Finding{
		finding("orders-kept", j.ordersKept(ev)),
		finding("runs-once", j.runsOnce(ev)),
		finding("standings-recomputed", j.standingsRecomputed(ev)),
		finding("winners", j.winners(ev)),
		finding("one-bench-one-car", ev.crowded),
		finding("factors-true", j.factorsTrue(ev)),
		finding("promises-kept", ev.promises.kept()),
	}
}

func finding(name string, err error) Finding {
	if err != nil {
		return Finding{name, false, err.Error()}
	}
	return Finding{name, true, says[name]}
}

// says is what an invariant means, for the summary.
var says = map[string]string{
	"orders-kept":          "every acknowledged order stands in the log, once",
	"runs-once":            "every acknowledged run is there once, with the stamps that were sent",
	"standings-recomputed": "the standings equal those computed here from the log",
	"winners":              "every division has its results published and official",
	"one-bench-one-car":    "no bench had two cars, no car two benches at once",
	"factors-true":         "the adopted bench factors are those that the rollers truly have",
	"promises-kept":        "no heat was called before the time that was told of it",
	"restart-equal":        "after a restart the server shows the same to the byte",
	"screens-agree":        "every screen ends on the same standings",
}

// judge holds what came of a day against what was done in it.
type judge struct{ *Day }

// ordersKept finds every acknowledged order of the meet in the log.
func (d judge) ordersKept(ev Evidence) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, a := range d.acks {
		if a.stream != "meet" || len(a.events) == 0 {
			continue
		}
		seqs := ev.Commands[a.key]
		if len(seqs) != len(a.events) || seqs[len(seqs)-1] != a.seq {
			return fmt.Errorf("order %s was acknowledged with %d events up to %d; the log has %v", a.key, len(a.events), a.seq, seqs)
		}
	}
	return nil
}

// runsOnce finds every acknowledged run exactly once.
func (d judge) runsOnce(ev Evidence) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	byTrace := map[string]int{}
	for _, r := range ev.Runs.Runs {
		byTrace[str(r.Trace)]++
	}
	for _, s := range d.sent {
		if n := byTrace[s.trace]; n != 1 {
			return fmt.Errorf("run %s of bench %s, trace %s, is there %d times", s.run, s.bench, s.trace, n)
		}
	}
	if len(ev.Runs.Runs) != len(d.sent) {
		return fmt.Errorf("%d runs were sent, %d are there", len(d.sent), len(ev.Runs.Runs))
	}
	return nil
}

// standingsRecomputed compares the server's standings with those of the fold.
func (d judge) standingsRecomputed(ev Evidence) error {
	for _, div := range d.plan.Divisions {
		want := programme.Standings(ev.State, day.DivisionID(div.ID))
		got := ev.Standings[div.ID].Standings
		if len(want) != len(got) {
			return fmt.Errorf("division %s: %d lines, the log gives %d", div.ID, len(got), len(want))
		}
		for i, line := range want {
			distance := float64(line.DistanceUM) / 1e6
			if got[i].Rank != line.Rank || got[i].Racer.Entry != string(line.Entry) || num(got[i].DistanceM) != distance {
				return fmt.Errorf("division %s line %d: %v, the log gives rank %d entry %s", div.ID, i+1, got[i], line.Rank, line.Entry)
			}
		}
	}
	return nil
}

func num(p *float64) float64 {
	if p == nil {
		return 0
	}
	return *p
}

func (d judge) winners(ev Evidence) error {
	for _, div := range d.plan.Divisions {
		id := day.DivisionID(div.ID)
		if len(programme.Winners(ev.State, id)) == 0 || len(ev.State.Programmes[id].Published) == 0 {
			return fmt.Errorf("division %s has no published winner", div.ID)
		}
	}
	for _, h := range ev.State.SortedHeats() {
		if h.Phase != day.PhaseOfficial {
			return fmt.Errorf("heat %s is %s", h.ID, h.Phase)
		}
	}
	return nil
}

// oneBenchOneCar looks at the cars that stand at benches at one moment: none is
// at two, and no bench has two.
func oneBenchOneCar(s *day.State) error {
	benches, cars := map[day.BenchID]day.HeatID{}, map[day.CarID]day.HeatID{}
	for _, h := range s.SortedHeats() {
		for _, l := range h.Lanes {
			if l.State == day.LaneWaiting || l.State == day.LaneDone {
				continue
			}
			car := s.Entries[l.Entry].Car
			if other, taken := cars[car]; taken {
				return fmt.Errorf("after event %d car %s is in heat %s and in heat %s", s.Seq, car, other, h.ID)
			}
			if other, taken := benches[l.Bench]; taken {
				return fmt.Errorf("after event %d bench %s is taken by heat %s and by heat %s", s.Seq, l.Bench, other, h.ID)
			}
			cars[car], benches[l.Bench] = h.ID, h.ID
		}
	}
	return nil
}

// SameAfterRestart compares what the server showed before and after.
func SameAfterRestart(before, after Evidence) Finding {
	var err error
	one, errOne := json.Marshal(before.State)
	two, errTwo := json.Marshal(after.State)
	switch {
	case errOne != nil || errTwo != nil:
		err = errors.Join(errOne, errTwo)
	case !bytes.Equal(one, two):
		err = errors.New("the folded state differs")
	case before.Head != after.Head:
		err = fmt.Errorf("the log ended at %d, now at %d", before.Head.Seq, after.Head.Seq)
	case !bytes.Equal(before.Meet, after.Meet):
		err = errors.New("the meet's page differs")
	}
	return finding("restart-equal", err)
}

// settleWithin is how long a screen may take to show the end of the day.
const settleWithin = 10 * time.Second

// ScreensAgree waits until every screen shows the final standings.
func (d *Day) ScreensAgree(ctx context.Context, ev Evidence) Finding {
	j := judge{d}
	deadline := time.Now().Add(settleWithin)
	var err error
	for {
		if err = j.screensAgree(ev); err == nil || time.Now().After(deadline) || ctx.Err() != nil {
			return finding("screens-agree", err)
		}
		time.Sleep(retryEvery)
	}
}

func (d judge) screensAgree(ev Evidence) error {
	for i, s := range d.screens {
		for _, div := range d.plan.Divisions {
			f, there := s.newest("standings/" + div.ID)
			if !there {
				return fmt.Errorf("screen %d never saw division %s", i+1, div.ID)
			}
			var shown gen.Standings
			if err := json.Unmarshal(f.Data, &shown); err != nil {
				return err
			}
			if !slices.EqualFunc(shown.Standings, ev.Standings[div.ID].Standings, sameLine) {
				return fmt.Errorf("screen %d shows division %s as of %d, not the final standings", i+1, div.ID, f.Seq)
			}
		}
	}
	return nil
}

func sameLine(a, b gen.Standing) bool {
	return a.Rank == b.Rank && a.Racer.Entry == b.Racer.Entry && num(a.DistanceM) == num(b.DistanceM)
}
