package board

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/measure"
)

// signs lead from what the pulses show to what has probably happened. What is in
// doubt and shows nothing of these is the bench's own failing.
var signs = []struct {
	flag     measure.Code
	incident day.Incident
}{
	{measure.EarlyStart, day.FalseStart},
	{measure.NoRise, day.FalseStart},
	{measure.Coasting, day.OffRollers},
	{measure.WentSilent, day.BenchFailed}, // a stall is said of such a run too
	{measure.Stalled, day.Stalled},
}

// IncidentOf says what a doubtful run's pulses look like. It only reads the signs:
// somebody has to have seen it.
func IncidentOf(f measure.Figures) day.Incident {
	for _, sign := range signs {
		if slices.ContainsFunc(f.Flags, func(flag measure.Flag) bool { return flag.Code == sign.flag }) {
			return sign.incident
		}
	}
	return day.BenchFailed
}

// followsFrom is what the rules say of an incident: those of the car class, and where
// it has none for it those of the meet; empty where neither says anything. Both are
// fixed before the first heat.
func followsFrom(s *day.State, d day.DivisionID, i day.Incident) day.Consequence {
	for _, rule := range slices.Concat(s.Divisions[d].Class.Incidents, s.Rules.Incidents) {
		if rule.Incident == i {
			return rule.Consequence
		}
	}
	return ""
}

// incidentReasons are the reasons with which a ruling on an incident is prefilled.
var incidentReasons = map[day.Incident]day.ReasonCode{
	day.OffRollers:  day.ReasonOffRollers,
	day.Stalled:     day.ReasonStalled,
	day.FalseStart:  day.ReasonFalseStart,
	day.BenchFailed: day.ReasonBenchFault,
}

// AskedIncident is what a bench says has happened when it asks for a re-run, as far as it is one
// of the incidents that rules speak of: empty for the other reasons.
func AskedIncident(why day.ReasonCode) day.Incident {
	if why == day.ReasonMissedPulses {
		return day.BenchFailed // the bench did not read what it should
	}
	for _, incident := range []day.Incident{day.OffRollers, day.Stalled, day.FalseStart, day.BenchFailed} {
		if incidentReasons[incident] == why {
			return incident
		}
	}
	return ""
}

// askedTask is a request for a re-run with what the rules say of its reason.
func askedTask(s *day.State, h day.Heat, l day.Lane) Task {
	out := Task{
		Kind: TaskAsked, SinceUS: l.Asked.AtUS, Division: h.Division, Heat: h.ID, Entry: l.Entry, Run: l.Counts, Bench: l.Bench,
		Reason: l.Asked.Reason.Code, By: l.Asked.By,
	}
	if incident := AskedIncident(out.Reason); incident != "" {
		if follows := followsFrom(s, h.Division, incident); follows != "" {
			out.Incident, out.Consequence = incident, follows
		}
	}
	return out
}

// prefilled is a task about a run with what the rules say of its incident.
func prefilled(s *day.State, d Task, i day.Incident) Task {
	d.Incident, d.Consequence, d.Reason = i, followsFrom(s, d.Division, i), incidentReasons[i]
	return d
}
