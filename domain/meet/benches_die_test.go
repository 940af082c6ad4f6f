package meet_test

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"
)

// TestBenchesDie plays rounds of distances whose benches die and come back at any moment.
// However the officials go on (heats raced short, cars left over, the rest drawn again),
// every car that is there has exactly one run in each round, nobody is marked for it, and
// the table is the sum of what the cars ran.
func TestBenchesDie(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := newDyingDay(t)
		for step := 0; !d.over(); step++ {
			if step > 3000 {
				t.Fatal("the day does not end")
			}
			d.step(step < 600)
		}
		d.oneRunEach()
		d.tableIsTheSum()
		if want, got := stateJSON(d.tb, d.s), stateJSON(d.tb, refold(d.tb, d.log)); !bytes.Equal(want, got) {
			t.Fatalf("the log folds to another state\n got %s\nwant %s", got, want)
		}
	})
}

// dyingDay is a day whose benches die. It knows by itself what each car ran.
type dyingDay struct {
	randomDay
	entries, lanes, benches, rounds int
	ran                             map[string]int64 // µm, by entry and round
}

func newDyingDay(t *rapid.T) *dyingDay {
	d := &dyingDay{randomDay: randomDay{t: t, tb: noTB{t: t}, s: day.New(), now: dayStart}, ran: map[string]int64{}}
	d.entries = rapid.IntRange(2, 15).Draw(t, "entries")
	d.lanes = rapid.IntRange(2, 6).Draw(t, "lanes")
	d.benches = d.lanes + rapid.IntRange(0, 2).Draw(t, "spare")
	d.rounds = rapid.IntRange(1, 3).Draw(t, "rounds")
	d.must(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: day.UsualRules()})
	for n := 1; n <= d.benches; n++ {
		d.must(meet.AddBench{Bench: day.Bench{ID: bench(n), Number: n, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000}})
	}
	d.must(meet.AddDivision{Division: day.Division{ID: "a", Name: "a", AgeTo: 12, Class: day.CarClass{LapUM: 20_000_000}, Stages: []day.Stage{
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": d.rounds, "lanes": d.lanes, "rule": "sum"}),
	}}})
	for n := 1; n <= d.entries; n++ {
		e := day.EntryID("e" + strconv.Itoa(n))
		d.must(meet.TakeEntry{
			ID: e, Division: "a", StartNumber: n, Entrant: day.EntrantID("p" + strconv.Itoa(n)), Car: day.CarID("c" + strconv.Itoa(n)), Age: 9,
		})
		d.must(meet.CheckIn{Entry: e, There: true})
	}
	d.must(meet.CloseEntries{Division: "a"})
	return d
}

func bench(n int) day.BenchID { return day.BenchID("b" + strconv.Itoa(n)) }

// must gives a command that has to be carried out.
func (d *dyingDay) must(c meet.Command) {
	if err := d.tries(c); err != nil {
		d.t.Fatalf("%T %+v: %v", c, c, err)
	}
}

func (d *dyingDay) tries(c meet.Command) error {
	d.now += 1_000_000
	events, err := meet.Decide(d.s, c, d.meta())
	for _, e := range events {
		d.log = append(d.log, seal(d.tb, d.log, e, d.now))
		day.Evolve(d.s, e, d.now)
	}
	return err
}

// mayRefuse gives a command that may be refused, with a sentence.
func (d *dyingDay) mayRefuse(c meet.Command) {
	if err := d.tries(c); err != nil {
		if no, is := refusal.As(err); !is || no.Error() == string(no.Code) {
			d.t.Fatalf("%T is refused without a sentence: %v", c, err)
		}
	}
}

func (d *dyingDay) over() bool { return programme.Through(d.s, d.s.Divisions["a"]) }

// step does what an official might do now. Benches die only while mayDie.
func (d *dyingDay) step(mayDie bool) {
	in := len(programme.BenchesInService(d.s))
	b := bench(rapid.IntRange(1, d.benches).Draw(d.t, "bench"))
	switch what := rapid.IntRange(0, 19).Draw(d.t, "what"); {
	case what == 0 && mayDie && in > 1:
		d.must(meet.ChangeBenchService{Bench: b, Out: true, Reason: why})
	case what == 1:
		d.must(meet.ChangeBenchService{Bench: b, Out: false})
	case what == 2 && len(d.s.Heats) > 0:
		heats := d.s.SortedHeats()
		d.mayRefuse(meet.DrawRest{Heat: heats[rapid.IntRange(0, len(heats)-1).Draw(d.t, "heat")].ID, Reason: why})
	case what == 3:
		if h, there := d.some(day.PhaseCalled); there && mayDie {
			d.must(meet.CallOff{Heat: h.ID, Reason: why})
		}
	case what < 8:
		d.mayRefuse(meet.DrawRound{Division: "a"})
		d.mayRefuse(meet.CloseRound{Division: "a", Early: d.because(day.ReasonTime)})
	default:
		d.race()
	}
}

// some is a heat in a phase.
func (d *dyingDay) some(phase day.Phase) (day.Heat, bool) {
	heats := slices.DeleteFunc(d.s.SortedHeats(), func(h day.Heat) bool { return h.Phase != phase })
	if len(heats) == 0 {
		return day.Heat{}, false
	}
	return heats[rapid.IntRange(0, len(heats)-1).Draw(d.t, "of")], true
}

// race brings one heat on by one step.
func (d *dyingDay) race() {
	for _, phase := range rapid.Permutation([]day.Phase{day.PhaseRacing, day.PhaseCalled, day.PhaseDrawn}).Draw(d.t, "phases") {
		h, there := d.some(phase)
		switch {
		case !there:
			continue
		case phase == day.PhaseDrawn:
			d.mayRefuse(meet.CallHeat{Heat: h.ID, Short: rapid.Bool().Draw(d.t, "short")})
		case phase == day.PhaseCalled:
			d.atTheBenches(h)
		default:
			d.run(h)
		}
		return
	}
}

// atTheBenches confirms a car, leaves one over or starts the heat.
func (d *dyingDay) atTheBenches(h day.Heat) {
	for _, l := range h.Lanes {
		switch {
		case l.Bench == "" || l.State == day.LaneDone:
		case d.s.Benches[l.Bench].OutOfService:
			d.must(meet.LeaveLane{Heat: h.ID, Entry: l.Entry})
			return
		case l.State == day.LaneCalled:
			d.must(meet.ConfirmReady{Heat: h.ID, Bench: l.Bench, StartNumber: d.s.Entries[l.Entry].StartNumber})
			return
		}
	}
	d.must(meet.StartHeat{Heat: h.ID})
}

// run brings in the run of a racing car, or takes the car off a bench that died under it.
func (d *dyingDay) run(h day.Heat) {
	for _, l := range h.Lanes {
		if l.State != day.LaneRacing {
			continue
		}
		if d.s.Benches[l.Bench].OutOfService {
			d.must(meet.GrantRerun{Heat: h.ID, Entry: l.Entry, Counts: day.CountsRerun, Reason: why})
			return
		}
		um := rapid.Int64Range(100_000_000, 900_000_000).Draw(d.t, "um")
		d.must(meet.RecordRun{ID: l.Armed, Bench: l.Bench, Boot: "b1", Trace: string(l.Armed), Figures: figures(um)})
		key := fmt.Sprint(l.Entry, " in ", h.Round)
		if _, twice := d.ran[key]; twice {
			d.t.Fatalf("%s ran twice", key)
		}
		d.ran[key] = um
		return
	}
	d.t.Fatalf("heat %s races and no car does", h.ID)
}

// oneRunEach checks that each entry has one lane in each round, with a run and no status.
func (d *dyingDay) oneRunEach() {
	lanes := map[string]int{}
	for _, h := range d.s.Heats {
		for _, l := range h.Lanes {
			if l.Counts == "" || l.Status != day.StatusNone {
				d.t.Fatalf("in heat %s the lane of %s is %+v", h.ID, l.Entry, l)
			}
			lanes[fmt.Sprint(l.Entry, " in ", h.Round)]++
		}
	}
	for n := 1; n <= d.entries; n++ {
		for round := 1; round <= d.rounds; round++ {
			key := fmt.Sprint("e", n, " in ", round)
			if lanes[key] != 1 || d.ran[key] == 0 {
				d.t.Fatalf("%s has %d lanes and ran %d µm", key, lanes[key], d.ran[key])
			}
		}
	}
}

// tableIsTheSum checks the table against the sums of what the cars ran.
func (d *dyingDay) tableIsTheSum() {
	type line struct {
		entry day.EntryID
		um    int64
	}
	var want, got []line
	for n := 1; n <= d.entries; n++ {
		l := line{entry: day.EntryID("e" + strconv.Itoa(n))}
		for round := 1; round <= d.rounds; round++ {
			l.um += d.ran[fmt.Sprint(l.entry, " in ", round)]
		}
		want = append(want, l)
	}
	for _, l := range programme.Standings(d.s, "a") {
		got = append(got, line{l.Entry, l.DistanceUM})
	}
	order := func(a, b line) int { return cmp.Or(-cmp.Compare(a.um, b.um), cmp.Compare(a.entry, b.entry)) }
	slices.SortFunc(want, order)
	slices.SortFunc(got, order) // equal sums in any order
	if !slices.Equal(got, want) {
		d.t.Fatalf("the table is %v, by the runs it is %v", got, want)
	}
}
