package day

import (
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/measure"
)

// notInstants are the fields of the state in µs that a wrong clock has no part in.
var notInstants = map[string]string{
	"TimeUS":      "of the last event: that of the ruling itself",
	"ProtestUS":   "a length",
	"CallUS":      "a length",
	"RaceUS":      "a length",
	"DurationUS":  "a length",
	"ValidUS":     "a length",
	"RestUS":      "a length",
	"StartUS":     "by the bench's own clock",
	"ClaimedUS":   "by the clock of who wrote it down",
	"CorrectUS":   "a length",
	"RepairUS":    "a length",
	"ChangeUS":    "a length",
	"MeanUS":      "a length",
	"UStartUS":    "an uncertainty",
	"UTimeUS":     "an uncertainty",
	"FixWithinUS": "a length",
	"SavesUS":     "a length",
}

// filled makes a state in which every instant is at, by walking its types: a new field
// of it is found by its name.
func filled(v reflect.Value, path string, at int64, found map[string]bool, depth int) {
	if depth > 14 || v.Type() == reflect.TypeFor[measure.Figures]() { // by the bench's own clock
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		filled(v.Elem(), path, at, found, depth+1)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		filled(v.Index(0), path, at, found, depth+1)
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		value := reflect.New(v.Type().Elem()).Elem()
		filled(value, path, at, found, depth+1)
		v.SetMapIndex(reflect.Zero(v.Type().Key()), value)
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() {
				continue
			}
			field := v.Field(i)
			if strings.HasSuffix(f.Name, "US") && field.Kind() == reflect.Int64 {
				if _, none := notInstants[f.Name]; !none {
					field.SetInt(at)
					found[path+"."+f.Name] = true
				}
				continue
			}
			filled(field, path+"."+f.Name, at, found, depth+1)
		}
	}
}

// TestEveryInstantIsSetBack: whatever the state remembers of a wrong time is set back,
// what it remembers of a right one stays, and a Clone of before sees nothing of it.
func TestEveryInstantIsSetBack(t *testing.T) {
	const right, wrong, back = 1_000, 9_000, 7_000
	make := func(at int64) *State {
		s := New()
		found := map[string]bool{}
		filled(reflect.ValueOf(s).Elem(), "", at, found, 0)
		if len(found) < 25 {
			t.Fatalf("found only %v", found)
		}
		return s
	}
	for _, tt := range []struct {
		name     string
		at, want int64
	}{{"wrong", wrong, wrong - back}, {"right", right, right}} {
		s := make(tt.at)
		before, kept := make(tt.at), s.Clone()
		(setBack{sinceUS: 5_000, backUS: back}).state(s)
		if diff := cmp.Diff(make(tt.want), s, cmp.Exporter(func(reflect.Type) bool { return true })); diff != "" {
			t.Errorf("%s instants (-want +got):\n%s", tt.name, diff)
		}
		if diff := cmp.Diff(before, kept, cmp.Exporter(func(reflect.Type) bool { return true })); diff != "" {
			t.Errorf("%s instants, a Clone of before (-want +got):\n%s", tt.name, diff)
		}
	}
}

// TestDeadlinesEndAsLongAfterTheirBeginning: one that begun at a right time stays where it
// is, however late it is.
func TestDeadlinesEndAsLongAfterTheirBeginning(t *testing.T) {
	s := New()
	s.Heats["right"] = Heat{CalledUS: 100, DeadlineUS: 6_000, PostedUS: 200, ProtestUntilUS: 7_000}
	s.Heats["wrong"] = Heat{CalledUS: 5_100, DeadlineUS: 6_000, PostedUS: 5_200, ProtestUntilUS: 7_000}
	(setBack{sinceUS: 5_000, backUS: 4_000}).state(s)
	want := map[HeatID]Heat{
		"right": {CalledUS: 100, DeadlineUS: 6_000, PostedUS: 200, ProtestUntilUS: 7_000},
		"wrong": {CalledUS: 1_100, DeadlineUS: 2_000, PostedUS: 1_200, ProtestUntilUS: 3_000},
	}
	if diff := cmp.Diff(want, s.Heats); diff != "" {
		t.Error(diff)
	}
}

// TestWrongSince finds where a clock leapt: the order of all instants stays, whatever
// was right before.
func TestWrongSince(t *testing.T) {
	const minute, year = 60_000_000, int64(365 * 24 * 3600 * 1_000_000)
	for _, tt := range []struct {
		name  string
		times []int64
		now   int64
		want  int64
	}{
		{"wrong from the start", []int64{year, year + minute, year + 90*minute}, 95 * minute, 0},
		{"a leap at noon", []int64{minute, 60 * minute, year + 70*minute, year + 75*minute}, 80 * minute, year + 70*minute},
		{"a leap after a long lunch", []int64{minute, 60 * minute, 130 * minute, year + 131*minute}, 140 * minute, year + 131*minute},
		{"set up the evening before, an hour ahead", []int64{60 * minute, 780 * minute, 790 * minute}, 740 * minute, 780 * minute},
		{"an hour ahead all morning", []int64{60 * minute, 65 * minute, 100 * minute, 135 * minute, 170 * minute}, 120 * minute, 0},
	} {
		s := New()
		for _, at := range tt.times {
			s.rests = s.rests.until(s.TimeUS, at)
			s.TimeUS = at
		}
		got := WrongSinceUS(s, tt.now)
		if got != tt.want {
			t.Errorf("%s: since %d, want %d", tt.name, got, tt.want)
		}
		b := setBack{got, s.TimeUS - tt.now}
		last := int64(0)
		for _, at := range tt.times {
			b.instant(&at)
			if at < last || at > tt.now {
				t.Errorf("%s: %v come out of order", tt.name, tt.times)
			}
			last = at
		}
	}
}
