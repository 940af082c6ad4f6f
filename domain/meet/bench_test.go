package meet_test

import (
	"fmt"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
)

// midDay is a meet of 40 entries and 10 benches in its third of five timed
// rounds, with the log that led there.
func midDay(b *testing.B) (*day.State, []journal.Record) {
	b.Helper()
	s, now := day.New(), int64(dayStart)
	var log []journal.Record
	give := func(c meet.Command) {
		b.Helper()
		now += 1_000_000
		events, err := meet.Decide(s, c, meet.Meta{Actor: "o", NowUS: now, Seed: 7})
		if err != nil {
			b.Fatalf("%T: %v", c, err)
		}
		for _, e := range events {
			log = append(log, seal(b, log, e, now))
			day.Evolve(s, e, now)
		}
	}
	give(meet.PlanMeet{Plan: goodPlan(), Rules: day.UsualRules()})
	v := goodDivision()
	v.Stages[0] = programmetest.With(v.Stages[0], programmetest.Set{"rounds": 5})
	give(meet.AddDivision{Division: v})
	for n := 1; n <= 10; n++ {
		give(meet.AddBench{Bench: goodBench(day.BenchID(fmt.Sprintf("b%d", n)), n)})
	}
	for n := 1; n <= 40; n++ {
		id := fmt.Sprintf("e%d", n)
		give(
			meet.TakeEntry{
				ID: day.EntryID(id), Division: "junior", StartNumber: n, Entrant: day.EntrantID("p" + id), Car: day.CarID("c" + id), Age: 9,
			},
		)
		give(meet.CheckIn{Entry: day.EntryID(id), There: true})
	}
	give(meet.CloseEntries{Division: "junior"})
	for round := 1; round <= 3; round++ {
		give(meet.DrawRound{Division: "junior"})
		for _, heat := range s.Programmes["junior"].Stages[0].Rounds[round-1].Heats {
			if round == 3 && s.Heats[heat].Number > 5 {
				break
			}
			give(meet.CallHeat{Heat: heat})
			for _, l := range s.Heats[heat].Lanes {
				give(meet.ConfirmReady{Heat: heat, Bench: l.Bench, StartNumber: s.Entries[l.Entry].StartNumber})
			}
			give(meet.StartHeat{Heat: heat})
			for _, l := range s.Heats[heat].Lanes {
				give(meet.RecordRun{ID: l.Armed, Bench: l.Bench, Trace: string(l.Armed), Figures: figures(now % 500_000_000)})
			}
		}
		if round < 3 {
			give(meet.CloseRound{Division: "junior", Early: &why})
		}
	}
	give(meet.CallHeat{Heat: "junior-1.3.6"})
	return s, log
}

// BenchmarkFold reads a stored log from its bytes and folds it, as a server does
// that starts; events/s is what counts.
func BenchmarkFold(b *testing.B) {
	_, log := midDay(b)
	for b.Loop() {
		refold(b, log)
	}
	b.ReportMetric(float64(b.N*len(log))/b.Elapsed().Seconds(), "events/s")
}

// BenchmarkDecide decides commands of a mid-day meet: one that looks at one
// heat, one that clones to see whether a heat is settled, and one that finds the
// lane of a run.
func BenchmarkDecide(b *testing.B) {
	s, _ := midDay(b)
	h := s.Heats["junior-1.3.6"]
	l := h.Lanes[0]
	for _, c := range []meet.Command{
		meet.ConfirmReady{Heat: h.ID, Bench: l.Bench, StartNumber: s.Entries[l.Entry].StartNumber},
		meet.RuleStatus{Heat: "junior-1.3.1", Entry: s.Heats["junior-1.3.1"].Lanes[0].Entry, Status: day.StatusDisqualified, Reason: why},
		meet.RecordRun{ID: l.Armed, Bench: l.Bench, Figures: figures(1)},
	} {
		b.Run(fmt.Sprintf("%T", c)[len("meet."):], func(b *testing.B) {
			for b.Loop() {
				if _, err := meet.Decide(s, c, meet.Meta{Actor: "o", NowUS: dayStart, Seed: 7}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkClone copies the mid-day state, as a server does once a batch.
func BenchmarkClone(b *testing.B) {
	s, _ := midDay(b)
	for b.Loop() {
		s.Clone()
	}
}

// BenchmarkStandings ranks the division of the mid-day state.
func BenchmarkStandings(b *testing.B) {
	s, _ := midDay(b)
	for b.Loop() {
		programme.Standings(s, "junior")
	}
}
