package timetable

import (
	"math/bits"
	"slices"

	"benchmeet/domain/refusal"
)

// model is a problem in numbers: activities, resources and entries by index, in
// the order of the input.
type model struct {
	p     *Problem
	n     int
	index map[string]int
	dur   []int
	needs [][]use // of resources, for what lasts
	ents  [][]int // of each activity
	pred  [][]arc
	succ  [][]arc
	// before[i] holds all that must end before i starts, directly or not.
	before []set
	topo   []int
	rest   []int // of each entry
	names  []string
	of     [][]int // activities of each entry
	// supply is what outages leave of each resource.
	supply []profile
	// early and late bound start and end: releases, fixed starts, dues, chains.
	early, late []int
	fixed       []int // -1 where not
	// head is a start before which none can be, tail the least time from the end of
	// an activity to the end of the day; headWhy says where a head comes from.
	head, tail       []int
	headWhy, tailWhy []cause
}

type use struct{ res, n int }

// arc leads to an activity, with the time that must lie between.
type arc struct{ to, lag int }

// set is a set of activities.
type set []uint64

func newSet(n int) set       { return make(set, (n+63)/64) }
func (s set) add(i int)      { s[i/64] |= 1 << (i % 64) }
func (s set) has(i int) bool { return s[i/64]&(1<<(i%64)) != 0 }
func (s set) join(o set) {
	for i := range s {
		s[i] |= o[i]
	}
}

func (s set) list(out []int) []int {
	for w, word := range s {
		for ; word != 0; word &= word - 1 {
			out = append(out, w*64+bits.TrailingZeros64(word))
		}
	}
	return out
}

// compile turns a problem into numbers and refuses what cannot be planned at all.
func compile(p *Problem) (*model, error) {
	m := &model{p: p, n: len(p.Activities), index: map[string]int{}}
	if err := m.checkResources(); err != nil {
		return nil, err
	}
	if err := m.checkActivities(); err != nil {
		return nil, err
	}
	if err := m.readEntries(); err != nil {
		return nil, err
	}
	if err := m.readOrder(); err != nil {
		return nil, err
	}
	if err := m.readOutages(); err != nil {
		return nil, err
	}
	if err := m.readFixed(); err != nil {
		return nil, err
	}
	if err := m.setWindows(); err != nil {
		return nil, err
	}
	return m, m.checkFixed()
}

// readEntries numbers entries in the order in which they are first named.
func (m *model) readEntries() error {
	number := map[string]int{}
	m.ents = make([][]int, m.n)
	for i, a := range m.p.Activities {
		for _, name := range a.Entries {
			e, known := number[name]
			if !known {
				e = len(m.names)
				number[name] = e
				m.names = append(m.names, name)
				m.of = append(m.of, nil)
				rest := m.p.Rest.Default
				if own, said := m.p.Rest.Entries[name]; said {
					rest = own
				}
				m.rest = append(m.rest, rest)
			}
			if slices.Contains(m.ents[i], e) {
				return refusal.New("plan-entry-twice", "activity", a.ID, "entry", name)
			}
			m.ents[i] = append(m.ents[i], e)
			m.of[e] = append(m.of[e], i)
		}
	}
	// Looked at last, when all entries are known: a rest for somebody who runs nowhere is a slip
	// of the pen.
	for _, name := range sortedKeys(m.p.Rest.Entries) {
		if m.p.Rest.Entries[name] < 0 || m.p.Rest.Entries[name] > Latest {
			return refusal.New("plan-number", "what", "The rest of entry "+name, "value", m.p.Rest.Entries[name])
		}
		if _, known := number[name]; !known {
			return refusal.New("plan-rest-entry", "entry", name)
		}
	}
	return nil
}

// lag is the rest that two activities need between them: the longest of the
// entries that they share. Shared says whether there is one.
func (m *model) lag(i, j int) (rest int, shared bool) {
	for _, e := range m.ents[i] {
		if slices.Contains(m.ents[j], e) {
			rest, shared = max(rest, m.rest[e]), true
		}
	}
	return rest, shared
}

// readOrder takes the order of activities, refuses circles, and adds the rest of
// entries that two activities in order share, however far apart they stand in it.
func (m *model) readOrder() error {
	if err := m.readAfter(); err != nil {
		return err
	}
	if err := m.sortByOrder(); err != nil {
		return err
	}
	m.before = make([]set, m.n)
	for _, i := range m.topo {
		m.before[i] = newSet(m.n)
		for _, a := range m.pred[i] {
			m.before[i].add(a.to)
			m.before[i].join(m.before[a.to])
		}
	}
	// Only now is all that comes before known: the arcs that are added here follow from
	// the order and change neither it nor the sets.
	for _, list := range m.of {
		for _, j := range list {
			for _, i := range list {
				if m.before[j].has(i) {
					m.addLag(i, j)
				}
			}
		}
	}
	return nil
}

// readAfter makes an arc of each activity that another names, once where it is named twice.
func (m *model) readAfter() error {
	m.pred, m.succ = make([][]arc, m.n), make([][]arc, m.n)
	for i, a := range m.p.Activities {
		for _, name := range a.After {
			j, known := m.index[name]
			if !known {
				return refusal.New("plan-after-unknown", "activity", a.ID, "after", name)
			}
			if !slices.ContainsFunc(m.pred[i], func(x arc) bool { return x.to == j }) {
				m.pred[i] = append(m.pred[i], arc{to: j})
				m.succ[j] = append(m.succ[j], arc{to: i})
			}
		}
	}
	return nil
}

// sortByOrder fills topo: each activity behind all that it waits for (Kahn 1962). Those
// that are never reached wait for one another.
func (m *model) sortByOrder() error {
	open := make([]int, m.n)
	for i := range m.n {
		if open[i] = len(m.pred[i]); open[i] == 0 {
			m.topo = append(m.topo, i)
		}
	}
	for k := 0; k < len(m.topo); k++ {
		for _, s := range m.succ[m.topo[k]] {
			if open[s.to]--; open[s.to] == 0 {
				m.topo = append(m.topo, s.to)
			}
		}
	}
	if len(m.topo) < m.n {
		return refusal.New("plan-circle", "circle", m.circle(open))
	}
	return nil
}

func (m *model) addLag(i, j int) {
	lag, _ := m.lag(i, j)
	for k := range m.pred[j] {
		if m.pred[j][k].to != i {
			continue
		}
		if m.pred[j][k].lag < lag {
			m.pred[j][k].lag = lag
			for l := range m.succ[i] {
				if m.succ[i][l].to == j {
					m.succ[i][l].lag = lag
				}
			}
		}
		return
	}
	m.pred[j] = append(m.pred[j], arc{i, lag})
	m.succ[i] = append(m.succ[i], arc{j, lag})
}

// circle names activities that wait for one another, the first again at the end.
func (m *model) circle(open []int) string {
	at := slices.IndexFunc(open, func(n int) bool { return n > 0 })
	var path []int
	for !slices.Contains(path, at) {
		path = append(path, at)
		for _, a := range m.pred[at] {
			if open[a.to] > 0 {
				at = a.to
				break
			}
		}
	}
	path = append(path[slices.Index(path, at):], at)
	text := ""
	for k, i := range path {
		if k > 0 {
			text += " after "
		}
		text += m.id(i)
	}
	return text
}

func (m *model) id(i int) string { return m.p.Activities[i].ID }
