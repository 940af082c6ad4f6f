package intake

import (
	"context"
	"sync"

	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/trace"
)

// Speed is one piece of telemetry: how a run goes at this moment.
type Speed struct {
	Club      string
	Meet      string // empty in practice
	Bench     meet.BenchID
	Run       meet.RunID
	RPM       float64
	SpeedMPS  float64
	DistanceM float64
	Laps      int64
	ElapsedS  float64
}

// mostSpeeds bounds the runs that are followed at the same time. One more drops
// the one that was silent longest; it is recorded all the same.
const mostSpeeds = 512

// speeds follows the runs under way.
type speeds struct {
	tell func(Speed)
	mu   sync.Mutex
	runs map[place]*following
	turn uint64 // counts calls of get
}

// following is one run under way.
type following struct {
	mu      sync.Mutex
	tracker *measure.Tracker
	meet    string
	next    int   // number of the chunk that is due
	first   int64 // its first stamp
	turn    uint64
}

func newSpeeds(tell func(Speed)) *speeds {
	return &speeds{tell: tell, runs: map[place]*following{}}
}

// telemetry follows a run along a fresh chunk. Chunks that come out of order are
// left out of the live number: the whole-run number has them all.
func (in *Intake) telemetry(ctx context.Context, at place, c trace.Chunk) {
	if in.speeds.tell == nil || len(c.Stamps) == 0 {
		return
	}
	f := in.speeds.get(at)
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.next == 0 && c.Key.Number == 0 {
		if err := in.begin(ctx, f, at, c); err != nil {
			return // no live speed for this run
		}
	}
	if f.tracker == nil || c.Key.Number != f.next {
		return
	}
	f.next++
	f.tracker.AddAll(c.Stamps)
	now := c.Stamps[len(c.Stamps)-1]
	live := f.tracker.Live(now)
	in.speeds.tell(Speed{
		Club: at.club, Meet: f.meet, Bench: meet.BenchID(at.run.Bench), Run: meet.RunID(at.run.Run),
		RPM: live.RPM, SpeedMPS: live.SpeedMPS, DistanceM: live.DistanceM, Laps: live.Laps,
		ElapsedS: float64(now-f.first) / 1e6,
	})
}

// begin finds out what the run is for and starts its tracker.
func (in *Intake) begin(ctx context.Context, f *following, at place, c trace.Chunk) error {
	order, err := in.Order(ctx, at.club, meet.BenchID(at.run.Bench))
	if err != nil {
		return err
	}
	if order.Order.Run != meet.RunID(at.run.Run) {
		order = BenchOrder{}
	}
	conditions, err := in.conditions(ctx, at.club, order.State, meet.RunID(at.run.Run), meet.BenchID(at.run.Bench), trace.Totals{})
	if err != nil {
		return err
	}
	f.tracker, err = measure.New(conditions)
	f.meet, f.first = order.Meet, c.Stamps[0]
	return err
}

func (s *speeds) get(at place) *following {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.turn++
	f, there := s.runs[at]
	if !there {
		if len(s.runs) >= mostSpeeds {
			s.dropSilent()
		}
		f = &following{}
		s.runs[at] = f
	}
	f.turn = s.turn
	return f
}

func (s *speeds) dropSilent() {
	var silent place
	least := s.turn
	for at, f := range s.runs {
		if f.turn < least {
			silent, least = at, f.turn
		}
	}
	delete(s.runs, silent)
}

func (s *speeds) end(at place) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.runs, at)
}
