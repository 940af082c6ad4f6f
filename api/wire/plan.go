package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
)

// ShowPlan shows what is planned of a meet.
func ShowPlan(p day.Plan) gen.Plan {
	return gen.Plan{
		Name: p.Name, Place: Opt(p.Place), Date: p.Date, Opens: Opt(p.Opens), Closes: Opt(p.Closes),
		TimeZone: Opt(p.TimeZone), AgeDate: Opt(p.AgeDate), PackingMin: Opt(p.PackingMin), PrizesMin: Opt(p.PrizesMin),
	}
}

// ReadPlan reads what is planned of a meet.
func ReadPlan(p gen.Plan) day.Plan {
	return day.Plan{
		Name: p.Name, Place: Deref(p.Place), Date: p.Date, Opens: Deref(p.Opens), Closes: Deref(p.Closes),
		TimeZone: Deref(p.TimeZone), AgeDate: Deref(p.AgeDate), PackingMin: Deref(p.PackingMin), PrizesMin: Deref(p.PrizesMin),
	}
}
