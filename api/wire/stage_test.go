package wire_test

import (
	"encoding/json"
	"reflect"
	"regexp"
	"slices"
	"testing"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
)

// sentStage is a stage as an organiser's page sends it.
type sentStage struct{ name, body string }

func (s sentStage) read() gen.StageBody {
	var out gen.StageBody
	if err := json.Unmarshal([]byte(s.body), &out); err != nil {
		panic(err)
	}
	return out
}

var sentStages = []sentStage{
	{"timed rounds", `{"kind":"timed-rounds","race_s":60,"lanes":4,"rounds":3,"rule":"best"}`},
	{"timed rounds by a design", `{"kind":"timed-rounds","race_s":60,"lanes":4,"rounds":3,"rule":"mean","lane_design":true,"late":"no"}`},
	{"a knockout", `{"kind":"knockout","race_s":60,"lanes":2,"entries":16,"third_place":true,"plate":true,"legs":2}`},
	{"a knockout with seeds", `{"kind":"knockout","race_s":60,"lanes":2,"seeding":"hand","seeds":4,"separate_clubs":true,"rule":"best"}`},
	{"a double elimination", `{"kind":"double-elimination","race_s":60,"lanes":2}`},
	{
		"a double elimination with seeds",
		`{"kind":"double-elimination","race_s":60,"lanes":2,"seeding":"rating","seeds":8,"separate_clubs":true}`,
	},
	{
		"a round robin",
		`{"kind":"round-robin","race_s":60,"lanes":2,"cycles":2,"points":{"win":3,"draw":1,"loss":0},"tie_breaks":["direct","scored"]}`,
	},
	{
		"a round robin with seeds",
		`{"kind":"round-robin","race_s":60,"lanes":2,"points":{"win":4,"draw":2,"loss":1},"seeding":"hand","seeds":2}`,
	},
	{"a Swiss", `{"kind":"swiss","race_s":60,"lanes":2,"rounds":5,"late":"no","tie_breaks":["buchholz"]}`},
	{"a Swiss with seeds", `{"kind":"swiss","race_s":60,"lanes":2,"rounds":5,"points":{"win":4,"draw":2,"loss":1},"seeding":"lot","seeds":4}`},
	{
		"rounds for points",
		`{"kind":"points-rounds","race_s":60,"lanes":6,"rounds":4,"lane_design":true,"place_points":[5,3,0],"tie_breaks":["wins","next-best"]}`,
	},
	{"rounds for points that take late entries", `{"kind":"points-rounds","race_s":60,"lanes":6,"rounds":4,"late":"next-round"}`},
	{"heats", `{"kind":"heats","race_s":60,"lanes":6,"heats":4,"heat_order":"circle","advance":2,"next_best":2,"b_final":true}`},
	{"heats with seeds", `{"kind":"heats","race_s":60,"lanes":6,"advance":1,"seeding":"rating","seeds":6}`},
	{"groups", `{"kind":"groups","race_s":60,"lanes":2,"groups":4,"cycles":1}`},
	{
		"groups with clubs apart",
		`{"kind":"groups","race_s":60,"lanes":2,"groups":4,"cycles":1,"separate_clubs":true,"seeding":"hand","seeds":4}`,
	},
	{
		"a group with points for a loss",
		`{"kind":"groups","race_s":60,"lanes":2,"groups":2,"cycles":1,"points":{"win":4,"draw":2,"loss":1},"tie_breaks":["wins"]}`,
	},
}

// A stage of every form is read, planned and shown again as it was sent.
func TestStagesComeBackAsSent(t *testing.T) {
	for _, test := range sentStages {
		t.Run(test.name, func(t *testing.T) {
			sent := test.read()
			d := day.Division{ID: "junior", Name: "Junior", Class: day.CarClass{LapUM: 20_000_000}, Stages: []day.Stage{stageOf(sent)}}
			if sent.Entries != nil {
				first := stageOf(sentStages[0].read())
				d.Stages = []day.Stage{first, d.Stages[0]}
			}
			s := day.New()
			s.Planned = true
			events, err := meet.Decide(s, meet.AddDivision{Division: d}, meet.Meta{})
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range events {
				day.Evolve(s, e, 1)
			}
			planned := s.Divisions["junior"].Stages
			last := planned[len(planned)-1]
			same(t, "as sent", sent, wire.ShowStage(last))
			same(t, "as planned", last, stageOf(wire.ShowStage(last)))
		})
	}
}

// stageOf reads a stage that is known to be a good one.
func stageOf(b gen.StageBody) day.Stage {
	st, err := wire.ReadStage("junior", 1, b)
	if err != nil {
		panic(err)
	}
	return st
}

// divisionOf reads a division that is known to be a good one.
func divisionOf(id string, b gen.DivisionBody) day.Division {
	d, err := wire.ReadDivision(id, b)
	if err != nil {
		panic(err)
	}
	return d
}

// The contract names the forms that there are.
func TestContractNamesTheForms(t *testing.T) {
	spec, err := gen.GetSpec()
	if err != nil {
		t.Fatal(err)
	}
	var named []day.StageKind
	for _, kind := range spec.Components.Schemas["StageBody"].Value.Properties["kind"].Value.Enum {
		named = append(named, day.StageKind(kind.(string)))
	}
	slices.Sort(named)
	same(t, "the forms", programme.Kinds(), named)
}

// TestEverySettingOfAStageIsSent: the examples above name every setting that the
// contract has and every one that a form keeps.
func TestEverySettingOfAStageIsSent(t *testing.T) {
	index := regexp.MustCompile(`\[\d+\]`)
	missing := func(all reflect.Type, of func(gen.StageBody) any) {
		left := map[string]bool{}
		names(all, "", left)
		for _, sent := range sentStages {
			v := reflect.ValueOf(of(sent.read()))
			named := reflect.New(v.Type()).Elem()
			named.Set(v)
			inside(named, func(path string, v reflect.Value) {
				if !v.IsZero() {
					delete(left, index.ReplaceAllString(path, ""))
				}
			})
		}
		for path := range left {
			t.Errorf("no stage that is sent gives %s.%s a value", all, path)
		}
	}
	missing(reflect.TypeFor[gen.StageBody](), func(b gen.StageBody) any { return b })
	for _, kind := range programme.Kinds() {
		form := reflect.TypeOf(programmetest.Stage(kind, nil).Form)
		missing(form, func(b gen.StageBody) any {
			if b.Kind != gen.StageBodyKind(kind) {
				return reflect.Zero(form).Interface()
			}
			return stageOf(b).Form
		})
	}
}

// inside is leaves of a struct whose type may be special.
func inside(v reflect.Value, see func(path string, v reflect.Value)) {
	for i := range v.NumField() {
		switch f := v.Type().Field(i); {
		case f.Anonymous: // what several forms share
			inside(v.Field(i), see)
		case f.IsExported():
			leaves(v.Field(i), f.Name, see)
		}
	}
}

// names are the paths of all fields of a type that hold no further ones.
func names(of reflect.Type, path string, into map[string]bool) {
	switch of.Kind() {
	case reflect.Pointer, reflect.Slice:
		names(of.Elem(), path, into)
	case reflect.Struct:
		for i := range of.NumField() {
			f := of.Field(i)
			if f.Anonymous {
				names(f.Type, path, into)
			} else if f.IsExported() {
				at := f.Name
				if path != "" {
					at = path + "." + f.Name
				}
				names(f.Type, at, into)
			}
		}
	default:
		into[path] = true
	}
}
