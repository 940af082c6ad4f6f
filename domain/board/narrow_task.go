package board

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// narrowTasks are the heats for which benches are missing that were there when they were
// drawn: of each round the first that is to be called, and the called ones with a car at a bench
// that is out of service.
func narrowTasks(s *day.State) []Task {
	var out []Task
	type round struct {
		division     day.DivisionID
		stage, round int
	}
	asked := map[round]bool{}
	for _, id := range CallBoardOf(s).Next {
		h := s.Heats[id]
		in := round{h.Division, h.Stage, h.Round}
		if programme.TooWide(s, h) && !asked[in] {
			asked[in] = true
			out = append(out, narrow(s, h))
		}
	}
	for _, h := range s.SortedHeats() {
		for _, l := range s.Stranded(h) {
			t := narrow(s, h)
			t.Entry, t.Bench, t.SinceUS = l.Entry, l.Bench, max(h.CalledUS, s.Benches[l.Bench].OutSinceUS)
			out = append(out, t)
		}
	}
	return out
}

// narrow is the task of a heat. It asks since the last bench that is out went out.
func narrow(s *day.State, h day.Heat) Task {
	t := Task{Kind: TaskNarrow, Division: h.Division, Stage: h.Stage, Round: h.Round, Heat: h.ID}
	for _, b := range s.Benches {
		if b.OutOfService {
			t.SinceUS = max(t.SinceUS, b.OutSinceUS)
		}
	}
	t.Lanes, t.Benches = len(programme.LanesToRace(s, h)), len(programme.BenchesInService(s))
	d := s.Divisions[h.Division]
	t.Redraw = len(programme.RestOf(s, d, h.Stage, h.Round)) > 0
	return t
}
