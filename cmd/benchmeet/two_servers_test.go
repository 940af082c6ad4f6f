package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"sync"
	"testing"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/store/postgres/pgtest"
)

// beside starts another server on the same database.
func (v *victim) beside(t *testing.T) *victim {
	t.Helper()
	port := freePort(t)
	other := &victim{t: t, base: fmt.Sprintf("http://127.0.0.1:%d", port), secret: v.secret}
	other.args = append([]string{}, v.args...)
	other.args[2] = fmt.Sprintf("127.0.0.1:%d", port)
	other.start()
	t.Cleanup(other.kill)
	return other
}

// TestTwoServersOneDatabase: 64 writers give orders to either of two servers, to one meet
// and to a meet each, while the servers are killed. No order is lost or carried out twice,
// and both servers show what a third one shows that reads the logs from their beginning.
func TestTwoServersOneDatabase(t *testing.T) {
	const writers, kills = 64, 6
	a := newVictim(t, pgtest.Database(t))
	b := a.beside(t)
	ctx, cancel := context.WithTimeout(t.Context(), 4*time.Minute)
	defer cancel()
	h := newHistory(t, a.secret, a.base, b.base)
	rng := rand.New(rand.NewPCG(17, 1))
	h.give(ctx, rng, "POST", "spring", "-", planned("spring"))
	h.give(ctx, rng, "PUT", "spring", "/divisions/open", openDivision())

	write := func(name string, writer func(ctx context.Context, rng *rand.Rand, n int, on func() bool)) {
		killing, over := context.WithCancel(ctx)
		var all sync.WaitGroup
		for n := range writers {
			own := rand.New(rand.NewPCG(uint64(n), uint64(len(name))))
			all.Go(func() { writer(ctx, own, n, func() bool { return killing.Err() == nil }) })
		}
		for range kills {
			time.Sleep(time.Duration(200+rng.IntN(400)) * time.Millisecond)
			one := []*victim{a, b}[rng.IntN(2)]
			one.kill()
			one.start()
		}
		over()
		all.Wait()
		t.Logf("%s: %d orders in %d tries", name, len(h.orders), h.tries)
	}
	write("one meet", func(ctx context.Context, rng *rand.Rand, n int, on func() bool) {
		id := fmt.Sprintf("e-%d", n+1)
		h.give(ctx, rng, "POST", "spring", "/entries", gen.TakeEntry{
			Id: &id, Division: "open", StartNumber: n + 1,
			Person: &gen.PersonBody{Name: fmt.Sprintf("Child %d Quay", n), DisplayName: fmt.Sprintf("Nick %d", n), OnScreen: true, InResults: true},
		})
		for there := true; on(); there = !there {
			h.give(ctx, rng, "POST", "spring", "/entries/"+id+"/check-in", gen.CheckIn{There: there})
		}
	})
	write("a meet each", func(ctx context.Context, rng *rand.Rand, n int, on func() bool) {
		meet := fmt.Sprintf("small-%d", n)
		h.give(ctx, rng, "POST", meet, "-", planned(meet))
		for on() {
			h.give(ctx, rng, "POST", meet, "/pause", map[string]any{"reason": map[string]string{"code": "lunch"}})
			h.give(ctx, rng, "POST", meet, "/resume", nil)
		}
	})
	c := a.beside(t)
	all := []string{a.base, b.base, c.base}
	h.agree(ctx, all, "spring", "/entries", "/divisions/open/standings", "/heats")
	for n := range writers {
		h.agree(ctx, all, fmt.Sprintf("small-%d", n))
	}
}

// planned is a meet to be raced on.
func planned(meet string) gen.PlanMeet {
	return gen.PlanMeet{Id: meet, Plan: gen.Plan{Name: "Harbour Hall " + meet, Date: "2027-04-17"}}
}

// openDivision is a division of timed rounds.
func openDivision() gen.DivisionBody {
	rounds, rule := 2, gen.StageBodyRule("best")
	return gen.DivisionBody{
		Name: "Open", Class: gen.CarClass{Name: "Open class", LapM: 1},
		Stages: []gen.StageBody{{Kind: gen.TimedRounds, Rounds: &rounds, RaceS: 10, Lanes: 2, Rule: &rule}},
	}
}
