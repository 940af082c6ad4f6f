package day

import "benchmeet/domain/refusal"

// Ground is why a pack or a car was refused, as an event holds it: a code of the
// catalogue with its arguments, so that every screen can say it in its own words.
type Ground struct {
	Code string `json:"code"`
	// Args are names and values in turn.
	Args []string `json:"args,omitempty"`
}

// Says is the ground as a refusal, whose sentence stands in the catalogue.
func (g Ground) Says() *refusal.Refusal {
	pairs := make([]any, len(g.Args))
	for i, a := range g.Args {
		pairs[i] = a
	}
	return refusal.New(refusal.Code(g.Code), pairs...)
}

// saysOf are all grounds as refusals, in order.
func saysOf(list []Ground) []*refusal.Refusal {
	var out []*refusal.Refusal
	for _, g := range list {
		out = append(out, g.Says())
	}
	return out
}

// Grounds are refusals as an event keeps them: codes with their arguments.
func Grounds(list []*refusal.Refusal) []Ground {
	var out []Ground
	for _, r := range list {
		g := Ground{Code: string(r.Code)}
		for _, a := range r.Args {
			g.Args = append(g.Args, a.Name, a.Value)
		}
		out = append(out, g)
	}
	return out
}

// Says are the grounds of a try at the inspector's table, as refusals; none is passed.
func (t InspectionTry) Says() []*refusal.Refusal { return saysOf(t.Failed) }

// Says are the grounds on which a pack was refused; none is accepted.
func (c PackCheck) Says() []*refusal.Refusal { return saysOf(c.Refused) }
