package read

import (
	"bytes"
	"encoding/json"
	"strings"
	"sync"
	"time"

	"benchmeet/api/view"
	"benchmeet/domain/day"
)

// kept is what is kept of one meet. All of it is of one state and one edition of names.
type kept struct {
	computed func(what string)
	idle     *time.Timer

	mu        sync.Mutex // guards what follows
	view      view.MeetView
	topics    map[string]*topic
	divisions map[day.DivisionID]*division
	heats     map[day.HeatID]*heat
	runs      map[day.RunID]run
	cars      map[day.EntryID]*car
	busy      busy
	powered   powered
	places    places
}

// topic is what is kept of a topic.
type topic struct {
	text  *text
	at    int64 // the position that it was computed at
	shown *Shown
}

func newKept(computed func(string)) *kept {
	m := &kept{computed: computed}
	m.forget()
	return m
}

// forget drops everything.
func (m *kept) forget() {
	m.topics, m.divisions, m.heats = map[string]*topic{}, map[day.DivisionID]*division{}, map[day.HeatID]*heat{}
	m.runs, m.cars = map[day.RunID]run{}, map[day.EntryID]*car{}
	m.busy, m.powered, m.places = busy{}, powered{}, places{}
}

// take takes in a later state or names. Names of another edition leave nothing of what
// was shown under those of before.
func (m *kept) take(v view.MeetView) {
	if m.view.State == nil {
		m.view = v
		return
	}
	if v.Head.Seq > m.view.Head.Seq {
		m.view.State, m.view.Head = v.State, v.Head
	}
	if v.Names.Edition() > m.view.Names.Edition() {
		m.view.Names = v.Names
		m.forget()
	}
}

// alone is the meet without its position.
func (m *kept) alone() view.MeetView {
	return view.MeetView{ID: m.view.ID, State: m.view.State, Names: m.view.Names}
}

func (m *kept) show(v view.MeetView, name string) (*Shown, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.take(v)
	t := m.topics[name]
	if t != nil && t.shown.Head.Seq == m.view.Head.Seq {
		return t.shown, true
	}
	if t == nil || !m.holds(name, t.at) {
		text, there := m.compute(name)
		if !there {
			delete(m.topics, name)
			return nil, false
		}
		if t == nil {
			t = &topic{text: text}
			m.topics[name] = t
		}
		t.at = m.view.Head.Seq
		if !bytes.Equal(t.text.bytes, text.bytes) {
			t.text = text
		}
	}
	t.shown = &Shown{Head: m.view.Head, text: t.text}
	return t.shown, true
}

// holds says whether what was computed at a position holds in the state as it is.
func (m *kept) holds(name string, at int64) bool {
	s := m.view.State
	kind, of, _ := strings.Cut(name, "/")
	switch kind {
	case "standings", "bracket":
		return s.Changed.Division(day.DivisionID(of)) <= at
	case "heats":
		for d := range s.Divisions {
			if s.Changed.Division(d) > at {
				return false
			}
		}
		return true
	case "entries":
		for d := range s.Divisions {
			if s.Changed.Entries(d) > at {
				return false
			}
		}
		return true
	}
	return false
}

// compute makes the text of a topic; false where there is no such thing.
func (m *kept) compute(name string) (*text, bool) {
	kind, of, _ := strings.Cut(name, "/")
	v := m.alone()
	switch kind {
	case "standings", "bracket":
		d, there := v.State.Divisions[day.DivisionID(of)]
		if !there {
			return nil, false
		}
		m.computed(name)
		if kind == "standings" {
			return m.standings(v, d), true
		}
		return m.bracket(v, d), true
	case "bench":
		return m.bench(v, of)
	case "car":
		return m.carDay(v, day.EntryID(of))
	}
	m.computed(name)
	switch name {
	case "meet":
		return m.meetPage(v), true
	case "board":
		return m.board(v), true
	case "day-plan":
		return must(assemble(view.DayPlan(v))), true
	case "heats":
		return m.allHeats(v), true
	case "runs":
		return m.allRuns(v), true
	case "entries":
		return must(assemble(v.Entries(false))), true
	case "entries/official":
		return must(assemble(v.Entries(true))), true
	}
	return nil, false
}

// must gives a text of a thing of the contract. One that cannot be encoded, or lacks
// its lists, is a mistake of the program.
func must(t *text, err error) *text {
	if err != nil {
		panic(err)
	}
	return t
}

// encode is JSON of a thing of the contract.
func encode(thing any) []byte {
	out, err := json.Marshal(thing)
	if err != nil {
		panic(err) // see must
	}
	return out
}
