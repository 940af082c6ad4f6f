package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// Practice is the practice board: the newest runs, of one car where one is
// named, and the sessions that are open.
func Practice(s *club.State, car day.CarID, limit int) gen.PracticeBoard {
	out := gen.PracticeBoard{Seq: s.Seq, Runs: []gen.PracticeRun{}, Sessions: []gen.PracticeSession{}}
	runs := s.Newest(limit)
	if car != "" {
		runs = s.History(car, limit)
	}
	for _, r := range runs {
		out.Runs = append(out.Runs, wire.ShowPracticeRun(r, s.Benches[r.Bench].Number, s.Cars.At(r.Car).Number))
	}
	for i := len(s.Sessions) - 1; i >= 0; i-- {
		if one := s.Sessions[i]; one.Open() {
			out.Sessions = append(out.Sessions, PracticeSession(s, one))
		}
	}
	return out
}

// Cars are the cars of the club by number.
func Cars(s *club.State) gen.CarList {
	out := gen.CarList{Cars: []gen.Car{}}
	for _, c := range s.SortedCars() {
		out.Cars = append(out.Cars, wire.ShowCar(c))
	}
	return out
}
