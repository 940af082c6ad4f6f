package meet_test

import (
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/bracket"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
)

// TestHeatsPlayedThrough races whole divisions of heats of many, with equal
// distances that are raced again where they decide, and with cars that go home.
func TestHeatsPlayedThrough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lanes := rapid.IntRange(2, 6).Draw(t, "lanes")
		advance := rapid.IntRange(1, max(1, lanes/2)).Draw(t, "advance")
		st := programmetest.Stage("heats", programmetest.Set{
			"lanes": lanes, "advance": advance,
			"next_best":  rapid.IntRange(0, lanes-advance-1).Draw(t, "next best"),
			"b_final":    rapid.Bool().Draw(t, "b-final"),
			"heat_order": rapid.SampledFrom([]bracket.HeatOrder{"", bracket.ZigzagOrder, bracket.CircleOrder}).Draw(t, "order"),
		})
		n := rapid.IntRange(2*st.Lanes, 24).Draw(t, "entries")
		p := newPlayed(t, []day.Stage{st}, n)
		for b := 3; b <= st.Lanes; b++ {
			p.must(meet.AddBench{Bench: goodBench(day.BenchID("b"+strconv.Itoa(b)), b)})
		}
		leave := rapid.Bool().Draw(t, "some leave")
		for p.drawNext() {
			p.raceLanes()
			if leave && rapid.IntRange(0, 3).Draw(t, "leaves") == 0 {
				p.withdraw(rapid.IntRange(1, n).Draw(t, "who"))
			}
		}
		if len(programme.Winners(p.s, "d")) == 0 {
			t.Fatal("it is over and nobody has won")
		}
		if p.left == 0 {
			p.beatenByBetter(st)
		}
	})
}

// raceLanes races the heats of the drawn round, and again what is tied.
func (p *played) raceLanes() {
	pr := programme.ProgressOf(p.s, "d")
	for {
		for _, h := range p.s.SortedHeats() {
			if h.Stage == pr.Stage && h.Round == pr.Round && h.Phase == day.PhaseDrawn {
				p.raceOne(h.ID)
			}
		}
		tied := 0
		for _, x := range board.Tasks(p.s, p.now) {
			if x.Kind == board.TaskTie {
				p.must(meet.GrantRerun{Heat: x.Heat, Entry: x.Entry, Counts: day.CountsRerun, Reason: day.Reason{Code: day.ReasonTie}})
				tied++
			}
		}
		if tied == 0 {
			break
		}
	}
	p.must(meet.CloseRound{Division: "d", Early: &day.Reason{Code: day.ReasonTime}})
}

func (p *played) raceOne(id day.HeatID) {
	p.must(meet.CallHeat{Heat: id})
	for _, l := range p.s.Heats[id].Lanes {
		if l.State == day.LaneCalled {
			p.must(meet.ConfirmReady{Heat: id, Bench: l.Bench, StartNumber: p.s.Entries[l.Entry].StartNumber})
		}
	}
	p.must(meet.StartHeat{Heat: id})
	for _, l := range p.s.Heats[id].Lanes {
		if l.State == day.LaneRacing {
			um := rapid.Int64Range(1, 12).Draw(p.t, "m") * 10_000_000
			p.must(meet.RecordRun{ID: l.Armed, Bench: l.Bench, Boot: "b", Trace: string(l.Armed), Figures: figures(um)})
		}
	}
}

// beatenByBetter checks what decided who went on: of each heat as many as the
// plan says, and of the others nobody who was slower than one left behind.
func (p *played) beatenByBetter(st day.Stage) {
	advance := programmetest.Number(st, "advance")
	rounds := programme.Rounds(p.s, "d")
	for i, r := range rounds[:len(rounds)-1] {
		on := map[day.EntryID]bool{}
		for _, h := range rounds[i+1].Heats {
			for _, slot := range h.Slots {
				on[slot.Entry] = on[slot.Entry] || h.Purpose != bracket.BFinal
			}
		}
		slowest, fastest := int64(1<<60), int64(-1)
		for _, h := range r.Heats {
			order, _ := programme.FinishOf(p.s, p.s.Heats[h.ID])
			for place, line := range order {
				switch {
				case place < advance && order[advance-1].DistanceUM > order[min(advance, len(order)-1)].DistanceUM && !on[line.Entry]:
					p.t.Fatalf("%s has place %d in %s and stays behind", line.Entry, place+1, h.ID)
				case place >= advance && on[line.Entry]:
					slowest = min(slowest, line.DistanceUM)
				case !on[line.Entry]:
					fastest = max(fastest, line.DistanceUM)
				}
			}
		}
		if fastest > slowest {
			p.t.Fatalf("round %d: %d µm go on and %d stay behind", i+1, slowest, fastest)
		}
	}
}
