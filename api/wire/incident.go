package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
)

// ShowIncidents shows what follows from what may happen on a bench.
func ShowIncidents(rules []day.IncidentRule) []gen.IncidentRule {
	out := []gen.IncidentRule{}
	for _, i := range rules {
		out = append(out, gen.IncidentRule{
			Incident:    Word[gen.IncidentRuleIncident](i.Incident),
			Consequence: Word[gen.IncidentRuleConsequence](i.Consequence),
		})
	}
	return out
}

// ReadIncidents reads what follows from what may happen on a bench.
func ReadIncidents(rules *[]gen.IncidentRule) []day.IncidentRule {
	var out []day.IncidentRule
	for _, i := range Deref(rules) {
		out = append(out, day.IncidentRule{
			Incident: day.Incident(i.Incident), Consequence: day.Consequence(i.Consequence),
		})
	}
	return out
}
