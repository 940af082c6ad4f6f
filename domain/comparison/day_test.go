package comparison_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"benchmeet/domain/club"
	"benchmeet/domain/comparison"
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

// dayStart is when every day begins, in µs.
const dayStart = 1_800_000_000_000_000

// playedDay is a meet and its club, with benches of which everything is known.
type playedDay struct {
	t       testing.TB
	meet    *day.State
	club    *club.State
	now     int64
	factors []float64 // by plate - 1
	random  *rand.Rand
	repeat  float64
}

// newDay is a meet of benches with these true factors and so many entries, drawn.
func newDay(t testing.TB, entries, rounds int, factors ...float64) *playedDay {
	d := &playedDay{
		t: t, meet: day.New(), club: club.New(), now: dayStart, factors: factors,
		random: rand.New(rand.NewPCG(3, 5)), repeat: 0.003,
	}
	d.do(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: day.UsualRules()})
	for i := range factors {
		b := day.Bench{ID: id("b", i+1), Number: i + 1, CircumferenceUM: 94_248, Marks: 1, StampNS: 1000}
		d.do(meet.AddBench{Bench: b})
		d.inClub(club.RegisterBench{Bench: b})
	}
	d.do(meet.AddDivision{Division: day.Division{ID: "a", Name: "a", AgeTo: 12, Class: day.CarClass{LapUM: 20_000_000}, Stages: []day.Stage{
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": rounds, "lanes": min(8, len(factors)), "rule": "mean"}),
	}}})
	for n := 1; n <= entries; n++ {
		d.do(meet.TakeEntry{
			ID: day.EntryID("e" + strconv.Itoa(n)), Division: "a", StartNumber: n,
			Entrant: day.EntrantID("p" + strconv.Itoa(n)), Car: day.CarID("c" + strconv.Itoa(n)), Age: 9,
		})
		d.do(meet.CheckIn{Entry: day.EntryID("e" + strconv.Itoa(n)), There: true})
	}
	d.do(meet.CloseEntries{Division: "a"})
	return d
}

func id(prefix string, n int) day.BenchID { return day.BenchID(prefix + strconv.Itoa(n)) }

func (d *playedDay) do(c meet.Command) {
	d.t.Helper()
	d.now += 1_000_000
	events, err := meet.Decide(d.meet, c, meet.Meta{Actor: "official", NowUS: d.now, Seed: uint64(d.now % 1000)})
	if err != nil {
		d.t.Fatalf("%T: %v", c, err)
	}
	for _, e := range events {
		day.Evolve(d.meet, e, d.now)
	}
}

func (d *playedDay) inClub(c club.Command) {
	d.t.Helper()
	d.now += 1_000_000
	events, err := club.Decide(d.club, c, meet.Meta{Actor: "official", NowUS: d.now})
	if err != nil {
		d.t.Fatalf("%T: %v", c, err)
	}
	for _, e := range events {
		club.Evolve(d.club, e, d.now)
	}
}

// speed is what a bench reads for a car that truly does so many m/s.
func (d *playedDay) speed(bench day.BenchID, truth float64) measure.Figures {
	factor := d.factors[d.meet.Benches[bench].Number-1]
	read := truth * factor * math.Exp(d.repeat*d.random.NormFloat64())
	return measure.Figures{Method: "stamps/1", MeanUMPS: int64(read * 1e6), DistanceUM: int64(read * 60e6), UDistanceUM: 5000}
}

// round draws and races a round; spoil changes figures before they are recorded.
func (d *playedDay) round(spoil func(entry day.EntryID, f *measure.Figures)) {
	d.t.Helper()
	d.do(meet.DrawRound{Division: "a"})
	stages := d.meet.Programmes["a"].Stages
	rounds := stages[len(stages)-1].Rounds
	for _, heat := range rounds[len(rounds)-1].Heats {
		d.do(meet.CallHeat{Heat: heat})
		for _, l := range d.meet.Heats[heat].Lanes {
			d.do(meet.ConfirmReady{Heat: heat, Bench: l.Bench, StartNumber: d.meet.Entries[l.Entry].StartNumber})
		}
		d.do(meet.StartHeat{Heat: heat})
		for _, l := range d.meet.Heats[heat].Lanes {
			f := d.speed(l.Bench, 6+0.02*float64(d.meet.Entries[l.Entry].StartNumber))
			if spoil != nil {
				spoil(l.Entry, &f)
			}
			d.do(meet.RecordRun{ID: l.Armed, Bench: l.Bench, Boot: "b1", Trace: "t-" + string(l.Armed), Figures: f})
		}
	}
	d.now += 600_000_000
	d.do(meet.CloseRound{Division: "a"})
}

// check begins a reference check with so many cars and makes its runs, those of
// the first slots only where slots is not 0.
func (d *playedDay) check(cars, slots int) {
	d.t.Helper()
	var benches []day.BenchID
	for _, b := range d.meet.SortedBenches() {
		benches = append(benches, b.ID)
	}
	var ids []day.CarID
	for n := range cars {
		car := club.Car{ID: day.CarID(fmt.Sprintf("ref%d", n+1)), Number: 91 + n, Reference: true}
		ids = append(ids, car.ID)
		d.inClub(club.RegisterCar{Car: car})
	}
	d.inClub(club.BeginCheck{Meet: "spring", Benches: benches, Cars: ids, RaceUS: 30_000_000})
	last, _ := d.club.LastCheck("spring")
	for _, run := range last.Plan() {
		if slots > 0 && run.Slot > slots {
			return
		}
		bench, car := day.BenchID(run.Bench), d.club.Cars.At(day.CarID(run.Car))
		d.inClub(club.ArmPractice{Bench: bench, Number: car.Number, Reference: "spring"})
		armed := d.club.Armed[bench].Run
		d.inClub(club.RecordPractice{
			ID: armed, Bench: bench, Boot: "b1", Trace: "t-" + string(armed), Figures: d.speed(bench, 7+0.1*float64(car.Number-91)),
		})
	}
}

func (d *playedDay) report() *comparison.Report {
	d.t.Helper()
	r, err := comparison.Of(d.meet, d.club, "spring")
	if err != nil {
		d.t.Fatal(err)
	}
	return r
}
