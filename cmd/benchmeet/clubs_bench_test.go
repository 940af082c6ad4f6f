package main

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/rehearsal"
	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// BenchmarkManyClubs is a server for clubs, each with a race day that is over: how long from
// its start until it answers, until it shows a day of one club, and what it takes of a core
// and of memory while nobody asks anything. "clubs=1" is the floor: the same with one club.
//
// It measures so much whatever -benchtime says.
func BenchmarkManyClubs(b *testing.B) {
	for _, clubs := range []int{1, 300} {
		b.Run(fmt.Sprintf("clubs=%d", clubs), func(b *testing.B) {
			data := raced(b, clubs)
			address := fmt.Sprintf("127.0.0.1:%d", freePort(b))
			v := &victim{t: b, base: "http://" + address, args: []string{"serve", "--listen", address, "--data", data}}
			b.Cleanup(v.kill)
			began := time.Now()
			v.start()
			up := time.Since(began)
			began = time.Now()
			res, err := http.Get(fmt.Sprintf("%s/c/club-%d/api/v1/meets/spring/board", v.base, clubs))
			if err != nil {
				b.Fatal(err)
			}
			text, err := io.ReadAll(res.Body)
			res.Body.Close()
			if err != nil || res.StatusCode != http.StatusOK {
				b.Fatalf("%d %s %v", res.StatusCode, text, err)
			}
			shown := time.Since(began)
			time.Sleep(5 * time.Second) // what a start has to look through
			used, began := v.processor(), time.Now()
			time.Sleep(20 * time.Second)
			b.ReportMetric(0, "ns/op")
			b.ReportMetric(float64(up.Milliseconds()), "ms-start")
			b.ReportMetric(float64(shown.Milliseconds()), "ms-day")
			b.ReportMetric(100*float64(v.processor()-used)/float64(time.Since(began)), "%-idle")
			b.ReportMetric(float64(v.memory("VmRSS"))/(1<<20), "MB")
		})
	}
}

// raced is a data folder of so many clubs, each with the same race day in its log.
func raced(b *testing.B, clubs int) string {
	ctx, data := b.Context(), b.TempDir()
	s, err := startServer(ctx, serverOptions{
		Listen: "127.0.0.1:0", Data: data, Scale: 1000, Club: store.Club{ID: homeClub, Name: "Harbour Hall"},
	})
	if err != nil {
		b.Fatal(err)
	}
	secret, _, err := s.tokens.Make(ctx, auth.Wish{Club: homeClub, Role: auth.Organiser, Label: "test"})
	if err != nil {
		b.Fatal(err)
	}
	plan := rehearsal.MakePlan(1, 24, 6)
	plan.Meet = "spring"
	if err := rehearsal.New(rehearsal.Options{Base: s.url(), Token: secret, Plan: plan}).Play(ctx); err != nil {
		b.Fatal(err)
	}
	for n := range clubs {
		club := fmt.Sprint("club-", n+1)
		err := s.store.PutClub(ctx, store.Club{ID: club, Name: "Club " + fmt.Sprint(n+1), InvitedUS: time.Now().UnixMicro()})
		if err != nil {
			b.Fatal(err)
		}
		for from, to := range map[store.Stream]store.Stream{
			store.ClubStream(homeClub):           store.ClubStream(club),
			store.MeetStream(homeClub, "spring"): store.MeetStream(club, "spring"),
		} {
			copyLog(ctx, b, s.store, from, to)
		}
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	return data
}

// copyLog writes a log once more, as another stream's.
func copyLog(ctx context.Context, b *testing.B, s store.Store, from, to store.Stream) {
	var head journal.Head
	var out []journal.Record
	err := s.Read(ctx, from, 0, func(r journal.Record) error {
		e, err := r.Open()
		if err != nil {
			return err
		}
		e.Stream = to.String()
		sealed, err := journal.Seal(head, e)
		head = sealed.Head()
		out = append(out, sealed)
		return err
	})
	if err == nil {
		err = s.Write(ctx, to, func(tx store.Tx) error { return tx.Append(ctx, out) })
	}
	if err != nil {
		b.Fatal(err)
	}
}
