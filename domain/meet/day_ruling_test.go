package meet_test

import "benchmeet/domain/meet"

func init() {
	verbs["rerun"] = (*day).rerun
	verbs["ask"] = func(d *day) {
		d.do(meet.AskRerun{Heat: d.heat(), Entry: d.entry("n"), Reason: d.reason(meet.ReasonOutside)})
	}
	verbs["let-stand"] = func(d *day) {
		d.do(meet.LetRunStand{Heat: d.heat(), Entry: d.entry("n"), Reason: d.reason(meet.ReasonMissedPulses)})
	}
	verbs["turn-down"] = func(d *day) {
		d.do(meet.TurnDownRerun{Heat: d.heat(), Entry: d.entry("n"), Reason: d.reason(meet.ReasonOther)})
	}
	verbs["let-draw-stand"] = func(d *day) {
		d.do(meet.LetDrawStand{Division: d.division(), Reason: d.reason(meet.ReasonOther)})
	}
	verbs["status"] = (*day).status
	verbs["penalise"] = (*day).penalise
	verbs["withdraw"] = (*day).withdraw
	verbs["disqualify"] = (*day).disqualify
	verbs["reinstate"] = func(d *day) {
		d.do(meet.Reinstate{Entry: meet.EntryID("e" + d.first()), Reason: d.reason(meet.ReasonProtest)})
	}
	verbs["accept"] = (*day).accept
	verbs["set-aside"] = (*day).setAside
	verbs["reassign"] = (*day).reassign
	verbs["swap"] = (*day).swap
	verbs["void"] = (*day).void
	verbs["protest"] = (*day).protest
	verbs["decide-protest"] = (*day).decideProtest
	verbs["pause"] = (*day).pause
	verbs["resume"] = (*day).resume
}

func (d *day) rerun() {
	d.do(meet.GrantRerun{
		Heat: d.heat(), Entry: d.entry("n"), Counts: meet.RerunCounts(d.text("counts", "rerun")), Reason: d.reason(meet.ReasonBenchFault),
	})
}

// status HEAT n=7 is=did-not-start; without "is" a status is taken back.
func (d *day) status() {
	d.do(meet.RuleStatus{
		Heat: d.heat(), Entry: d.entry("n"), Status: meet.LaneStatus(d.text("is", "")), Reason: d.reason(meet.ReasonNotThere),
	})
}

func (d *day) penalise() {
	d.do(meet.Penalise{Heat: d.heat(), Entry: d.entry("n"), UM: d.um(d.text("m", "0")), Reason: d.reason(meet.ReasonFalseStart)})
}

func (d *day) withdraw() {
	d.do(meet.Withdraw{Entry: meet.EntryID("e" + d.first()), Reason: d.reason(meet.ReasonFamily)})
}

func (d *day) disqualify() {
	d.do(meet.Disqualify{Entry: meet.EntryID("e" + d.first()), Reason: d.reason(meet.ReasonCarNotLegal)})
}

func (d *day) accept() {
	d.do(meet.AcceptRun{
		Run: meet.RunID(d.first()), Heat: meet.HeatID(d.text("heat", "")), Entry: d.entry("n"), Reason: d.reason(meet.ReasonVolunteer),
	})
}

func (d *day) setAside() {
	d.do(meet.SetRunAside{Run: meet.RunID(d.first()), Reason: d.reason(meet.ReasonVolunteer)})
}

func (d *day) reassign() {
	d.do(meet.ReassignRun{
		Run: meet.RunID(d.first()), Heat: meet.HeatID(d.text("heat", "")), Entry: d.entry("n"), Reason: d.reason(meet.ReasonWrongCar),
	})
}

func (d *day) swap() {
	d.do(meet.SwapLanes{Heat: d.heat(), A: d.entry("a"), B: d.entry("b"), Reason: d.reason(meet.ReasonWrongCar)})
}

func (d *day) void() { d.do(meet.VoidHeat{Heat: d.heat(), Reason: d.reason(meet.ReasonPower)}) }

// protest ID heat=HEAT [n=7]: for an entry, or in one's own name.
func (d *day) protest() {
	c := meet.LodgeProtest{
		ID: meet.ProtestID(d.first()), Heat: meet.HeatID(d.text("heat", "")), Reason: d.reason(meet.ReasonConduct), ClaimedUS: d.now,
	}
	if d.td.HasArg("n") {
		c.Entry = d.entry("n")
	}
	d.do(c)
}

func (d *day) decideProtest() {
	d.do(meet.RuleProtest{ID: meet.ProtestID(d.first()), Upheld: d.td.HasArg("upheld"), Reason: d.reason(meet.ReasonProtest)})
}

func (d *day) pause()  { d.do(meet.Pause{Reason: d.reason(meet.ReasonLunch)}) }
func (d *day) resume() { d.do(meet.Resume{}) }
