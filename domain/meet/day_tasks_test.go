package meet_test

import (
	"strings"

	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/meet"
)

const hourUS = 3_600_000_000

func init() {
	verbs["adults"] = func(d *toldDay) { d.do(meet.CountAdults{Adults: d.number(d.first())}) }
	// tasks set-up=20 lunch=30@12:00 lunch=30@12:00-13:30; expects=3 adults.
	verbs["tasks"] = func(d *toldDay) {
		plan := d.s.Plan
		plan.Tasks = nil
		for _, arg := range d.td.CmdArgs {
			if arg.Key == "expects" {
				plan.Adults = d.number(arg.Vals[0])
				continue
			}
			minutes, hours, _ := strings.Cut(arg.Vals[0], "@")
			at, until, _ := strings.Cut(hours, "-")
			plan.Tasks = append(plan.Tasks, day.Task{Kind: day.TaskKind(arg.Key), Minutes: d.number(minutes), At: at, Until: until})
		}
		d.do(meet.ChangePlan{Plan: plan})
	}
	// choose-cuts junior=fewer-rounds/1 ...
	verbs["choose-cuts"] = func(d *toldDay) {
		c := meet.ChooseCuts{OpensUS: d.now - d.now%hourUS + hourUS}
		for _, arg := range d.td.CmdArgs {
			code, stage, _ := strings.Cut(arg.Vals[0], "/")
			c.Cuts = append(c.Cuts, meet.CutRef{Code: dayplan.CutCode(code), Division: day.DivisionID(arg.Key), Stage: d.number(stage)})
		}
		d.do(c)
	}
}
