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
			args := r.Values()
			line.Args = &args
		}
		out = append(out, line)
	}
	return out
}

// ShowNames shows what the arguments of a refusal are called; nil where nobody named one.
func ShowNames(r *refusal.Refusal) *map[string]gen.ThingName {
	names := map[string]gen.ThingName{}
	for arg, name := range r.Names() {
		shown := gen.ThingName{Says: name.Says}
		if len(name.Parts) > 0 {
			parts := make([]gen.NamePart, len(name.Parts))
			for i, part := range name.Parts {
				parts[i] = gen.NamePart{Code: part.Code, Value: Opt(part.Value)}
			}
			shown.Parts = &parts
		}
		names[arg] = shown
	}
	if len(names) == 0 {
		return nil
	}
	return &names
}
