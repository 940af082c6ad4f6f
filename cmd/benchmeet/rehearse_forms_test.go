package main

import (
	"encoding/json"
	"testing"

	"benchmeet/api/gen"
	"benchmeet/api/rehearsal"
)

// Every form of competition is played through a real server, with benches that
// fail, siblings and a family that leaves, to a published result.
func TestEveryFormIsPlayedToItsEnd(t *testing.T) {
	forms := []struct{ name, stages string }{
		{"a Swiss", `[{"kind":"swiss","race_s":20,"lanes":2,"rounds":4}]`},
		{"a round robin", `[{"kind":"round-robin","race_s":20,"lanes":2,"cycles":1}]`},
		{
			"groups and a knockout",
			`[{"kind":"groups","race_s":20,"lanes":2,"groups":3},{"kind":"knockout","race_s":20,"lanes":2,"entries":6,"third_place":true}]`,
		},
		{"a knockout with a plate", `[{"kind":"knockout","race_s":20,"lanes":2,"plate":true,"third_place":true}]`},
		{"a knockout of two legs", `[{"kind":"knockout","race_s":20,"lanes":2,"legs":2,"third_place":true}]`},
		{"a double elimination", `[{"kind":"double-elimination","race_s":20,"lanes":2}]`},
		{"heats down to a final", `[{"kind":"heats","race_s":20,"lanes":4,"advance":1,"next_best":1,"b_final":true}]`},
		{
			"heats seeded by times",
			`[{"kind":"timed-rounds","race_s":20,"lanes":4,"rounds":1,"rule":"best"},{"kind":"heats","race_s":20,"lanes":4,"heat_order":"circle","heats":3,"advance":1,"next_best":1}]`,
		},
		{"rounds for points", `[{"kind":"points-rounds","race_s":20,"lanes":4,"rounds":3}]`},
		{"lanes by a design", `[{"kind":"timed-rounds","race_s":20,"lanes":4,"rounds":4,"rule":"mean","lane_design":true}]`},
	}
	for _, form := range forms {
		t.Run(form.name, func(t *testing.T) {
			plan := rehearsal.MakePlan(7, 12, 6)
			var stages []gen.StageBody
			if err := json.Unmarshal([]byte(form.stages), &stages); err != nil {
				t.Fatal(err)
			}
			plan.Divisions[0].Stages = stages
			r := playedByPlan(t, plan)
			for _, found := range r.Invariants {
				if !found.Holds {
					t.Errorf("%s: %s", found.Name, found.Says)
				}
			}
			if len(r.Standings) != 1 || len(r.Standings[0].Lines) < 10 {
				t.Errorf("the standings are %+v, want a line for each of the children who came", r.Standings)
			}
		})
	}
}
