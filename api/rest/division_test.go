package rest

import (
	"encoding/json"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// A stage of every form is read, planned and shown again as it was sent.
func TestStagesComeBackAsSent(t *testing.T) {
	tests := []struct{ name, stage string }{
		{"timed rounds", `{"kind":"timed-rounds","race_s":60,"lanes":4,"rounds":3,"rule":"best"}`},
		{"a knockout", `{"kind":"knockout","race_s":60,"lanes":2,"third_place":true,"plate":true,"legs":2}`},
		{"a knockout with seeds", `{"kind":"knockout","race_s":60,"lanes":2,"seeding":"hand","seeds":4}`},
		{"a double elimination", `{"kind":"double-elimination","race_s":60,"lanes":2}`},
		{"a round robin", `{"kind":"round-robin","race_s":60,"lanes":2,"cycles":2,"points":{"win":3,"draw":1,"loss":0},"tie_breaks":["direct","scored"]}`},
		{"a Swiss", `{"kind":"swiss","race_s":60,"lanes":2,"rounds":5,"late":"no","tie_breaks":["buchholz"]}`},
		{"rounds for points", `{"kind":"points-rounds","race_s":60,"lanes":6,"rounds":4,"lane_design":true,"place_points":[5,3,0],"tie_breaks":["wins","next-best"]}`},
		{"heats", `{"kind":"heats","race_s":60,"lanes":6,"heats":4,"heat_order":"circle","advance":2,"next_best":2,"b_final":true}`},
		{"groups", `{"kind":"groups","race_s":60,"lanes":2,"groups":4,"cycles":1}`},
		{"groups with clubs apart", `{"kind":"groups","race_s":60,"lanes":2,"groups":4,"cycles":1,"separate_clubs":true}`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var sent gen.StageBody
			if err := json.Unmarshal([]byte(test.stage), &sent); err != nil {
				t.Fatal(err)
			}
			d := wire.ReadDivision("junior", gen.DivisionBody{Name: "Junior", Class: gen.CarClass{LapM: 20}, Stages: []gen.StageBody{sent}})
			s := day.New()
			s.Planned = true
			events, err := meet.Decide(s, meet.AddDivision{Division: d}, meet.Meta{})
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range events {
				day.Evolve(s, e, 1)
			}
			shown := view.MeetView{State: s}.Division(s.Divisions["junior"]).Stages
			if diff := cmp.Diff([]gen.StageBody{sent}, shown); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}
