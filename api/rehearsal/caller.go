package rehearsal

import (
	"context"
	"net/http"
	"slices"
	"time"

	"benchmeet/api/gen"
)

// caller calls heats, and reads the plan as a volunteer does: how sure it all is would be
// computed anew for an official each time.
type caller struct {
	phone *Client
	path  string
}

// newCaller gives somebody a volunteer's key.
func newCaller(ctx context.Context, d *Day) (caller, error) {
	var made gen.NewToken
	wish := gen.MakeToken{Role: gen.MakeTokenRoleVolunteer, Label: "caller", Benches: &[]gen.ID{d.plan.Benches[0].ID}}
	err := d.desk.do(ctx, http.MethodPost, "/api/v1/tokens", "", wish, &made)
	return caller{&Client{Base: d.desk.Base, Token: made.Secret, HTTP: d.desk.HTTP}, d.meetPath("/day-plan")}, err
}

// waiting are the heats of the plan that wait for their call, in its order.
func (c caller) waiting(ctx context.Context) ([]gen.PlanHeat, error) {
	var plan gen.DayPlan
	if err := c.phone.Get(ctx, c.path, &plan); err != nil {
		return nil, err
	}
	return slices.DeleteFunc(plan.Heats, func(x gen.PlanHeat) bool { return x.Phase != gen.PlanHeatPhaseDrawn }), nil
}

// mayCall are those of the heats that wait whose time has come, in the order of the plan.
func (c caller) mayCall(ctx context.Context, next []gen.Heat) ([]gen.Heat, error) {
	waiting, err := c.waiting(ctx)
	if err != nil {
		return nil, err
	}
	var out []gen.Heat
	for _, x := range waiting {
		i := slices.IndexFunc(next, func(h gen.Heat) bool { return h.Id == x.Heat })
		if i >= 0 && (x.NotBefore == nil || !x.NotBefore.After(time.Now())) {
			out = append(out, next[i])
		}
	}
	return out, nil
}
