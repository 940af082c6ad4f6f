package wire_test

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/trace"
)

// tries is how many random values each noun is sent there and back.
const tries = 200

// bothWays holds that a noun can be sent as it is shown: D is the domain's type, S
// what is shown, B what is sent. Apart names fields of D that the contract has
// nothing of, because a meet's course makes them.
func bothWays[D, S, B any](t *testing.T, noun string, show func(D) S, read func(B) D, apart ...string) {
	t.Run(noun, func(t *testing.T) {
		without := func(d D) D {
			for _, name := range apart {
				reflect.ValueOf(&d).Elem().FieldByName(name).SetZero()
			}
			return d
		}
		for seed := range uint64(tries) {
			full := without(filled[D](seed, false))
			shown := show(full)
			if empty := zeros(shown); empty != nil {
				t.Fatalf("of a full %T nothing is shown in %v", full, empty)
			}
			sent := asSent[B](t, shown)
			if empty := zeros(sent); empty != nil {
				t.Fatalf("what is shown of a full %T names nothing for %v", full, empty)
			}
			same(t, "a full value comes back", full, read(sent))

			body := filled[B](seed, false)
			got := read(body)
			if empty := zeros(got); !slices.Equal(empty, apart) {
				t.Fatalf("of a full body nothing is read into %v", empty)
			}
			same(t, "a full body is shown again", body, asSent[B](t, show(got)))

			sparse := without(filled[D](seed, true))
			same(t, "a sparse value comes back", sparse, read(asSent[B](t, show(sparse))))
		}
	})
}

// asSent sends what was shown, without what a body has not (its id, say, which
// stands in the address).
func asSent[B any](t *testing.T, shown any) B {
	t.Helper()
	var out B
	text, err := json.Marshal(shown)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

func same(t *testing.T, what string, want, got any) {
	t.Helper()
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		t.Fatalf("%s (-want +got)\n%s", what, diff)
	}
}

// TestNounsGoBothWays: whoever changes a noun on one side only is told here.
func TestNounsGoBothWays(t *testing.T) {
	bothWays(t, "a plan", wire.ShowPlan, wire.ReadPlan)
	bothWays(t, "rules", wire.ShowRules, wire.ReadRules)
	bothWays(t, "a class", wire.ShowClass, wire.ReadClass)
	bothWays(t, "a class's batteries", wire.ShowClassBattery, wire.ReadClassBattery)
	bothWays(t, "a checklist", wire.ShowChecklist, func(b []gen.CheckItem) []day.CheckItem { return wire.ReadChecklist(&b) })
	bothWays(t, "incidents", wire.ShowIncidents, func(b []gen.IncidentRule) []day.IncidentRule { return wire.ReadIncidents(&b) })
	bothWays(t, "a gate", wire.ShowGate, func(b gen.GateRule) day.GateRule { return wire.ReadGate(&b) })
	bothWays(t, "found items", wire.ShowItemValues, wire.ReadItemValues)
	bothWays(t, "totals", wire.ShowTotals, func(t trace.Totals) trace.Totals { return t })

	// The id of these stands in the address.
	const id = "n1"
	bothWays(t, "a division", func(d day.Division) gen.DivisionBody { return wire.ShowDivision(d) },
		func(b gen.DivisionBody) day.Division { return divisionOf("", b) }, "ID")
	bothWays(t, "a bench", func(b day.Bench) gen.Bench {
		b.ID = id
		shown := wire.ShowBench(b)
		at := time.Unix(1, 0)
		shown.Changed = &at // the club knows it
		return shown
	}, func(b gen.BenchBody) day.Bench { return wire.ReadBench("", b) }, "ID", "OutOfService", "OutReason", "OutSinceUS", "BackUS")
	consentChanges := []club.ConsentChange{{Consents: club.Consents{OnScreen: true, InResults: true, Photo: true}, By: "official-1", AtUS: 1}}
	bothWays(t, "a person", func(p store.Person) gen.Person { p.ID = id; return wire.ShowPerson(p, consentChanges) },
		func(b gen.PersonBody) store.Person { return wire.ReadPerson("", b) }, "ID")
	bothWays(t, "a car", func(c club.Car) gen.Car { c.ID = id; return wire.ShowCar(c) },
		func(b gen.CarBody) club.Car { return wire.ReadCar("", b) }, "ID")
}

func TestIdsComeFromTheAddress(t *testing.T) {
	if got := divisionOf("d1", gen.DivisionBody{}).ID; got != "d1" {
		t.Errorf("a division is %q", got)
	}
	if got := wire.ShowBench(wire.ReadBench("b1", gen.BenchBody{})).Id; got != "b1" {
		t.Errorf("a bench is %q", got)
	}
	if got := wire.ShowPerson(wire.ReadPerson("p1", gen.PersonBody{}), nil).Id; got != "p1" {
		t.Errorf("a person is %q", got)
	}
	if got := wire.ShowCar(wire.ReadCar("c1", gen.CarBody{})).Id; got != "c1" {
		t.Errorf("a car is %q", got)
	}
}

// What a bench's settings are where they are left out (see the contract): 0.05 mm,
// one mark, stamps of a microsecond, a clock within 50 ppm, no factor.
func TestBenchIsUsualWhereNothingIsSaid(t *testing.T) {
	want := day.Bench{ID: "b1", Number: 3, CircumferenceUM: 94_248, UCircumUM: 50, Marks: 1, StampNS: 1000, ClockPPB: 50_000}
	same(t, "a bench", want, wire.ReadBench("b1", gen.BenchBody{Number: 3, CircumferenceMm: 94.248}))
}

// TestChunksGoBothWays: a chunk that can be kept comes back as it was written, in the
// contract's shape.
func TestChunksGoBothWays(t *testing.T) {
	for seed := range uint64(tries) {
		f := newFiller(seed, false)
		c := trace.Chunk{Key: trace.Key{Bench: "b1", Boot: "00000000000000aa", Run: "r1", Number: f.IntN(9)}}
		for at, n := int64(0), f.IntN(50); n > 0; n-- {
			at += f.Int64N(1e6)
			c.Stamps = append(c.Stamps, at)
		}
		if f.IntN(2) == 0 {
			c.Last = &trace.Totals{
				Chunks: c.Key.Number + 1, Stamps: len(c.Stamps), StartSource: trace.StartArrival, StartUS: 5, StartDelayUS: 6,
				DurationUS: 7, Meet: "spring", Car: "12", Lost: 3, RestartsUS: []int64{8}, ClockPPB: -9, UClockPPB: 10,
			}
		}
		body, err := wire.ShowChunk(c)
		if err != nil {
			t.Fatal(err)
		}
		back, err := wire.ReadChunk("b1", body)
		if err != nil {
			t.Fatalf("%s: %v", body, err)
		}
		same(t, "a chunk", c, back)
		var shape gen.Chunk
		strict := json.NewDecoder(bytes.NewReader(body))
		strict.DisallowUnknownFields()
		if err := strict.Decode(&shape); err != nil {
			t.Fatalf("%s is not of the contract: %v", body, err)
		}
		if c.Last != nil && c.Key.Number > 0 && len(c.Stamps) > 0 && zeros(shape) != nil && !slices.Contains(c.Stamps, 0) {
			t.Fatalf("%s has nothing for %v of the contract", body, zeros(shape))
		}
	}
}
