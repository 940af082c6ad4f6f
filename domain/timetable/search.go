package timetable

import (
	"math"
	"math/rand/v2"
	"slices"
)

// search looks for short plans: first by priority rules, then by crossing the
// lists of good plans (Hartmann 1998; Valls, Ballestín and Quintanilla 2008) and by
// taking a part of the best one out and putting it back otherwise (Shaw 1998), each
// plan justified. It stops at a plan of the given length, which none can be below.
type search struct {
	m     *model
	d     *decoder
	r     *rand.Rand
	bound int
	o     *Options
	best  *plan
	// units gives names of units; unnamed says that no outage names one, so that this
	// can wait until the end.
	units   []*assigner
	unnamed bool
	people  []*plan
	// walk is where the neighbourhood search stands; it also takes worse plans, the less
	// the later.
	walk   *plan
	rounds int
	stale  int
	style  style
	mark   []bool
	key    []float64
}

const population = 30

// style is how a walk goes: in how many rounds two plans are crossed once, how readily
// a longer plan is taken, and how many of eight steps let an activity overtake another
// rather than move somewhere. What suits depends on the day, so they take turns.
type style struct {
	crossEvery int
	warm       float64
	overtakes  int
}

var styles = []style{{12, 1, 5}, {30, 2, 5}, {4, 0.5, 2}, {12, 3, 2}, {30, 6, 6}, {3, 1, 1}, {60, 4, 7}}

func newSearch(m *model, bound int, o *Options) *search {
	s := &search{
		m: m, d: newDecoder(m), bound: bound, o: o, r: rand.New(rand.NewPCG(o.Seed, 0x7ab1e)),
		mark: make([]bool, m.n), key: make([]float64, m.n), unnamed: true, style: styles[0],
	}
	for r, res := range m.p.Resources {
		if len(res.Units) > 0 {
			a := newAssigner(m, r)
			s.units = append(s.units, a)
			s.unnamed = s.unnamed && !a.named()
		}
	}
	return s
}

func (s *search) done() bool {
	return s.best != nil && s.best.cost.late == 0 && s.best.cost.length <= s.bound
}

// see keeps a plan if it is the best so far and its activities find named units;
// where they do not, it is planned again so that they do.
func (s *search) see(p *plan) {
	if s.best != nil && !p.cost.less(s.best.cost) {
		return
	}
	p = p.clone()
	if !s.unnamed && !s.name(p) {
		again, ok := s.placeUnits(p)
		if !ok || s.best != nil && !again.cost.less(s.best.cost) {
			return
		}
		p = again
	}
	s.best, s.stale = p, 0
}

// name gives a plan its units, if it can.
func (s *search) name(p *plan) bool {
	p.units = nil
	for _, a := range s.units {
		got, ok := a.assign(p.start)
		if !ok {
			return false
		}
		p.units = append(p.units, got)
	}
	return true
}

// begin makes the plans that priority rules give, and that of a standing one.
func (s *search) begin() {
	m := s.m
	if len(s.o.Standing) > 0 {
		s.see(s.standing())
		if !s.unnamed {
			// Moved to the left it may find no names of units, and then had to wait for them.
			if p := s.kept(); p != nil {
				s.see(p)
			}
		}
	}
	for k, rule := range rules {
		key := rule(m)
		for way := range 2 {
			p := s.byKey(key, way == 1)
			s.see(p)
			s.d.justify(p)
			s.see(p)
			s.people = append(s.people, p)
			if s.done() {
				return
			}
		}
		// The time of the first plans is bounded too, once there is one.
		if k > 0 && s.stop() {
			return
		}
	}
	for k := 0; len(s.people) < population && !s.stop() && !s.done(); k++ {
		p := s.byKey(shaken(rules[k%len(rules)](m), 0.3, s.r), s.r.IntN(2) == 0)
		s.d.justify(p)
		s.see(p)
		s.people = append(s.people, p)
		s.rounds++
	}
}

func (s *search) byKey(key []float64, parallel bool) *plan {
	p := &plan{list: make([]int, 0, s.m.n), start: make([]int, s.m.n)}
	if parallel {
		p.list = s.d.parallel(key, p.list, p.start)
	} else {
		p.list = s.d.ordered(key, p.list)
		s.d.serial(p.list, p.start)
	}
	p.cost = s.m.cost(p.start)
	return p
}

// greedy is the length of the plan that the simplest rule gives: in the order of
// the input, whatever can start does.
func (s *search) greedy() *plan {
	return s.byKey(s.m.keys(func(i int) float64 { return float64(i) }), true)
}

func (s *search) stop() bool {
	if s.rounds >= s.o.Rounds && (s.o.Rounds > 0 || s.o.Stop == nil) {
		return true
	}
	return s.o.Stop != nil && s.o.Stop()
}

// firstTurn is how many rounds the walk goes before a small day is looked through as a
// whole, where only a clock ends the search; each further turn is turnsGrow times as long,
// so that at most a third is spent on what a longer one begins anew. firstLook is how long
// it is looked through before any walk: many days are shown to have no shorter plan by then.
const (
	firstTurn = 4000
	turnsGrow = 4
	firstLook = 500
)

// run searches until a bound of the options, or the plan can be no shorter: by a walk, and
// on small days by looking through all plans, for as many rounds each.
func (s *search) run() {
	if s.best == nil || s.o.Rounds == 0 && s.o.Stop == nil {
		return
	}
	if s.m.n > mostExhausted || !s.unnamed || s.o.Rough {
		s.walkFor(math.MaxInt)
		return
	}
	s.exhaust(firstLook)
	turn := firstTurn
	if s.o.Rounds > 0 {
		turn = (s.o.Rounds - s.rounds + 1) / 2
	}
	for ; !s.done() && !s.stop(); turn *= turnsGrow {
		s.walkFor(turn)
		s.exhaust(turn)
	}
}

// walkFor walks and crosses for so many rounds at most.
func (s *search) walkFor(rounds int) {
	for ; rounds > 0 && !s.done() && !s.stop(); rounds-- {
		s.rounds++
		s.stale++
		if s.r.IntN(s.style.crossEvery) == 0 {
			s.cross()
		} else {
			s.step()
		}
	}
}

// cross makes a child of two plans: a stretch of the mother's list in the middle of
// the father's order. It takes the place of the worst.
func (s *search) cross() {
	a, b := s.pick(), s.pick()
	n := s.m.n
	from := s.r.IntN(n)
	to := from + 1 + s.r.IntN(n-from)
	child := &plan{list: make([]int, 0, n), start: make([]int, n)}
	clear(s.mark)
	add := func(list []int, most int) {
		for _, i := range list {
			if len(child.list) == most {
				return
			}
			if !s.mark[i] {
				s.mark[i] = true
				child.list = append(child.list, i)
			}
		}
	}
	// Both lists keep the order of the day, so the child does: whatever must come before an
	// activity stands before it in both.
	add(a.list, from)
	add(b.list, to)
	add(a.list, n)
	// A few neighbours change places, so that two like parents still have a child of its own.
	for range 1 + n/20 {
		if k := s.r.IntN(n); k > 0 && !s.m.before[child.list[k]].has(child.list[k-1]) {
			child.list[k], child.list[k-1] = child.list[k-1], child.list[k]
		}
	}
	s.d.serial(child.list, child.start)
	s.d.justify(child)
	s.see(child)
	// A plan that is there already is not kept twice, or the population would soon be one plan.
	worst := 0
	for k, p := range s.people {
		if slices.Equal(p.start, child.start) {
			return
		}
		if s.people[worst].cost.less(p.cost) {
			worst = k
		}
	}
	if !s.people[worst].cost.less(child.cost) {
		s.people[worst] = child
	}
}

// pick is the better of two of the population.
func (s *search) pick() *plan {
	a, b := s.people[s.r.IntN(len(s.people))], s.people[s.r.IntN(len(s.people))]
	if b.cost.less(a.cost) {
		return b
	}
	return a
}

// step moves a few activities of the plan at hand within its order.
func (s *search) step() {
	if s.walk == nil || s.stale > 1000+15*s.m.n {
		s.walk, s.stale = s.again(), 0
		s.d.justify(s.walk)
		s.style = styles[s.r.IntN(len(styles))]
	}
	w := s.walk
	for k, i := range w.list {
		s.key[i] = float64(k)
	}
	switch k := s.r.IntN(8); {
	case k == 7:
		s.shakeStretch(w)
	case k >= s.style.overtakes:
		reach := 2 + float64(s.m.n)*[]float64{0.05, 0.15, 0.4, 1}[s.r.IntN(4)]
		for range 1 + s.r.IntN(4) {
			s.key[s.r.IntN(s.m.n)] += (2*s.r.Float64() - 1) * reach
		}
	default:
		for range 1 + s.r.IntN(3) {
			s.overtake(w)
		}
	}
	p := s.byKey(s.key, false)
	s.d.justify(p)
	s.see(p)
	if p.cost.late < w.cost.late || p.cost.late == w.cost.late && float64(p.cost.length-w.cost.length) <= s.heat() {
		s.walk = p
	}
}

// again is where the search goes on when it has found nothing better for long: from
// the best plan, from one of the population, or from one of its own with a population
// around it that knows nothing of the others.
func (s *search) again() *plan {
	switch s.r.IntN(3) {
	case 0:
		return s.best.clone()
	case 1:
		return s.pick().clone()
	}
	for k := range s.people {
		p := s.byKey(shaken(rules[k%len(rules)](s.m), 0.6, s.r), s.r.IntN(2) == 0)
		s.d.justify(p)
		s.see(p)
		s.people[k] = p
		s.rounds++
	}
	return s.pick().clone()
}

// heat is how much longer the next plan may be than the one at hand: mostly nothing,
// sometimes a little, as by the rule of Metropolis.
func (s *search) heat() float64 {
	return -s.style.warm * max(0.35, 0.003*float64(s.best.cost.length)) * math.Log(1-s.r.Float64())
}

// shakeStretch moves all that starts in a stretch of time.
func (s *search) shakeStretch(w *plan) {
	from := s.r.IntN(w.cost.length + 1)
	to := from + 1 + w.cost.length/(4+s.r.IntN(12))
	for i, start := range w.start {
		if start >= from && start < to {
			s.key[i] += (2*s.r.Float64() - 1) * float64(s.m.n) * 0.1
		}
	}
}

// overtake puts an activity that has no slack before one that it waited for: the two
// want the same resource or entry, and one ends when the other starts.
func (s *search) overtake(w *plan) {
	m := s.m
	i := s.r.IntN(m.n)
	// From a random place on, the first without slack: only such a one can hold the day up.
	for range m.n {
		if w.last[i] == w.start[i] {
			break
		}
		i = (i + 1) % m.n
	}
	found, number := -1, 0
	for k, start := range w.start {
		end := start + m.dur[k]
		if end > w.start[i] || m.before[i].has(k) || m.dur[k] == 0 {
			continue
		}
		if lag, shared := m.lag(k, i); shared && end+lag == w.start[i] || end == w.start[i] && m.compete(k, i) {
			// Each one found replaces the choice with chance 1/number, so all have the same in the end.
			number++
			if s.r.IntN(number) == 0 {
				found = k
			}
		}
	}
	if found < 0 {
		s.key[i] -= s.r.Float64() * float64(m.n) * 0.2
		return
	}
	if s.r.IntN(2) == 0 {
		s.key[i] = s.key[found] - 0.5
	} else {
		s.key[found] = s.key[i] + 0.5
	}
}

// compete says whether two activities use the same resource.
func (m *model) compete(i, j int) bool {
	for _, u := range m.needs[i] {
		if m.need(j, u.res) > 0 {
			return true
		}
	}
	return false
}
