package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// Texts finds a free text by its id, "" where it was erased.
type Texts func(id string) string

// textID names a text that is there, so that it can be removed.
func textID(texts Texts, r day.Reason) *string {
	if texts(r.Text) == "" {
		return nil
	}
	return wire.Opt(r.Text)
}

// Rulings are all rulings, oldest first.
func (v MeetView) Rulings(texts Texts) gen.RulingList {
	out := gen.RulingList{Seq: v.Head.Seq, Rulings: []gen.Ruling{}}
	for _, r := range v.State.Rulings {
		out.Rulings = append(out.Rulings, gen.Ruling{
			Number: r.Number, Kind: r.Kind, By: r.By, At: wire.Instant(r.AtUS), Reason: string(r.Reason.Code),
			Text: wire.Opt(texts(r.Reason.Text)), TextId: textID(texts, r.Reason), Heat: wire.Opt(string(r.Heat)), Racer: v.optRacer(r.Entry),
			Run: wire.Opt(string(r.Run)), Division: wire.Opt(string(r.Div)), Correction: wire.Opt(r.Correction),
			Status: wire.Opt(string(r.Status)), PenaltyM: wire.Opt(wire.Metres(r.PenaltyUM)),
			Factors: wire.Opt(r.Factors),
		})
	}
	return out
}

// Protests are all protests, oldest first.
func (v MeetView) Protests(texts Texts) gen.ProtestList {
	out := gen.ProtestList{Seq: v.Head.Seq, Protests: []gen.Protest{}}
	for _, p := range programme.SortedProtests(v.State) {
		out.Protests = append(out.Protests, gen.Protest{
			Id: string(p.ID), Heat: string(p.Heat), Racer: v.optRacer(p.Entry), By: p.LodgedBy,
			At: wire.Instant(p.LodgedUS), Reason: string(p.Reason.Code), Text: wire.Opt(texts(p.Reason.Text)), TextId: textID(texts, p.Reason),
			Ruled: p.Ruled, Upheld: p.Upheld,
		})
	}
	return out
}
