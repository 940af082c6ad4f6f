package fairness_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
)

func flags(codes ...measure.Code) []measure.Flag {
	var out []measure.Flag
	for _, c := range codes {
		out = append(out, measure.Flag{Code: c})
	}
	return out
}

func TestAdviseLane(t *testing.T) {
	type brief struct {
		Suggest        fairness.Suggestion
		Reason, Counts string
		Flags          []measure.Flag
		Says           string
		AtLimit        bool
	}
	const official = "This is a suggestion: an official decides, with name and reason."
	tests := []struct {
		name string
		lane fairness.Lane
		want brief
	}{
		{"clean", fairness.Lane{Flags: flags(measure.Bridged, measure.NoSlipAssumed), Limit: 1}, brief{}},
		{
			"missed passes",
			fairness.Lane{Flags: flags(measure.Bridged, measure.ManyBridged), Limit: 1},
			brief{fairness.Rerun, "missed-pulses", "better", flags(measure.ManyBridged), official, false},
		},
		{
			"a doubt",
			fairness.Lane{Flags: flags(measure.Stalled), Limit: 1},
			brief{fairness.Look, "stalled", "better", flags(measure.Stalled), official, false},
		},
		{
			"the heavier one gives the reason",
			fairness.Lane{Flags: flags(measure.Stalled, measure.Restarted, measure.OpenGap), Limit: 1},
			brief{fairness.Rerun, "power", "better", flags(measure.Stalled, measure.Restarted, measure.OpenGap), official, false},
		},
		{
			"a run that may show too much does not stay",
			fairness.Lane{Flags: flags(measure.OpenGap, measure.DoubleSpeed), Limit: 1},
			brief{fairness.Rerun, "missed-pulses", "rerun", flags(measure.OpenGap, measure.DoubleSpeed), official, false},
		},
		{
			"no re-run left",
			fairness.Lane{Flags: flags(measure.OpenGap), Reruns: 2, Limit: 2},
			brief{
				fairness.Rerun, "missed-pulses", "better", flags(measure.OpenGap),
				"The entry has had its 2 re-runs: the rules allow no more. " + official, true,
			},
		},
		{
			"a noisy bench",
			fairness.Lane{Bench: "b3", Verdict: fairness.Noisy, Limit: 1},
			brief{fairness.Look, "bench-fault", "better", nil, "Bench b3 is noisy today. " + official, false},
		},
		{
			"a bench that reads high is for its factor",
			fairness.Lane{Bench: "b3", Verdict: fairness.ReadsHigh, Limit: 1},
			brief{Says: "Bench b3 does not read as the others do: that is for the bench's factor, and no ground for a re-run."},
		},
		{
			"a run that does not fit in",
			fairness.Lane{Suspect: true, Limit: 1},
			brief{
				fairness.Look, "bench-fault", "rerun", nil,
				"This run is far from what the same car does in its other runs, benches allowed for. " + official, false,
			},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := fairness.AdviseHeat([]fairness.Lane{tt.lane}).Lanes[0]
			got := brief{a.Suggest, a.Reason, a.Counts, a.Flags, fairness.Join(a.Why), a.AtLimit}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

func TestAdviseByNeighbours(t *testing.T) {
	h := fairness.AdviseHeat([]fairness.Lane{{Mean: 10, Limit: 1}, {Mean: 5, Limit: 1}, {Mean: 9.9, Limit: 1}, {Limit: 1}})
	var got []fairness.Suggestion
	for _, a := range h.Lanes {
		got = append(got, a.Suggest)
	}
	if diff := cmp.Diff([]fairness.Suggestion{"", fairness.Rerun, "", ""}, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if diff := cmp.Diff(flags(measure.HalfOfOthers), h.Lanes[1].Flags); diff != "" || h.Whole {
		t.Errorf("whole %v (-want +got)\n%s", h.Whole, diff)
	}
}

func TestAdviseWholeHeat(t *testing.T) {
	lane := func(codes ...measure.Code) fairness.Lane { return fairness.Lane{Flags: flags(codes...), Limit: 1} }
	tests := []struct {
		name  string
		lanes []fairness.Lane
		whole bool
	}{
		{"power went in two of four", []fairness.Lane{lane(measure.Restarted), lane(), lane(measure.Restarted), lane()}, true},
		{"in two of five", []fairness.Lane{lane(measure.Restarted), lane(), lane(measure.Restarted), lane(), lane()}, false},
		{"in the only lane", []fairness.Lane{lane(measure.Restarted)}, false},
		{"two benches of their own", []fairness.Lane{lane(measure.OpenGap), lane(measure.OpenGap)}, false},
		{"lamps", []fairness.Lane{lane(measure.MainsFlicker), lane(measure.MainsFlicker), lane(measure.Stalled)}, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			h := fairness.AdviseHeat(tt.lanes)
			if h.Whole != tt.whole || (len(h.Why) > 0) != tt.whole {
				t.Errorf("got %v: %s", h.Whole, fairness.Join(h.Why))
			}
		})
	}
}

// The reasons are ones that a ruling knows, and so is which run counts.
func TestAdviceKnowsWhatAMeetKnows(t *testing.T) {
	known := map[string]bool{"": true}
	for _, r := range day.ReasonCodes() {
		known[string(r)] = true
	}
	for _, c := range measure.Codes() {
		a := fairness.AdviseHeat([]fairness.Lane{{Flags: flags(measure.Code(c.Code)), Limit: 1}}).Lanes[0]
		if !known[a.Reason] {
			t.Errorf("%s: no ruling knows the reason %q", c.Code, a.Reason)
		}
		if a.Counts != "" && a.Counts != string(day.CountsRerun) && a.Counts != string(day.CountsBetter) {
			t.Errorf("%s: no ruling knows %q", c.Code, a.Counts)
		}
	}
}
