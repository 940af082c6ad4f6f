package live

import (
	"log/slog"
	"testing"

	"benchmeet/api/read"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/api/view/viewtest"
	"benchmeet/domain/day"
)

// BenchmarkRefresh is what one change of a meet of 40 entries costs the room:
// eight topics computed, compared, encoded once and put into the slots of 1 or 200
// listeners. "unwanted" is the same with listeners to the call board alone: the
// floor without standings and bracket.
func BenchmarkRefresh(b *testing.B) {
	played := viewtest.New(b, 40)
	played.Round(1)
	played.Round(2)
	heat := played.State.SortedHeats()[0].ID
	all := []string{"meet", "board", "standings/junior", "bracket/junior", "bench/b1", "bench/b2", "bench/b3", "bench/b4"}
	for _, c := range []struct {
		name      string
		topics    []string
		listeners int
	}{{"topics=8/listeners=1", all, 1}, {"topics=8/listeners=200", all, 200}, {"unwanted/listeners=200", all[1:2], 200}} {
		b.Run(c.name, func(b *testing.B) {
			s := newTold()
			r := newRoom(s, slog.New(slog.DiscardHandler), 0)
			defer r.stop()
			for range c.listeners {
				enters(r, c.topics...)
			}
			s.shows = all
			v := view.MeetView{ID: "spring", State: played.State}
			model, stream := read.New(nil), store.MeetStream("harbour", "spring")
			s.show = func(topic string) (Content, bool) {
				shown, there := model.Show(stream, v, topic)
				return Content{shown.Text(), shown.Head.Seq, shown.Put}, there
			}
			b.ResetTimer()
			for n := range b.N {
				next := played.State.Clone() // the penalty changes board, standings and bracket
				h := next.Heats[heat]
				h.Lanes = append([]day.Lane(nil), h.Lanes...)
				h.Lanes[0].PenaltyUM = int64(n + 1)
				next.Heats[heat] = h
				v.State = next
				r.refresh(b.Context())
			}
		})
	}
}
