package view

import (
	"cmp"
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/workshop"
)

// PracticeSessions are the newest practice sessions.
func PracticeSessions(s *club.State, limit int) gen.PracticeSessions {
	out := gen.PracticeSessions{Seq: s.Seq, Sessions: []gen.PracticeSession{}}
	for _, one := range slices.Backward(s.Sessions) {
		if len(out.Sessions) == limit {
			break
		}
		out.Sessions = append(out.Sessions, PracticeSession(s, one))
	}
	return out
}

// PracticeSession is a practice session with who is on, who waits and what each car has
// driven. It knows nothing of meets: whether one has a bench now, the bench's order says.
func PracticeSession(s *club.State, one workshop.Session) gen.PracticeSession {
	out := wire.ShowPracticeSession(one)
	for _, id := range one.Benches {
		b := gen.PracticeBench{Bench: string(id), Number: wire.Opt(s.Benches[id].Number)}
		if armed, there := s.Armed[id]; there && one.Open() {
			shown := wire.ShowArmed(armed, s.Cars.At(armed.Car).Number)
			b.Armed = &shown
		}
		out.Benches = append(out.Benches, b)
	}
	out.Queue = Queue(s, one)
	for car, had := range one.Had {
		out.Runs += had.Runs
		if had.Runs > 0 || slices.Contains(one.Queue, car) {
			out.Cars = append(out.Cars, sessionCar(s, one, car, had.Runs))
		}
	}
	slices.SortFunc(out.Cars, func(a, b gen.SessionCar) int { return cmp.Compare(a.CarNumber, b.CarNumber) })
	return out
}

// sessionCar is what a car drove last in a session, and its own best of all times over as
// long a run.
func sessionCar(s *club.State, one workshop.Session, car day.CarID, runs int) gen.SessionCar {
	out := gen.SessionCar{CarNumber: s.Cars.At(car).Number, Runs: runs}
	for r := range s.PractisedBy(car) {
		if r.AtUS < one.OpenedUS {
			break
		}
		if r.Session == one.ID && r.Counts() {
			out.Last, out.Best = lifeRun(s, *r), farthest(s, car, r.RaceUS)
			break
		}
	}
	return out
}

// allRuns is more than a car makes in its life.
const allRuns = 1 << 30

// farthest is the farthest run of a car of those that count and were as long.
func farthest(s *club.State, car day.CarID, raceUS int64) *gen.LifeRun {
	best, there := s.Farthest(car, raceUS)
	if !there {
		return nil
	}
	return lifeRun(s, best)
}

func lifeRun(s *club.State, r club.Practice) *gen.LifeRun {
	out := wire.ShowLifeRun(r, s.Benches[r.Bench].Number)
	return &out
}

// changeUS is how long it takes from one run to the next beside the run itself, in µs: a
// turn of two runs of 15 s takes about 90 s (common practice).
const changeUS = 30_000_000

// Queue is who waits in a session, the next first, and about how long.
func Queue(s *club.State, one workshop.Session) []gen.QueuedCar {
	out := []gen.QueuedCar{}
	on := map[day.CarID]bool{}
	for _, armed := range s.Armed {
		on[armed.Car] = true
	}
	// Runs that are still to be made before the first who waits is on.
	left := 0
	for i, bench := range one.Benches {
		turn := 0
		if armed, there := s.Armed[bench]; there && !armed.Again {
			turn = max(1, one.Turn-armed.Turn+1)
		}
		if i == 0 || turn < left {
			left = turn
		}
	}
	for _, car := range one.Queue {
		if on[car] {
			continue
		}
		waits := float64(left) + float64(len(out)*one.Turn)/float64(len(one.Benches))
		out = append(out, gen.QueuedCar{
			CarNumber: s.Cars.At(car).Number, Place: len(out) + 1, Runs: one.Had[car].Runs,
			AboutS: waits * wire.Seconds(one.RaceUS+changeUS),
		})
	}
	return out
}
