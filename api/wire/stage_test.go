package wire_test

import (
	"encoding/json"
	"reflect"
	"regexp"
	"testing"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
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
	{"a knockout", `{"kind":"knockout","race_s":60,"lanes":2,"entries":16,"third_place":true,"plate":true,"legs":2}`},
	{"a knockout with seeds", `{"kind":"knockout","race_s":60,"lanes":2,"seeding":"hand","seeds":4}`},
	{"a double elimination", `{"kind":"double-elimination","race_s":60,"lanes":2}`},
	{"a round robin", `{"kind":"round-robin","race_s":60,"lanes":2,"cycles":2,"points":{"win":3,"draw":1,"loss":0},"tie_breaks":["direct","scored"]}`},
	{"a Swiss", `{"kind":"swiss","race_s":60,"lanes":2,"rounds":5,"late":"no","tie_breaks":["buchholz"]}`},
	{"rounds for points", `{"kind":"points-rounds","race_s":60,"lanes":6,"rounds":4,"lane_design":true,"place_points":[5,3,0],"tie_breaks":["wins","next-best"]}`},
	{"heats", `{"kind":"heats","race_s":60,"lanes":6,"heats":4,"heat_order":"circle","advance":2,"next_best":2,"b_final":true}`},
	{"groups", `{"kind":"groups","race_s":60,"lanes":2,"groups":4,"cycles":1}`},
	{"groups with clubs apart", `{"kind":"groups","race_s":60,"lanes":2,"groups":4,"cycles":1,"separate_clubs":true}`},
	{"a group with points for a loss", `{"kind":"groups","race_s":60,"lanes":2,"groups":2,"cycles":1,"points":{"win":4,"draw":2,"loss":1}}`},
}

// A stage of every form is read, planned and shown again as it was sent.
func TestStagesComeBackAsSent(t *testing.T) {
	for _, test := range sentStages {
		t.Run(test.name, func(t *testing.T) {
			sent := test.read()
			d := day.Division{ID: "junior", Name: "Junior", Class: day.CarClass{LapUM: 20_000_000}, Stages: []day.Stage{wire.ReadStage(sent)}}
			if sent.Entries != nil {
				first := wire.ReadStage(sentStages[0].read())
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
			same(t, "as planned", last, wire.ReadStage(wire.ShowStage(last)))
		})
	}
}

// TestEverySettingOfAStageIsSent: the examples above name every setting that the
// contract has and every one that the domain keeps.
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
	missing(reflect.TypeFor[day.Stage](), func(b gen.StageBody) any { return wire.ReadStage(b) })
}

// inside is leaves of a struct whose type may be special.
func inside(v reflect.Value, see func(path string, v reflect.Value)) {
	for i := range v.NumField() {
		if f := v.Type().Field(i); f.IsExported() {
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
			if f := of.Field(i); f.IsExported() {
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
