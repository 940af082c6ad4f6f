package programme

import (
	"reflect"
	"testing"

	"benchmeet/domain/day"
)

// TestLinesDifferInAnyField: two lines that differ in one field, whichever it is, are
// not the same, nor are those whose runs do.
func TestLinesDifferInAnyField(t *testing.T) {
	changed := func(t *testing.T, of reflect.Value, name string, check func()) {
		before := reflect.New(of.Type()).Elem()
		before.Set(of)
		switch of.Kind() {
		case reflect.Int, reflect.Int64:
			of.SetInt(7)
		case reflect.String:
			of.SetString("x")
		case reflect.Bool:
			of.SetBool(true)
		case reflect.Pointer:
			of.Set(reflect.New(of.Type().Elem()))
		case reflect.Slice:
			of.Set(reflect.MakeSlice(of.Type(), 1, 1))
		default:
			t.Fatalf("%s is of a kind that is not compared", name)
		}
		check()
		of.Set(before)
	}
	for i := range reflect.TypeFor[Standing]().NumField() {
		var l Standing
		name := reflect.TypeFor[Standing]().Field(i).Name
		changed(t, reflect.ValueOf(&l).Elem().Field(i), name, func() {
			if l.Equal(Standing{}) || (Standing{}).Equal(l) || !l.Equal(l) {
				t.Errorf("a line with another %s is the same", name)
			}
		})
	}
	for i := range reflect.TypeFor[TimedRun]().NumField() {
		l, other := Standing{Runs: []TimedRun{{}}}, Standing{Runs: []TimedRun{{}}}
		name := reflect.TypeFor[TimedRun]().Field(i).Name
		changed(t, reflect.ValueOf(&l.Runs[0]).Elem().Field(i), name, func() {
			if l.Equal(other) || other.Equal(l) {
				t.Errorf("a run with another %s is the same", name)
			}
		})
	}
	seven, again := int64(7), int64(7)
	a, b := Standing{Points: &seven, TooCloseTo: []day.EntryID{"e1"}}, Standing{Points: &again, TooCloseTo: []day.EntryID{"e1"}}
	if !a.Equal(b) {
		t.Error("equal lines are not the same")
	}
}
