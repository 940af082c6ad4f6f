package intake

import (
	"context"
	"sync"

	"benchmeet/api/store"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/measure"
	"benchmeet/domain/trace"
)

// Speed is one piece of telemetry: how a run goes at this moment.
type Speed struct {
	Club      string
	Meet      string // empty in practice
	Bench     day.BenchID
	Number    int // on the bench's plate; 0 is not known
	Run       day.RunID
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

// mostWaiting bounds the chunks of a run that wait for one before them.
const mostWaiting = 32

// following is one run under way.
type following struct {
	mu      sync.Mutex
	tracker *measure.Tracker
	number  int // of the bench
	meet    string
	next    int             // number of the chunk that is due
	waiting map[int][]int64 // stamps of later chunks
	first   int64           // the first stamp
	now     int64           // the newest stamp
	any     bool            // a stamp has come
	turn    uint64
}

func newSpeeds(tell func(Speed)) *speeds {
	return &speeds{tell: tell, runs: map[place]*following{}}
}

// telemetry follows a run along a fresh chunk. A chunk that comes before its turn
// waits for those before it, so that resent chunks do not end the live number.
func (in *Intake) telemetry(ctx context.Context, at place, c trace.Chunk) {
	if in.speeds.tell == nil {
		return
	}
	f := in.speeds.get(at)
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.tracker == nil {
		if err := in.begin(ctx, f, at); err != nil {
			return // no live speed yet
		}
	}
	if c.Key.Number < f.next || len(f.waiting) >= mostWaiting && c.Key.Number != f.next {
		return
	}
	f.waiting[c.Key.Number] = c.Stamps
	if !f.advance() {
		return
	}
	live := f.tracker.Live(f.now)
	in.speeds.tell(Speed{
		Club: at.club, Meet: f.meet, Bench: day.BenchID(at.run.Bench), Number: f.number, Run: day.RunID(at.run.Run),
		RPM: live.RPM, SpeedMPS: live.SpeedMPS, DistanceM: live.DistanceM, Laps: live.Laps,
		ElapsedS: float64(f.now-f.first) / 1e6,
	})
}

// advance takes in the chunks whose turn it is, and says whether a stamp came.
func (f *following) advance() bool {
	came := false
	for stamps, there := f.waiting[f.next]; there; stamps, there = f.waiting[f.next] {
		delete(f.waiting, f.next)
		f.next++
		if len(stamps) == 0 {
			continue
		}
		if !f.any {
			f.first, f.any = stamps[0], true
		}
		f.tracker.AddAll(stamps)
		f.now, came = stamps[len(stamps)-1], true
	}
	return came
}

// begin finds out what the run is for and starts its tracker.
func (in *Intake) begin(ctx context.Context, f *following, at place) error {
	run, bench := day.RunID(at.run.Run), day.BenchID(at.run.Bench)
	meet, state, err := in.race(ctx, at.club, run, bench)
	if err != nil {
		return err
	}
	conditions, known := inMeet(state, run, bench)
	if !known {
		snapshot, err := in.clubs.At(ctx, store.ClubStream(at.club), 0)
		if err != nil {
			return err
		}
		conditions = evidence.InClub(snapshot.State, run, bench, 0)
	}
	f.tracker, err = measure.New(conditions.Setup(trace.Totals{}))
	f.meet, f.number = meet, conditions.Bench.Number
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
		f = &following{waiting: map[int][]int64{}}
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
