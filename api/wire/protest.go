package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// ShowProtest shows a protest with its free text ("" where it was erased) and for
// whom it is lodged.
func ShowProtest(p day.Protest, text string, racer *gen.Racer) gen.Protest {
	return gen.Protest{
		Id: string(p.ID), Heat: string(p.Heat), Racer: racer, By: p.LodgedBy,
		At: Instant(p.LodgedUS), Reason: string(p.Reason.Code), Text: Opt(text), TextId: textID(text, p.Reason),
		Ruled: p.Ruled, Upheld: p.Upheld,
	}
}

// ReadProtest reads a protest; its id may be left out.
func ReadProtest(b gen.LodgeProtest, why day.Reason) meet.LodgeProtest {
	c := meet.LodgeProtest{
		ID: day.ProtestID(Deref(b.Id)), Heat: day.HeatID(b.Heat), Entry: day.EntryID(Deref(b.Entry)), Reason: why,
	}
	if b.Lodged != nil {
		c.ClaimedUS = b.Lodged.UnixMicro()
	}
	return c
}
