package dayplan_test

import (
	"fmt"
	"testing"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

// large is a day of about 300 heats that are still to come, a third of them drawn.
func large(b *testing.B) *hall {
	h := newHall(b, 1, 12)
	for n := range 5 {
		id := day.DivisionID(fmt.Sprint("d", n))
		h.field(id, 40, n == 0,
			programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "lanes": 4, "rule": "mean"}),
			programmetest.Stage("knockout", programmetest.Set{"entries": 32, "third_place": true}),
		)
		h.give(meet.DrawRound{Division: id})
	}
	return h
}

// BenchmarkOrder is what a plan costs after each event; the call board of the same day is
// its floor.
func BenchmarkOrder(b *testing.B) {
	h := large(b)
	b.Run("board", func(b *testing.B) {
		for b.Loop() {
			board.CallBoardOf(h.s)
		}
	})
	b.Run("rest", func(b *testing.B) {
		for b.Loop() {
			dayplan.RestOf(h.s, h.now, 0)
		}
	})
	b.Run("order", func(b *testing.B) {
		var rest dayplan.Rest
		for b.Loop() {
			rest = dayplan.RestOf(h.s, h.now, 0)
			dayplan.Order(rest, dayplan.Seen(h.s))
		}
		b.ReportMetric(float64(len(rest.Heats)), "heats")
	})
}

// BenchmarkLikely is what a forecast of the same day costs; one plan is its floor.
func BenchmarkLikely(b *testing.B) {
	h := large(b)
	rest, pace := dayplan.RestOf(h.s, h.now, 0), dayplan.Seen(h.s)
	b.Run("order", func(b *testing.B) {
		for b.Loop() {
			dayplan.Order(rest, pace)
		}
	})
	b.Run("likely", func(b *testing.B) {
		for b.Loop() {
			dayplan.Likely(rest, pace, dayplan.Samples, 1)
		}
	})
}

// BenchmarkImprove is what a better order of the same day costs; one plan is its floor.
func BenchmarkImprove(b *testing.B) {
	h := large(b)
	rest, pace := dayplan.RestOf(h.s, h.now, 0), dayplan.Seen(h.s)
	b.Run("order", func(b *testing.B) {
		for b.Loop() {
			dayplan.Order(rest, pace)
		}
	})
	b.Run("improve", func(b *testing.B) {
		for b.Loop() {
			dayplan.Improve(rest, pace, 1)
		}
	})
}
