package rehearsal

import (
	"cmp"
	"context"
	"slices"

	"benchmeet/api/gen"
)

// decide rules on what the list of decisions asks: runs that fit no lane are set
// aside, doubtful ones are raced again while the rules allow it, ties too.
func (d *Day) decide(ctx context.Context) error {
	for {
		var list gen.DecisionList
		if err := d.page(ctx, "/decisions", &list); err != nil {
			return err
		}
		slices.SortFunc(list.Decisions, func(a, b gen.Decision) int {
			return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(str(a.Heat), str(b.Heat)), cmp.Compare(str(a.Run), str(b.Run)))
		})
		ruled := false
		for _, line := range list.Decisions {
			did, err := d.rule(ctx, line)
			if err != nil {
				return err
			}
			ruled = ruled || did
		}
		if !ruled {
			return nil
		}
	}
}

func (d *Day) rule(ctx context.Context, line gen.Decision) (bool, error) {
	switch line.Kind {
	case "waiting-run":
		body := gen.RulingBody{Kind: gen.RulingBodyKindSetAside, Run: line.Run, Reason: gen.Reason{Code: "volunteer-error"}}
		_, err := d.post(ctx, "/rulings", body, "set aside", *line.Run)
		return true, err
	case "doubtful-run":
		counts := gen.RulingBodyCountsRerun
		body := gen.RulingBody{
			Kind: gen.RulingBodyKindGrantRerun, Heat: line.Heat, Entry: &line.Racer.Entry, Counts: &counts,
			Reason: gen.Reason{Code: "missed-pulses"},
		}
		_, err := d.post(ctx, "/rulings", body, "re-run", *line.Run)
		if IsProblem(err, "rerun-limit") {
			return false, nil // the run stands
		}
		return err == nil, err
	case "tie":
		return d.raceTieAgain(ctx, *line.Heat)
	}
	return false, nil
}

func (d *Day) raceTieAgain(ctx context.Context, id string) (bool, error) {
	h, err := d.heat(ctx, id)
	if err != nil {
		return false, err
	}
	counts := gen.RulingBodyCountsRerun
	for _, l := range h.Lanes {
		body := gen.RulingBody{
			Kind: gen.RulingBodyKindGrantRerun, Heat: &id, Entry: &l.Racer.Entry, Counts: &counts, Reason: gen.Reason{Code: "tie"},
		}
		if _, err := d.post(ctx, "/rulings", body, "tie", str(l.Run)); err != nil {
			return false, err
		}
	}
	return true, nil
}

func str(p *string) string {
	if p == nil {
		return ""
	}
	return *p
}
