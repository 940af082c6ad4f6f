package meet_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
)

func TestSureRuns(t *testing.T) {
	timed := programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "lanes": 4})
	best := programmetest.Stage("knockout", programmetest.Set{"entries": 8})
	tests := []struct {
		name   string
		n      int
		stages []day.Stage
		want   string
	}{
		{"timed rounds, then the best in a knockout", 20, []day.Stage{timed, best}, "20: 3 | 20: 3 | 8: 1"},
		{"fewer than the knockout takes, so all are in it", 6, []day.Stage{timed, best}, "6: 4 | 6: 3 | 6: 1"},
		{"a knockout sends home after one race", 7, []day.Stage{programmetest.Stage("knockout", nil)}, "7: 1 | 7: 1"},
		{"with a plate after two", 7, []day.Stage{programmetest.Stage("knockout", programmetest.Set{"plate": true})}, "7: 2 | 7: 2"},
		{"or with two legs", 7, []day.Stage{programmetest.Stage("knockout", programmetest.Set{"legs": 2})}, "7: 2 | 7: 2"},
		{"and with both four", 8, []day.Stage{programmetest.Stage("knockout", programmetest.Set{"plate": true, "legs": 2})}, "8: 4 | 8: 4"},
		{"a double elimination", 8, []day.Stage{programmetest.Stage("double-elimination", nil)}, "8: 2 | 8: 2"},
		{"a round robin", 5, []day.Stage{programmetest.Stage("round-robin", programmetest.Set{"cycles": 2})}, "5: 8 | 5: 8"},
		{"groups of three and two", 5, []day.Stage{programmetest.Stage("groups", programmetest.Set{"groups": 2})}, "5: 1 | 5: 1"},
		{"a Swiss of an odd field has a bye", 7, []day.Stage{programmetest.Stage("swiss", programmetest.Set{"rounds": 4})}, "7: 3 | 7: 3"},
		{
			"a Swiss alone", 1,
			[]day.Stage{programmetest.Stage("swiss", programmetest.Set{"rounds": 4})},
			"1: 0 | 1: 0 a round of pairs needs at least 2 entries",
		},
		{
			"heats of many", 12,
			[]day.Stage{
				programmetest.Stage("heats", programmetest.Set{"lanes": 4, "advance": 1, "next_best": 1, "heat_order": bracket.CircleOrder}),
			},
			"12: 1 | 12: 1",
		},
		{
			"too few for the groups", 3,
			[]day.Stage{programmetest.Stage("groups", programmetest.Set{"groups": 2})},
			"3: 0 | 3: 0 2 groups of 3 entries: a group needs at least 2 entries",
		},
		{
			"rounds for points that a design would fit", 7,
			[]day.Stage{programmetest.Stage("points-rounds", programmetest.Set{"rounds": 4, "lanes": 3, "lane_design": true})},
			"7: 4 | 7: 4 fits 3",
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			r := programme.SureRunsWith(day.Division{Stages: test.stages}, test.n)
			got := fmt.Sprintf("%d: %d", r.Entries, r.Runs)
			for _, st := range r.Stages {
				got += fmt.Sprintf(" | %d: %d", st.Entries, st.Runs)
				if st.Says != "" {
					got += " " + st.Says
				}
				if st.Fits > 0 {
					got += fmt.Sprintf(" fits %d", st.Fits)
				}
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}
