package club_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// clubStart is when the club of every test begins, in µs.
const clubStart = 1_800_000_000_000_000

// given folds events, a second apart.
func given(events ...club.Event) *club.State {
	s := club.New()
	for i, e := range events {
		club.Evolve(s, e, clubStart+int64(i)*1_000_000)
	}
	return s
}

func bench(id day.BenchID, number int) day.Bench {
	return day.Bench{ID: id, Number: number, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000, ClockPPB: 20_000}
}

func ran(um int64) measure.Figures {
	// The method is a word of the log, and no newer one changes what was folded.
	return measure.Figures{Method: "benchmeet-measure/2", DistanceUM: um, UDistanceUM: 1000, Laps: um / 1_000_000}
}

// The events that tables begin with.
var (
	benchOne = club.BenchRegistered{Bench: bench("b1", 1)}
	benchTwo = club.BenchRegistered{Bench: bench("b2", 2)}
	retired  = club.BenchRetired{Bench: "b1"}
	carSeven = club.CarRegistered{Car: club.Car{ID: "seven", Number: 7, WheelUM: 25_000}}
	armed    = club.PracticeArmed{Bench: "b1", Run: "practice-b1-1", Car: "seven", RaceUS: 60_000_000, By: "o"}
	recorded = club.PracticeRecorded{ID: "practice-b1-1", Bench: "b1", Car: "seven", Boot: "aa", Trace: "t1", Figures: ran(5), Armed: true}
	erased   = club.PersonErased{Person: "p1", By: "o"}
)

// record is the command that recorded came of.
func record() club.RecordPractice {
	return club.RecordPractice{ID: "practice-b1-1", Bench: "b1", Boot: "aa", Trace: "t1", Figures: ran(5)}
}

// TestDecide: given events, when a command comes, then these events.
func TestDecide(t *testing.T) {
	out := bench("b1", 1)
	out.OutOfService, out.OutReason = true, "bench-fault"
	moved := bench("b1", 3)
	with := func(change func(*club.RecordPractice)) club.RecordPractice {
		c := record()
		change(&c)
		return c
	}
	// then is the run that the bench was asked for, with how long.
	then := func(change func(*club.PracticeRecorded)) []club.Event {
		e := recorded
		e.RaceUS = 60_000_000
		change(&e)
		return []club.Event{e}
	}
	// unasked is a run that its bench was not asked for.
	unasked := func(change func(*club.PracticeRecorded)) []club.Event {
		return then(func(e *club.PracticeRecorded) {
			e.Car, e.Armed, e.RaceUS = "", false, 0
			change(e)
		})
	}
	nothing, photo := club.Consents{}, club.Consents{Photo: true}
	consent := func(was, now club.Consents) club.Command {
		return club.KeepPerson{Person: "p1", Was: &was, Consents: &now}
	}
	agreed := func(now club.Consents) club.Event { return club.ConsentsChanged{Person: "p1", Consents: now, By: "o"} }
	tests := []struct {
		name  string
		given []club.Event
		when  club.Command
		then  []club.Event
	}{
		{"a bench is registered", nil, club.RegisterBench{Bench: bench("b1", 1)}, []club.Event{benchOne}},
		{"the club knows no bench out of service", nil, club.RegisterBench{Bench: out}, []club.Event{benchOne}},
		{"the same again", []club.Event{benchOne}, club.RegisterBench{Bench: bench("b1", 1)}, nil},
		{"another number", []club.Event{benchOne}, club.RegisterBench{Bench: moved}, []club.Event{club.BenchRegistered{Bench: moved}}},
		{
			"the number of a retired bench",
			[]club.Event{benchOne, retired},
			club.RegisterBench{Bench: bench("b2", 1)},
			[]club.Event{club.BenchRegistered{Bench: bench("b2", 1)}},
		},
		{"a retired bench comes back", []club.Event{benchOne, retired}, club.RegisterBench{Bench: bench("b1", 1)}, []club.Event{benchOne}},
		{"a bench is retired", []club.Event{benchOne}, club.RetireBench{Bench: "b1"}, []club.Event{retired}},

		{"a car is registered", nil, club.RegisterCar(carSeven), []club.Event{carSeven}},
		{"the same car again", []club.Event{carSeven}, club.RegisterCar(carSeven), nil},
		{
			"a car gets another number",
			[]club.Event{carSeven},
			club.RegisterCar{Car: club.Car{ID: "seven", Number: 8}},
			[]club.Event{club.CarRegistered{Car: club.Car{ID: "seven", Number: 8}}},
		},
		{
			"a number that was given back",
			[]club.Event{carSeven, club.CarRegistered{Car: club.Car{ID: "seven", Number: 8}}},
			club.RegisterCar{Car: club.Car{ID: "new", Number: 7}},
			[]club.Event{club.CarRegistered{Car: club.Car{ID: "new", Number: 7}}},
		},

		{
			"a known car is armed",
			[]club.Event{benchOne, carSeven},
			club.ArmPractice{Bench: "b1", Number: 7, RaceUS: 60_000_000},
			[]club.Event{armed},
		},
		{
			"no car is armed",
			[]club.Event{benchOne},
			club.ArmPractice{Bench: "b1", RaceUS: 1_000_000},
			[]club.Event{club.PracticeArmed{Bench: "b1", Run: "practice-b1-1", RaceUS: 1_000_000, By: "o"}},
		},
		{
			"an unknown car is registered on the way",
			[]club.Event{benchOne},
			club.ArmPractice{Bench: "b1", Number: 12, RaceUS: 4 * 3600 * 1_000_000},
			[]club.Event{
				club.CarRegistered{Car: club.Car{ID: "car-12", Number: 12}},
				club.PracticeArmed{Bench: "b1", Run: "practice-b1-1", Car: "car-12", RaceUS: 4 * 3600 * 1_000_000, By: "o"},
			},
		},
		{
			"its usual ids are taken by cars that have other numbers",
			[]club.Event{
				benchOne, club.CarRegistered{Car: club.Car{ID: "car-12", Number: 1}}, club.CarRegistered{Car: club.Car{ID: "car-12-4", Number: 2}},
			},
			club.ArmPractice{Bench: "b1", Number: 12, RaceUS: 60_000_000},
			[]club.Event{
				club.CarRegistered{Car: club.Car{ID: "car-12-5", Number: 12}},
				club.PracticeArmed{Bench: "b1", Run: "practice-b1-1", Car: "car-12-5", RaceUS: 60_000_000, By: "o"},
			},
		},
		{
			"armed again, the run has another name",
			[]club.Event{benchOne, carSeven, armed},
			club.ArmPractice{Bench: "b1", Number: 7, RaceUS: 60_000_000},
			[]club.Event{club.PracticeArmed{Bench: "b1", Run: "practice-b1-2", Car: "seven", RaceUS: 60_000_000, By: "o"}},
		},

		{"the armed run comes", []club.Event{benchOne, carSeven, armed}, record(), then(func(*club.PracticeRecorded) {})},
		{"it comes twice", []club.Event{benchOne, carSeven, armed, recorded}, record(), nil},
		{"a run of no bench, car or order", nil, record(), unasked(func(*club.PracticeRecorded) {})},
		{"a run of a retired bench", []club.Event{benchOne, retired}, record(), unasked(func(*club.PracticeRecorded) {})},
		{
			"the bench says which car, whatever was armed",
			[]club.Event{benchOne, carSeven, club.CarRegistered{Car: club.Car{ID: "eight", Number: 8}}, armed},
			with(func(c *club.RecordPractice) { c.Number = 8 }),
			then(func(e *club.PracticeRecorded) { e.Car = "eight" }),
		},
		{
			"a number that no car has leaves the armed car",
			[]club.Event{benchOne, carSeven, armed},
			with(func(c *club.RecordPractice) { c.Number = 99 }),
			then(func(*club.PracticeRecorded) {}),
		},
		{
			"another run than the armed one has no car",
			[]club.Event{benchOne, carSeven, armed},
			with(func(c *club.RecordPractice) { c.ID = "free" }),
			unasked(func(e *club.PracticeRecorded) { e.ID = "free" }),
		},
		{
			"a run of a meet that is not there", nil,
			with(func(c *club.RecordPractice) { c.Meet = "autumn" }),
			unasked(func(e *club.PracticeRecorded) { e.Meet = "autumn" }),
		},
		{
			"the box was started anew and takes the name again",
			[]club.Event{recorded},
			with(func(c *club.RecordPractice) { c.Boot, c.Trace = "bb", "t2" }),
			unasked(func(e *club.PracticeRecorded) {
				e.ID, e.Sent, e.Boot, e.Trace = "practice-b1-1.bb", "practice-b1-1", "bb", "t2"
			}),
		},
		{
			"a third bench of the same box takes the name too",
			[]club.Event{
				recorded,
				club.PracticeRecorded{ID: "practice-b1-1.bb", Bench: "b2", Boot: "bb", Trace: "t2"},
			},
			with(func(c *club.RecordPractice) { c.Bench, c.Boot, c.Trace = "b3", "bb", "t3" }),
			unasked(func(e *club.PracticeRecorded) {
				e.ID, e.Sent, e.Bench, e.Boot, e.Trace = "practice-b1-1.bb.2", "practice-b1-1", "b3", "bb", "t3"
			}),
		},
		{
			"even that name is taken",
			[]club.Event{
				recorded, club.PracticeRecorded{ID: "practice-b1-1.bb"}, club.PracticeRecorded{ID: "practice-b1-1.bb.2"},
			},
			with(func(c *club.RecordPractice) { c.Bench, c.Boot, c.Trace = "b3", "bb", "t3" }),
			unasked(func(e *club.PracticeRecorded) {
				e.ID, e.Sent, e.Bench, e.Boot, e.Trace = "practice-b1-1.bb.3", "practice-b1-1", "b3", "bb", "t3"
			}),
		},
		{
			"the renamed run comes twice",
			[]club.Event{recorded, club.PracticeRecorded{ID: "practice-b1-1.bb", Bench: "b1", Boot: "bb", Trace: "t2"}},
			with(func(c *club.RecordPractice) { c.Boot, c.Trace = "bb", "t2" }),
			nil,
		},
		{
			"the run that was asked for has the name of one that came unasked",
			[]club.Event{benchOne, carSeven, club.PracticeRecorded{ID: "practice-b1-1", Bench: "b1", Boot: "zz", Trace: "t0"}, armed},
			record(),
			then(func(e *club.PracticeRecorded) { e.ID, e.Sent = "practice-b1-1.aa", "practice-b1-1" }),
		},

		{"a person is erased", nil, club.ErasePerson{Person: "p1"}, []club.Event{erased}},
		{"once is enough", []club.Event{erased}, club.ErasePerson{Person: "p1"}, nil},
		{"a person may be written down", []club.Event{erased}, club.KeepPerson{Person: "p2"}, nil},

		{"nobody agreed to anything", nil, consent(nothing, nothing), nil},
		{"a consent with the person", nil, consent(nothing, photo), []club.Event{agreed(photo)}},
		{"a consent that stays", []club.Event{agreed(photo)}, consent(photo, photo), nil},
		{"a consent of before the log noted any", nil, consent(photo, photo), nil},
		{"the same taken back", nil, consent(photo, nothing), []club.Event{agreed(nothing)}},
		{"two changes at once, of one row", []club.Event{agreed(photo)}, consent(nothing, nothing), []club.Event{agreed(nothing)}},
		{"a row that was changed beside the log", []club.Event{agreed(photo)}, consent(nothing, photo), []club.Event{agreed(photo)}},
		{"a person without a word of consents", []club.Event{agreed(photo)}, club.KeepPerson{Person: "p1"}, nil},
		{
			"several people",
			[]club.Event{agreed(photo)},
			club.KeepPeople{People: []club.KeepPerson{
				{Person: "p1", Was: &photo, Consents: &photo},
				{Person: "p3", Consents: &photo},
				{Person: "p2", Was: &photo, Consents: &nothing},
			}},
			[]club.Event{
				club.ConsentsChanged{Person: "p3", Consents: photo, By: "o"}, club.ConsentsChanged{Person: "p2", Consents: nothing, By: "o"},
			},
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			events, err := club.Decide(given(test.given...), test.when, meet.Meta{Actor: "o", NowUS: clubStart})
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(test.then, events); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// TestRefused: what the rules say no to, each with its code.
func TestRefused(t *testing.T) {
	bad := func(change func(*day.Bench)) club.Command {
		b := bench("b1", 1)
		change(&b)
		return club.RegisterBench{Bench: b}
	}
	var others []club.Event // rollers of 92, 94 and 95 mm around
	for i, um := range []int64{95_000, 92_000, 94_248} {
		b := bench(day.BenchID(fmt.Sprint("b", i+2)), i+2)
		b.CircumferenceUM = um
		others = append(others, club.BenchRegistered{Bench: b})
	}
	roller := func(um int64) club.Command { return bad(func(b *day.Bench) { b.CircumferenceUM = um }) }
	car := func(id day.CarID, number int, wheel int64) club.Command {
		return club.RegisterCar{Car: club.Car{ID: id, Number: number, WheelUM: wheel}}
	}
	tests := []struct {
		name  string
		given []club.Event
		when  club.Command
		code  refusal.Code
	}{
		{"a bench without an id", nil, bad(func(b *day.Bench) { b.ID = "" }), "bad-id"},
		{"a bench without a number", nil, bad(func(b *day.Bench) { b.Number = 0 }), "bench-settings"},
		{"a roller of nothing", nil, bad(func(b *day.Bench) { b.CircumferenceUM = 0 }), "bench-settings"},
		{"a roller without marks", nil, bad(func(b *day.Bench) { b.Marks = 0 }), "bench-settings"},
		{"a number that is taken", []club.Event{benchOne}, club.RegisterBench{Bench: bench("b2", 1)}, "bench-number"},
		{
			"a number that was taken meanwhile",
			[]club.Event{benchOne, retired, club.BenchRegistered{Bench: bench("b2", 1)}},
			club.RegisterBench{Bench: bench("b1", 1)},
			"bench-number",
		},
		{"a slipped decimal point", others, roller(942_480), "bench-unlike"},
		{"a diameter in place of a circumference", others, roller(30_000), "bench-unlike"},
		{"a bench to retire", nil, club.RetireBench{Bench: "b1"}, "no-bench"},
		{"a bench to retire twice", []club.Event{benchOne, retired}, club.RetireBench{Bench: "b1"}, "bench-retired"},

		{"a car without an id", nil, car("", 1, 0), "bad-id"},
		{"a car number below 1", nil, car("c", 0, 0), "car-number"},
		{"a car number of five digits", nil, car("c", 10_000, 0), "car-number"},
		{"a wheel of less than nothing", nil, car("c", 1, -1), "car-wheel"},
		{"a wheel of more than a metre", nil, car("c", 1, 1_000_001), "car-wheel"},
		{"a car number that is taken", []club.Event{carSeven}, car("c", 7, 0), "car-taken"},

		{"a bench to arm", nil, club.ArmPractice{Bench: "b1", RaceUS: 60_000_000}, "no-bench"},
		{"a retired bench to arm", []club.Event{benchOne, retired}, club.ArmPractice{Bench: "b1", RaceUS: 60_000_000}, "bench-retired"},
		{"less than a second", []club.Event{benchOne}, club.ArmPractice{Bench: "b1", RaceUS: 999_999}, "practice-time"},
		{"more than four hours", []club.Event{benchOne}, club.ArmPractice{Bench: "b1", RaceUS: 4*3600*1_000_000 + 1}, "practice-time"},
		{"a number that no car can have", []club.Event{benchOne}, club.ArmPractice{Bench: "b1", Number: -1, RaceUS: 60_000_000}, "car-number"},

		{"an erased person to write down", []club.Event{erased}, club.KeepPerson{Person: "p1"}, "person-erased"},
		{"a person without an id", nil, club.KeepPerson{}, "bad-id"},
		{
			"an erased one among several",
			[]club.Event{erased},
			club.KeepPeople{People: []club.KeepPerson{{Person: "p2", Consents: &club.Consents{Photo: true}}, {Person: "p1"}}},
			"person-erased",
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			events, err := club.Decide(given(test.given...), test.when, meet.Meta{Actor: "o", NowUS: clubStart})
			no, is := refusal.As(err)
			if !is || no.Code != test.code || len(events) > 0 {
				t.Errorf("got %v, %v; want the refusal %s", events, err, test.code)
			}
		})
	}
}

// TestEvolve: what the lists show after a while.
func TestEvolve(t *testing.T) {
	s := given(
		benchTwo, benchOne, carSeven, armed, recorded,
		club.PracticeRecorded{ID: "free", Bench: "b2", Figures: ran(6)},
		club.PracticeArmed{Bench: "b2", Run: "practice-b2-2", RaceUS: 1},
		club.PracticeRecorded{ID: "third", Bench: "b2", Car: "seven", Figures: ran(7)},
		club.CarRegistered{Car: club.Car{ID: "one", Number: 1}},
		club.CarRegistered{Car: club.Car{ID: "seven", Number: 70}},
		erased,
	)
	ids := func(runs []club.Practice) (out []day.RunID) {
		for _, r := range runs {
			out = append(out, r.ID)
		}
		return out
	}
	check := func(what string, want, got any) {
		t.Helper()
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", what, diff)
		}
	}
	check("newest", []day.RunID{"third", "free", "practice-b1-1"}, ids(s.Newest(50)))
	check("the newest two", []day.RunID{"third", "free"}, ids(s.Newest(2)))
	check("none", []day.RunID(nil), ids(s.Newest(0)))
	check("a car's", []day.RunID{"third", "practice-b1-1"}, ids(s.History("seven", 50)))
	check("a car's newest", []day.RunID{"third"}, ids(s.History("seven", 1)))
	check(
		"benches", []club.Bench{{Bench: bench("b1", 1), ChangedUS: clubStart + 1_000_000}, {Bench: bench("b2", 2), ChangedUS: clubStart}},
		s.SortedBenches(),
	)
	check("cars", []club.Car{{ID: "one", Number: 1}, {ID: "seven", Number: 70}}, s.SortedCars())
	check("numbers", map[int]day.CarID{1: "one", 70: "seven"}, maps.Collect(s.Numbers.All()))
	check("armed", map[day.BenchID]club.Armed{"b2": {Run: "practice-b2-2", RaceUS: 1, AtUS: clubStart + 6_000_000}}, s.Armed)
	check("erased", map[day.EntrantID]int64{"p1": clubStart + 10_000_000}, s.Erased)
	check("when", clubStart+int64(4_000_000), s.Runs.At("practice-b1-1").AtUS)

	club.Evolve(s, club.BenchRetired{Bench: "b2"}, clubStart+20_000_000)
	check("a retired bench is armed no more", 0, len(s.Armed))
	check("and not in the list", []club.Bench{{Bench: bench("b1", 1), ChangedUS: clubStart + 1_000_000}}, s.SortedBenches())
	check("position", int64(12), s.Seq)
}

func stateJSON(t testing.TB, s *club.State) []byte {
	t.Helper()
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// seal makes the record of an event that follows a log.
func seal(t testing.TB, log []journal.Record, e club.Event, atUS int64) journal.Record {
	t.Helper()
	var head journal.Head
	if len(log) > 0 {
		head = log[len(log)-1].Head()
	}
	data, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	r, err := journal.Seal(head, journal.Envelope{
		Stream: "harbour/club", Seq: head.Seq + 1, Type: e.Type(), V: club.VersionOf(e.Type()), Time: atUS, Actor: "organiser",
		Command: "0190a0c0-0000-7000-8000-000000000001", Data: data,
	})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// refold reads a log from its stored bytes.
func refold(t testing.TB, log []journal.Record) *club.State {
	t.Helper()
	s := club.New()
	var head journal.Head
	for _, r := range log {
		var err error
		if head, err = head.Follow(r); err != nil {
			t.Fatal(err)
		}
		e, err := r.Open()
		if err != nil {
			t.Fatal(err)
		}
		event, err := club.Decode(e.Type, e.V, e.Data)
		if err != nil {
			t.Fatal(err)
		}
		club.Evolve(s, event, e.Time)
	}
	return s
}
