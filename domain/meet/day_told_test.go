package meet_test

import (
	"strings"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

func init() {
	verbs["tell-times"] = func(d *toldDay) { d.do(meet.TellTimes{Reason: day.ReasonCode(d.text("why", ""))}) }
	verbs["reorder"] = func(d *toldDay) { d.do(meet.OrderHeat{Heat: d.heat(), Move: meet.HeatMove(d.text("move", ""))}) }
	verbs["hold"] = func(d *toldDay) { // minutes=10; without: let go
		until := int64(0)
		if minutes := d.whole("minutes", 0); minutes > 0 {
			until = d.now + int64(minutes)*60_000_000
		}
		d.do(meet.HoldHeat{Heat: d.heat(), UntilUS: until})
	}
	verbs["call-sure"] = func(d *toldDay) { d.do(meet.CallHeat{Heat: d.heat(), Sure: true}) }
	verbs["next"] = func(d *toldDay) {
		var ids []string
		for _, id := range board.CallBoardOf(d.s).Next {
			ids = append(ids, string(id))
		}
		d.say("%s", strings.Join(ids, " "))
	}
}
