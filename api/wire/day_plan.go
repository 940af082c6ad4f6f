package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/meet"
)

// ReadTelling reads with what times are told.
func ReadTelling(b gen.TellTimes) meet.TellTimes {
	c := meet.TellTimes{Reason: day.ReasonCode(Deref(b.Reason))}
	if b.Finish != nil {
		c.FinishUS = b.Finish.UnixMicro()
	}
	return c
}

// ReadHeatsOrder reads an order of the heats that wait.
func ReadHeatsOrder(b gen.OrderHeats) meet.OrderHeats {
	c := meet.OrderHeats{}
	for _, id := range b.Order {
		c.Heats = append(c.Heats, day.HeatID(id))
	}
	return c
}

// ReadSupposed reads what a day would be like otherwise.
func ReadSupposed(b gen.LookDayPlan) dayplan.Supposed {
	out := dayplan.Supposed{PauseUS: int64(Deref(b.PauseMin)) * 60_000_000, Improve: Deref(b.Improve), Adults: Deref(b.Adults)}
	for _, id := range Deref(b.BenchesOut) {
		out.Out = append(out.Out, day.BenchID(id))
	}
	for _, id := range Deref(b.BenchesBack) {
		out.Back = append(out.Back, day.BenchID(id))
	}
	for _, id := range Deref(b.Order) {
		out.Order = append(out.Order, day.HeatID(id))
	}
	return out
}

// ReadAdults reads how many adults run the benches.
func ReadAdults(b gen.CountAdults) meet.CountAdults { return meet.CountAdults{Adults: b.Adults} }

// ReadCuts reads which cuts are chosen.
func ReadCuts(b gen.ChooseCuts) meet.ChooseCuts {
	c := meet.ChooseCuts{}
	for _, cut := range b.Cuts {
		c.Cuts = append(c.Cuts, meet.CutRef{Code: dayplan.CutCode(cut.Code), Division: day.DivisionID(cut.Division), Stage: cut.Stage})
	}
	return c
}

// ShowCuts shows which cuts were chosen; nil before any was.
func ShowCuts(list *day.CutList) *gen.ChosenCuts {
	if list == nil || len(list.Cuts) == 0 {
		return nil
	}
	out := gen.ChosenCuts{At: Instant(list.AtUS), Cuts: []gen.ChosenCut{}}
	for _, c := range list.Cuts {
		cut := gen.ChosenCut{
			Code: Word[gen.CutCode](c.Code), Division: string(c.Division), Stage: c.Stage, SavesS: c.SavesUS / 1_000_000,
			FairUntil: OptInstant(c.FairUntilUS),
		}
		if c.RunsBefore > 0 {
			cut.Entries, cut.RunsBefore, cut.RunsAfter = &c.Entries, &c.RunsBefore, &c.RunsAfter
		}
		out.Cuts = append(out.Cuts, cut)
	}
	return &out
}
