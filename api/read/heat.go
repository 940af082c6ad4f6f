package read

import (
	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// heat is what is kept of a heat: as lists have it and as a bracket has it.
type heat struct {
	at        int64
	alone     []byte
	inBracket []byte
}

// heat finds what is kept of a heat, as long as it holds.
func (m *kept) heat(v view.MeetView, id day.HeatID) *heat {
	changed := v.State.Changed.Heat(id, v.State.Heats[id].Division)
	h := m.heats[id]
	if h == nil || changed > h.at {
		m.computed("heat/" + string(id))
		h = &heat{at: v.State.Seq, alone: encode(v.Heat(id))}
		m.heats[id] = h
	}
	return h
}

// bracketHeat is a heat of a bracket. One that is drawn says of itself everything that
// it shows; one that is to come follows from others.
func (m *kept) bracketHeat(v view.MeetView, h programme.RoundHeat) []byte {
	if _, drawn := v.State.Heats[h.ID]; !drawn {
		return encode(v.BracketHeat(h))
	}
	kept := m.heat(v, h.ID)
	if kept.inBracket == nil {
		kept.inBracket = encode(v.BracketHeat(h))
	}
	return kept.inBracket
}

func (m *kept) heatList(v view.MeetView, ids []day.HeatID) [][]byte {
	out := make([][]byte, 0, len(ids))
	for _, id := range ids {
		out = append(out, m.heat(v, id).alone)
	}
	return out
}

func (m *kept) allHeats(v view.MeetView) *text {
	var ids []day.HeatID
	for _, h := range v.State.SortedHeats() {
		ids = append(ids, h.ID)
	}
	return must(assemble(gen.HeatList{}, list{"heats", m.heatList(v, ids)}))
}

// board is the call board.
func (m *kept) board(v view.MeetView) *text {
	frame, b := v.Called()
	frame.Racing, frame.Called, frame.Next, frame.Posted = nil, nil, nil, nil
	return must(assemble(
		frame, list{"racing", m.heatList(v, b.Racing)}, list{"called", m.heatList(v, b.Called)},
		list{"next", m.heatList(v, b.Next)}, list{"posted", m.heatList(v, b.Posted)},
	))
}
