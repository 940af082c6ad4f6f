package view_test

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"benchmeet/api/view"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/quicker"
	"benchmeet/domain/workshop"
)

// season is a club of 200 cars and 20,000 practice runs in 50 afternoons, each car changed
// every tenth of its runs.
func season(tb testing.TB) *club.State {
	tb.Helper()
	s, at := club.New(), int64(1_800_000_000_000_000)
	do := func(e club.Event) {
		at += 10_000_000
		club.Evolve(s, e, at)
	}
	do(club.BenchRegistered{Bench: day.Bench{ID: "b1", Number: 1, CircumferenceUM: 94_248, Marks: 1}})
	var cars []club.Car
	for n := range 200 {
		cars = append(cars, club.Car{ID: day.CarID(fmt.Sprintf("car-%d", n+1)), Number: n + 1})
		do(club.CarRegistered{Car: cars[n]})
	}
	made := map[day.CarID]int{}
	for afternoon := range 50 {
		at += 7 * 24 * 3600 * 1_000_000
		session := fmt.Sprintf("s%d", afternoon)
		do(club.PracticeOpened{ID: session, Benches: []day.BenchID{"b1"}, Settings: workshop.Settings{RaceUS: 15_000_000, Turn: 2}})
		for k := range 400 {
			car := cars[(k/4+100*afternoon)%200]
			n := made[car.ID]
			made[car.ID]++
			if n%10 == 0 {
				setup := workshop.Setup{Driving: 10, Driven: 30 + n/10, Cells: 2, WheelUM: 25_000}
				do(club.CarChanged{Car: car.ID, State: n/10 + 1, Fitting: n/10 + 1, Setup: setup})
			}
			now := s.Lives.At(car.ID).Now()
			um := int64(30_000_000 + 1000*((n*7919+car.Number*31)%997))
			id := day.RunID(fmt.Sprintf("practice-b1-%d", afternoon*400+k))
			do(club.PracticeRecorded{
				ID: id, Bench: "b1", Car: car.ID, Boot: "0123456789abcdef", Trace: "00", Session: session, RaceUS: 15_000_000,
				State: now.State, Fitting: now.Fitting, Figures: measure.Figures{Method: "m", DistanceUM: um, MeanUMPS: um / 15, MaxUMPS: um / 13},
			})
		}
		if afternoon < 49 {
			do(club.PracticeClosed{ID: session})
		}
	}
	return s
}

// TestSeason holds that the season of the benchmark is what it says.
func TestSeason(t *testing.T) {
	s := season(t)
	life := view.CarLife(s, s.Cars.At("car-7"))
	class := view.PracticeClass(s, nil)
	board := view.Practice(s, "", 50)
	if s.Runs.Len() != 20_000 || len(life.Runs) != 100 || len(life.States) != 10 ||
		class.Cars != 200 || len(class.Points) != 2000 || len(board.Sessions) != 1 {
		t.Errorf("%d runs, %d of a car in %d states, %d cars with %d points",
			s.Runs.Len(), len(life.Runs), len(life.States), class.Cars, len(class.Points))
	}
}

// BenchmarkPracticeSeason is what a server does for a page in a season of practice: the life
// of a car and the plot of the class as JSON, a comparison, the figures of a session, the
// board that all screens get after each run, and opening the club from what was packed. The
// floor is one walk over the runs; x-walk is how many of those each takes.
func BenchmarkPracticeSeason(b *testing.B) {
	s := season(b)
	one := s.Sessions[len(s.Sessions)-1]
	encode := func(b *testing.B, v any) {
		if _, err := json.Marshal(v); err != nil {
			b.Fatal(err)
		}
	}
	head, parts := s.Pack(0, 1000)
	walk := func() {
		n := 0
		for r := range s.Practised() {
			n += r.State
		}
		if n == 0 {
			b.Fatal("nobody noted anything")
		}
	}
	for _, bb := range []struct {
		name string
		do   func(b *testing.B)
	}{
		{"life", func(b *testing.B) { encode(b, view.CarLife(s, s.Cars.At("car-7"))) }},
		{"class", func(b *testing.B) { encode(b, view.PracticeClass(s, nil)) }},
		{"board", func(b *testing.B) { encode(b, view.Practice(s, "", 50)) }},
		{"compared", func(b *testing.B) {
			if _, err := quicker.Compare(s, "car-7", 1, 2, nil); err != nil {
				b.Fatal(err)
			}
		}},
		{"figures", func(b *testing.B) {
			if _, err := view.SessionFigures(s, one, s.TimeUS); err != nil {
				b.Fatal(err)
			}
		}},
		{"open", func(b *testing.B) {
			if _, err := club.Unpack(head, func(n int) ([]byte, error) { return parts[n], nil }); err != nil {
				b.Fatal(err)
			}
		}},
	} {
		b.Run(bb.name, func(b *testing.B) {
			var floor, took time.Duration
			for b.Loop() {
				began := time.Now()
				walk()
				floor += time.Since(began)
				began = time.Now()
				bb.do(b)
				took += time.Since(began)
			}
			b.ReportMetric(float64(took.Microseconds())/float64(b.N)/1e3, "ms")
			b.ReportMetric(float64(took)/float64(floor), "x-walk")
		})
	}
}
