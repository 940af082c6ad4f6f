package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

// ShowNotes shows sentences of a report with their English.
func ShowNotes(list []fairness.Note) []gen.Note {
	out := []gen.Note{}
	for _, n := range list {
		shown := gen.Note{Code: string(n.Code), Says: n.Says()}
		if len(n.Args) > 0 {
			args := make(map[string]string, len(n.Args))
			for _, a := range n.Args {
				args[a.Name] = a.Value
			}
			shown.Args = &args
		}
		out = append(out, shown)
	}
	return out
}

// ShowSays shows sentences of the domain by their code.
func ShowSays(list []*refusal.Refusal) []gen.Says {
	out := []gen.Says{}
	for _, r := range list {
		line := gen.Says{Code: string(r.Code), Says: r.Error()}
		if len(r.Args) > 0 {
			args := map[string]string{}
			for _, a := range r.Args {
				args[a.Name] = a.Value
			}
			line.Args = &args
		}
		out = append(out, line)
	}
	return out
}
