package meet_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
)

// TestDecidersEnd plays divisions in which many results are too close to call: a
// round asks for deciders a few times at most and can then be closed, and no
// decider changes a result or is asked of an entry twice.
func TestDecidersEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stages := []day.Stage{rapid.SampledFrom([]day.Stage{
			programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "rule": "best"}),
			programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "mean"}),
			programmetest.Stage("knockout", programmetest.Set{"third_place": true}),
			programmetest.Stage("double-elimination", nil),
		}).Draw(t, "stage")}
		p := newPlayed(t, stages, rapid.IntRange(2, 6).Draw(t, "entries"))
		rules := day.UsualRules()
		rules.Close = day.CloseDecider
		p.must(meet.ChangeRules{Rules: rules})
		for p.drawNext() {
			p.raceWithDeciders()
			p.must(meet.CloseRound{Division: "d", Early: &day.Reason{Code: day.ReasonTime}})
		}
		p.must(meet.PublishResults{Division: "d"})
	})
}

// raceWithDeciders races the drawn round and what it asks for, until nothing is
// asked for any more.
func (p *played) raceWithDeciders() {
	p.raceOpen()
	granted := map[day.EntryID]bool{}
	for {
		before := p.distances()
		asked := 0
		for _, x := range board.Tasks(p.s, p.now) {
			switch x.Kind {
			case board.TaskDecider:
				if granted[x.Entry] {
					p.t.Fatalf("%s is to race a second decider", x.Entry)
				}
				granted[x.Entry] = true
				p.must(meet.GrantRerun{Heat: x.Heat, Entry: x.Entry, Counts: day.CountsDecider, Reason: day.Reason{Code: day.ReasonTie}})
				asked++
			case board.TaskTie:
				for _, l := range p.s.Heats[x.Heat].Lanes {
					if x.Entry == "" || x.Entry == l.Entry {
						p.must(meet.GrantRerun{Heat: x.Heat, Entry: l.Entry, Counts: day.CountsRerun, Reason: day.Reason{Code: day.ReasonTie}})
						granted[l.Entry] = false // raced anew, it may be close to another
					}
				}
				before = nil
				asked++
			}
		}
		if asked == 0 {
			return
		}
		p.raceOpen()
		for run, um := range before {
			if now := p.distances(); now[run] != um {
				p.t.Fatalf("a decider changed the result of %s from %d to %d µm", run, um, now[run])
			}
		}
	}
}

// raceOpen races every heat that waits; a few of the cars stop before the end.
func (p *played) raceOpen() {
	for _, h := range p.s.SortedHeats() {
		for p.s.Heats[h.ID].Phase == day.PhaseDrawn {
			p.must(meet.CallHeat{Heat: h.ID})
			for _, l := range p.s.Heats[h.ID].Lanes {
				if l.State == day.LaneCalled {
					p.must(meet.ConfirmReady{Heat: h.ID, Bench: l.Bench, StartNumber: p.s.Entries[l.Entry].StartNumber})
				}
			}
			p.must(meet.StartHeat{Heat: h.ID})
			for _, l := range p.s.Heats[h.ID].Lanes {
				if l.State != day.LaneRacing {
					continue
				}
				if l.Deciding && rapid.IntRange(0, 3).Draw(p.t, "stops") == 0 {
					p.must(meet.RuleStatus{Heat: h.ID, Entry: l.Entry, Status: day.StatusDidNotFinish, Reason: why})
					continue
				}
				um := 400_000_000 + rapid.Int64Range(0, 12).Draw(p.t, "mm")*3_000
				p.must(meet.RecordRun{ID: l.Armed, Bench: l.Bench, Boot: "b", Trace: string(l.Armed), Figures: figures(um)})
			}
		}
	}
}

// distances are the results of all lanes, by the run that counts.
func (p *played) distances() map[day.RunID]int64 {
	out := map[day.RunID]int64{}
	for _, h := range p.s.SortedHeats() {
		order, _ := programme.FinishOf(p.s, h)
		for _, line := range order {
			out[line.Run] = line.DistanceUM
		}
	}
	return out
}

// A decider orders the two and nobody else.
func TestDeciderMovesNobodyElse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := newPlayed(t, []day.Stage{programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "best"})}, 6)
		rules := day.UsualRules()
		rules.Close = day.CloseDecider
		p.must(meet.ChangeRules{Rules: rules})
		p.drawNext()
		p.raceOpen()
		before := p.table()
		p.raceWithDeciders()
		for i, id := range p.table() {
			asked := slices.ContainsFunc(p.s.Rulings, func(r day.Ruling) bool { return r.Entry == before[i] })
			if !asked && id != before[i] {
				t.Fatalf("%s was place %d and had no decider; now %s is there", before[i], i+1, id)
			}
		}
	})
}

func (p *played) table() []day.EntryID {
	var out []day.EntryID
	for _, l := range programme.Standings(p.s, "d") {
		out = append(out, l.Entry)
	}
	return out
}
