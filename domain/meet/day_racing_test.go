package meet_test

import (
	"strings"

	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
)

func init() {
	verbs["draw"] = (*toldDay).draw
	verbs["draw-again"] = (*toldDay).drawAgain
	verbs["call"] = (*toldDay).call
	verbs["leave"] = func(d *toldDay) { d.do(meet.LeaveLane{Heat: d.heat(), Entry: d.entry("n")}) }
	verbs["draw-rest"] = func(d *toldDay) {
		d.do(meet.DrawRest{Heat: d.heat(), Reason: d.reason(day.ReasonBenchFault)})
	}
	verbs["call-off"] = (*toldDay).callOff
	verbs["move"] = (*toldDay).move
	verbs["ready"] = (*toldDay).ready
	verbs["not-ready"] = func(d *toldDay) {
		d.do(meet.TakeReadyBack{Heat: d.heat(), Bench: day.BenchID(d.text("bench", ""))})
	}
	verbs["want-official"] = func(d *toldDay) {
		d.do(meet.WantOfficial{Bench: day.BenchID(d.text("bench", "")), Wanted: d.text("came", "") == ""})
	}
	verbs["start"] = (*toldDay).start
	verbs["run"] = (*toldDay).run
	verbs["hand"] = (*toldDay).hand
	verbs["correct-hand"] = func(d *toldDay) {
		d.do(meet.CorrectHandCount{
			Run: day.RunID(d.first()), DistanceUM: d.um(d.text("m", "0")), UDistanceUM: d.um(d.text("u", "5.774")),
			Reason: d.reason(day.ReasonVolunteer), Sure: d.text("sure", "") == "yes",
		})
	}
	verbs["race"] = (*toldDay).race
	verbs["round"] = (*toldDay).round
	verbs["official"] = (*toldDay).official
	verbs["publish"] = (*toldDay).publish
	verbs["end"] = func(d *toldDay) {
		d.do(meet.EndProgramme{Division: d.division(), Reason: d.reason(day.ReasonTime)})
	}
}

func (d *toldDay) draw() { d.do(meet.DrawRound{Division: d.division(), Sure: d.td.HasArg("sure")}) }

func (d *toldDay) drawAgain() {
	c := meet.DrawAgain{Division: d.division(), Reason: d.reason(day.ReasonOther)}
	if len(d.td.CmdArgs) > 1 && len(d.td.CmdArgs[1].Vals) == 0 { // "draw-again junior hand 3 1 2"
		seeds := d.order()
		c.Seeds = &seeds
	}
	d.do(c)
}

func (d *toldDay) call() {
	var benches []day.BenchID
	if arg, there := d.td.Arg("benches"); there {
		for _, b := range arg.Vals {
			benches = append(benches, day.BenchID(b))
		}
	}
	d.do(meet.CallHeat{Heat: d.heat(), Benches: benches, Short: d.td.HasArg("short")})
}

func (d *toldDay) callOff() { d.do(meet.CallOff{Heat: d.heat(), Reason: d.reason(day.ReasonOther)}) }

func (d *toldDay) move() {
	d.do(meet.MoveLane{Heat: d.heat(), Entry: d.entry("n"), Bench: day.BenchID(d.text("bench", ""))})
}

// ready HEAT [bench=b1 n=7 pack=c1]: one bench, or all that are called.
func (d *toldDay) ready() {
	if d.td.HasArg("bench") {
		d.do(
			meet.ConfirmReady{
				Heat: d.heat(), Bench: day.BenchID(d.text("bench", "")), StartNumber: d.whole("n", 0), Pack: day.PackID(d.text("pack", "")),
			},
		)
		return
	}
	d.allReady(d.heat())
	d.say("ok")
}

func (d *toldDay) allReady(heat day.HeatID) {
	for _, l := range d.s.Heats[heat].Lanes {
		if l.State == day.LaneCalled {
			d.must(meet.ConfirmReady{Heat: heat, Bench: l.Bench, StartNumber: d.s.Entries[l.Entry].StartNumber})
		}
	}
}

func (d *toldDay) start() { d.do(meet.StartHeat{Heat: d.heat()}) }

// run HEAT n=7 m=412.3 [mean=6.8 id= bench= boot= trace= flag=]: the run that n's
// lane armed, unless an id is given; mean is its mean speed in m/s.
func (d *toldDay) run() {
	lane := d.lane(d.heat(), d.entry("n"))
	id := day.RunID(d.text("id", string(lane.Armed)))
	f := figures(d.um(d.text("m", "0")))
	f.MeanUMPS = d.um(d.text("mean", "0"))
	if flag := d.text("flag", ""); flag != "" {
		f.Flags = []measure.Flag{{Code: measure.Code(flag)}}
	}
	d.do(meet.RecordRun{
		ID: id, Bench: day.BenchID(d.text("bench", string(lane.Bench))), Boot: d.text("boot", "00000000000000b1"),
		Trace: d.text("trace", "t-"+string(id)), Figures: f,
	})
}

func figures(um int64) measure.Figures {
	return measure.Figures{Method: "stamps/1", DistanceUM: um, UDistanceUM: 5_000, U95DistanceUM: 10_000}
}

func (d *toldDay) lane(heat day.HeatID, entry day.EntryID) day.Lane {
	for _, l := range d.s.Heats[heat].Lanes {
		if l.Entry == entry {
			return l
		}
	}
	return day.Lane{}
}

func (d *toldDay) hand() {
	d.do(meet.RecordHandCount{
		Heat: d.heat(), Entry: d.entry("n"), DistanceUM: d.um(d.text("m", "0")), UDistanceUM: d.um(d.text("u", "5.774")),
		Sure: d.text("sure", "") == "yes",
	})
}

// race HEAT 7=412.3 3=400 ...: calls, confirms, starts, takes the runs; a
// start number without a distance gets 500 m less its number.
func (d *toldDay) race() {
	d.raceHeat(d.heat())
	d.tellOrder(d.heat())
}

func (d *toldDay) raceHeat(heat day.HeatID) {
	for {
		if d.s.Heats[heat].Phase == day.PhaseDrawn {
			d.must(meet.CallHeat{Heat: heat})
		}
		if d.s.Heats[heat].Phase == day.PhaseCalled {
			d.allReady(heat)
			d.must(meet.StartHeat{Heat: heat})
		}
		if d.s.Heats[heat].Phase != day.PhaseRacing {
			return
		}
		for _, l := range d.s.Heats[heat].Lanes {
			if l.State != day.LaneRacing {
				continue
			}
			n := strings.TrimPrefix(d.hash(l.Entry), "#")
			um := int64(500-d.number(n)) * 1_000_000
			if text := d.text(n, ""); text != "" {
				um = d.um(text)
			}
			d.must(meet.RecordRun{
				ID: l.Armed, Bench: l.Bench, Boot: "00000000000000b1", Trace: "t-" + string(l.Armed), Figures: figures(um),
			})
		}
	}
}

// round junior 7=412.3 ...: races every heat of the round that is drawn.
func (d *toldDay) round() {
	stages := d.s.Programmes[d.division()].Stages
	rounds := stages[len(stages)-1].Rounds
	for _, heat := range rounds[len(rounds)-1].Heats {
		d.raceHeat(heat)
		d.tellOrder(heat)
	}
}

func (d *toldDay) official() {
	c := meet.CloseRound{Division: d.division(), Round: d.whole("round", 0)}
	if d.td.HasArg("early") {
		c.Early = &day.Reason{Code: day.ReasonCode(d.text("early", ""))}
	}
	if d.td.HasArg("after") { // the protest time
		d.now += 300_000_000
	}
	d.do(c)
}

func (d *toldDay) publish() { d.do(meet.PublishResults{Division: d.division()}) }
