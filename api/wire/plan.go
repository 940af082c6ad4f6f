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
		Tasks: showTasks(p.Tasks), Adults: Opt(p.Adults),
	}
}

// ReadPlan reads what is planned of a meet.
func ReadPlan(p gen.Plan) day.Plan {
	return day.Plan{
		Name: p.Name, Place: Deref(p.Place), Date: p.Date, Opens: Deref(p.Opens), Closes: Deref(p.Closes),
		TimeZone: Deref(p.TimeZone), AgeDate: Deref(p.AgeDate), PackingMin: Deref(p.PackingMin), PrizesMin: Deref(p.PrizesMin),
		Tasks: readTasks(Deref(p.Tasks)), Adults: Deref(p.Adults),
	}
}

func showTasks(tasks []day.Task) *[]gen.Task {
	if len(tasks) == 0 {
		return nil
	}
	out := make([]gen.Task, len(tasks))
	for i, t := range tasks {
		out[i] = gen.Task{Kind: Word[gen.TaskKind](t.Kind), Minutes: t.Minutes, At: Opt(t.At), Until: Opt(t.Until)}
	}
	return &out
}

func readTasks(tasks []gen.Task) []day.Task {
	var out []day.Task
	for _, t := range tasks {
		out = append(out, day.Task{Kind: day.TaskKind(t.Kind), Minutes: t.Minutes, At: Deref(t.At), Until: Deref(t.Until)})
	}
	return out
}
