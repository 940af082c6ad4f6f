package meet_test

import (
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

func init() {
	verbs["rerun"] = (*toldDay).rerun
	verbs["ask"] = func(d *toldDay) {
		d.do(meet.AskRerun{Heat: d.heat(), Entry: d.entry("n"), Reason: d.reason(day.ReasonOutside)})
	}
	verbs["let-stand"] = func(d *toldDay) {
		d.do(meet.LetRunStand{Heat: d.heat(), Entry: d.entry("n"), Reason: d.reason(day.ReasonMissedPulses)})
	}
	verbs["turn-down"] = func(d *toldDay) {
		d.do(meet.TurnDownRerun{Heat: d.heat(), Entry: d.entry("n"), Reason: d.reason(day.ReasonOther)})
	}
	verbs["let-draw-stand"] = func(d *toldDay) {
		d.do(meet.LetDrawStand{Division: d.division(), Reason: d.reason(day.ReasonOther)})
	}
	verbs["status"] = (*toldDay).status
	verbs["penalise"] = (*toldDay).penalise
	verbs["withdraw"] = (*toldDay).withdraw
	verbs["disqualify"] = (*toldDay).disqualify
	verbs["reinstate"] = func(d *toldDay) {
		d.do(meet.Reinstate{Entry: day.EntryID("e" + d.first()), Reason: d.reason(day.ReasonProtest)})
	}
	verbs["accept"] = (*toldDay).accept
	verbs["set-aside"] = (*toldDay).setAside
	verbs["reassign"] = (*toldDay).reassign
	verbs["swap"] = (*toldDay).swap
	verbs["void"] = (*toldDay).void
	verbs["protest"] = (*toldDay).protest
	verbs["decide-protest"] = (*toldDay).decideProtest
	verbs["pause"] = (*toldDay).pause
	verbs["resume"] = (*toldDay).resume
	verbs["set-clock"] = func(d *toldDay) { d.do(meet.SetClock{Reason: d.reason(day.ReasonPower)}) }
}

func (d *toldDay) rerun() {
	d.do(meet.GrantRerun{
		Heat: d.heat(), Entry: d.entry("n"), Counts: day.RerunCounts(d.text("counts", "rerun")), Reason: d.reason(day.ReasonBenchFault),
	})
}

// status HEAT n=7 is=did-not-start; without "is" a status is taken back.
func (d *toldDay) status() {
	d.do(meet.RuleStatus{
		Heat: d.heat(), Entry: d.entry("n"), Status: day.LaneStatus(d.text("is", "")), Reason: d.reason(day.ReasonNotThere),
	})
}

func (d *toldDay) penalise() {
	d.do(meet.Penalise{Heat: d.heat(), Entry: d.entry("n"), UM: d.um(d.text("m", "0")), Reason: d.reason(day.ReasonFalseStart)})
}

func (d *toldDay) withdraw() {
	d.do(meet.Withdraw{Entry: day.EntryID("e" + d.first()), Reason: d.reason(day.ReasonFamily)})
}

func (d *toldDay) disqualify() {
	d.do(meet.Disqualify{Entry: day.EntryID("e" + d.first()), Reason: d.reason(day.ReasonCarNotLegal)})
}

func (d *toldDay) accept() {
	d.do(meet.AcceptRun{
		Run: day.RunID(d.first()), Heat: day.HeatID(d.text("heat", "")), Entry: d.entry("n"), Reason: d.reason(day.ReasonVolunteer),
	})
}

func (d *toldDay) setAside() {
	d.do(meet.SetRunAside{Run: day.RunID(d.first()), Reason: d.reason(day.ReasonVolunteer)})
}

func (d *toldDay) reassign() {
	d.do(meet.ReassignRun{
		Run: day.RunID(d.first()), Heat: day.HeatID(d.text("heat", "")), Entry: d.entry("n"), Reason: d.reason(day.ReasonWrongCar),
	})
}

func (d *toldDay) swap() {
	d.do(meet.SwapLanes{Heat: d.heat(), A: d.entry("a"), B: d.entry("b"), Reason: d.reason(day.ReasonWrongCar)})
}

func (d *toldDay) void() { d.do(meet.VoidHeat{Heat: d.heat(), Reason: d.reason(day.ReasonPower)}) }

// protest ID heat=HEAT [n=7]: for an entry, or in one's own name.
func (d *toldDay) protest() {
	c := meet.LodgeProtest{
		ID: day.ProtestID(d.first()), Heat: day.HeatID(d.text("heat", "")), Reason: d.reason(day.ReasonConduct), ClaimedUS: d.now,
	}
	if d.td.HasArg("n") {
		c.Entry = d.entry("n")
	}
	d.do(c)
}

func (d *toldDay) decideProtest() {
	d.do(meet.RuleProtest{ID: day.ProtestID(d.first()), Upheld: d.td.HasArg("upheld"), Reason: d.reason(day.ReasonProtest)})
}

func (d *toldDay) pause()  { d.do(meet.Pause{Reason: d.reason(day.ReasonLunch)}) }
func (d *toldDay) resume() { d.do(meet.Resume{KeepBatteries: d.text("batteries", "") == "keep"}) }
