package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/fairness"
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
