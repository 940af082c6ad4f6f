package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
)

// ShowRules shows the rules of a meet.
func ShowRules(r day.Rules) gen.Rules {
	out := gen.Rules{
		ProtestS: Seconds(r.ProtestUS), CallS: Seconds(r.CallUS), RerunsPerEntry: r.RerunsPerEntry, RunsAtLeast: Opt(r.RunsAtLeast),
		Tie: Word[gen.RulesTie](r.Tie), Close: OptWord[gen.RulesClose](r.Close), DidNotFinish: Word[gen.RulesDidNotFinish](r.DidNotFinish),
		Benches: Word[gen.RulesBenches](r.Benches), Late: Word[gen.RulesLate](r.Late),
		HandCounts:  Word[gen.RulesHandCounts](r.HandCounts),
		BatteryGate: OptWord[gen.GateRule](r.BatteryGate), InspectionGate: OptWord[gen.GateRule](r.InspectionGate),
	}
	incidents := ShowIncidents(r.Incidents)
	out.Incidents = &incidents
	return out
}

// ReadRules reads the rules of a meet.
func ReadRules(r gen.Rules) day.Rules {
	out := day.Rules{
		ProtestUS: Microseconds(r.ProtestS), CallUS: Microseconds(r.CallS), RerunsPerEntry: r.RerunsPerEntry, RunsAtLeast: Deref(r.RunsAtLeast),
		Tie: day.TieRule(r.Tie), Close: day.CloseRule(Deref(r.Close)), DidNotFinish: day.DidNotFinishRule(r.DidNotFinish),
		Benches: day.BenchPolicy(r.Benches), Late: day.LateRule(r.Late), HandCounts: day.HandRule(r.HandCounts),
		BatteryGate: ReadGate(r.BatteryGate), InspectionGate: ReadGate(r.InspectionGate),
	}
	out.Incidents = ReadIncidents(r.Incidents)
	return out
}
