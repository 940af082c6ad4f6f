package view

import (
	"benchmeet/api/gen"
	"benchmeet/domain/meet"
)

// forms adds what only some forms of competition have.
func forms(st meet.Stage, out *gen.StageBody) {
	out.Heats, out.HeatOrder = opt(st.Heats), optWord[gen.StageBodyHeatOrder](st.HeatOrder)
	out.Advance, out.NextBest, out.BFinal = opt(st.Advance), opt(st.NextBest), opt(st.BFinal)
	if len(st.PlacePoints) > 0 {
		out.PlacePoints = &st.PlacePoints
	}
}
