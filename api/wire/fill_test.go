package wire_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/programme"
	"benchmeet/domain/trace"
)

// filler makes values of any type. A full one has no zero in any field; a sparse one
// leaves about every second field empty.
type filler struct {
	*rand.Rand
	sparse bool
}

func newFiller(seed uint64, sparse bool) filler {
	return filler{rand.New(rand.NewPCG(seed, 7)), sparse}
}

// special are types whose values are not any text or number.
var special = map[reflect.Type]func(f filler) any{
	reflect.TypeFor[time.Time]():         func(f filler) any { return time.UnixMicro(1 + f.Int64N(1e15)).UTC() },
	reflect.TypeFor[day.ItemUnit]():      func(f filler) any { return []day.ItemUnit{day.UnitMG, day.UnitUM}[f.IntN(2)] },
	reflect.TypeFor[gen.CheckItemUnit](): func(f filler) any { return []gen.CheckItemUnit{"g", "mm"}[f.IntN(2)] },
	// A stage has the settings of one form only; TestStagesComeBackAsSent knows them.
	reflect.TypeFor[gen.StageBody](): func(f filler) any { return sentStages[f.IntN(len(sentStages))].read() },
	reflect.TypeFor[day.Stage]():     func(f filler) any { return stageOf(sentStages[f.IntN(len(sentStages))].read()) },
}

// lawful makes of random values those that the domain can have.
func lawful(of any) {
	switch v := of.(type) {
	case *trace.Totals:
		if v.StartSource == trace.StartNone { // there is no start without a source
			v.StartUS, v.StartDelayUS = 0, 0
		}
	case *programme.TimedRun: // a distance is not negative, nor are the ends of its interval
		for _, um := range []*int64{v.LowUM, v.HighUM} {
			if um != nil {
				*um = max(*um, -*um)
			}
		}
	case *measure.Figures:
		// What a run measured is positive; without an interval it has no ends.
		for _, um := range []*int64{&v.LowUM, &v.HighUM, &v.U95DistanceUM} {
			*um = max(*um, -*um)
		}
		v.NoInterval = false
	}
}

func (f filler) fill(v reflect.Value) {
	made, is := special[v.Type()]
	switch {
	case f.sparse && v.Kind() != reflect.Struct && f.IntN(2) == 0:
		return
	case is:
		v.Set(reflect.ValueOf(made(f)))
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(fmt.Sprintf("w%d", f.IntN(1e6)))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt([]int64{1, 1, -1}[f.IntN(3)] * (1 + f.Int64N(1e12)))
	case reflect.Float64:
		v.SetFloat(float64(1+f.Int64N(1e9)) / 1e3) // the coarsest unit here is a thousandth
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem())
	case reflect.Slice:
		n := 1 + f.IntN(3)
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			f.fill(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				f.fill(v.Field(i))
			}
		}
		lawful(v.Addr().Interface())
	case reflect.Array:
		for i := range v.Len() {
			v.Index(i).SetUint(uint64(1 + f.IntN(255)))
		}
	default:
		panic("cannot fill " + v.Type().String())
	}
}

func filled[T any](seed uint64, sparse bool) T {
	var out T
	newFiller(seed, sparse).fill(reflect.ValueOf(&out).Elem())
	return out
}

// leaves calls see for every field that holds no further ones, and for every pointer
// and list, with its path: "Class.Battery.Windows[0].Cells".
func leaves(v reflect.Value, path string, see func(path string, v reflect.Value)) {
	if _, is := special[v.Type()]; is {
		see(path, v)
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		see(path, v)
		if !v.IsNil() {
			leaves(v.Elem(), path, see)
		}
	case reflect.Slice:
		see(path, v)
		for i := range v.Len() {
			leaves(v.Index(i), fmt.Sprintf("%s[%d]", path, i), see)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if field := v.Type().Field(i); field.IsExported() {
				leaves(v.Field(i), strings.TrimPrefix(path+"."+field.Name, "."), see)
			}
		}
	default:
		see(path, v)
	}
}

// zeros are the fields of a value that are empty.
func zeros(of any) []string {
	p := reflect.New(reflect.TypeOf(of))
	p.Elem().Set(reflect.ValueOf(of))
	var out []string
	leaves(p.Elem(), "", func(path string, v reflect.Value) {
		empty := v.IsZero() || v.Kind() == reflect.Slice && v.Len() == 0
		if empty && !slices.Contains(out, path) {
			out = append(out, path)
		}
	})
	return out
}

func TestFullIsFull(t *testing.T) {
	if got := zeros(filled[day.Division](1, false)); got != nil {
		t.Errorf("a full value has empty fields: %v", got)
	}
	d := filled[day.Division](1, false)
	d.Class.Battery.Windows[0].Load.Min = 0
	if got := zeros(d); !slices.Equal(got, []string{"Class.Battery.Windows[0].Load.Min"}) {
		t.Errorf("one empty field is seen as %v", got)
	}
}

func filledReason() day.Reason { return filled[day.Reason](3, false) }
