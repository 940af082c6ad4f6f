package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/programme"
)

// Texts finds a free text by its id, "" where it was erased.
type Texts func(id string) string

// Rulings are all rulings, oldest first.
func (v MeetView) Rulings(texts Texts) gen.RulingList {
	out := gen.RulingList{Seq: v.Head.Seq, Rulings: []gen.Ruling{}}
	for _, r := range v.State.Rulings {
		out.Rulings = append(out.Rulings, wire.ShowRuling(r, texts(r.Reason.Text), v.optRacer(r.Entry)))
	}
	return out
}

// Protests are all protests, oldest first.
func (v MeetView) Protests(texts Texts) gen.ProtestList {
	out := gen.ProtestList{Seq: v.Head.Seq, Protests: []gen.Protest{}}
	for _, p := range programme.SortedProtests(v.State) {
		out.Protests = append(out.Protests, wire.ShowProtest(p, texts(p.Reason.Text), v.optRacer(p.Entry)))
	}
	return out
}
