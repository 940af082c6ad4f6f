package measure

// settle finds the most likely reading of the waiting stamps and counts it. If
// even that is without order and the run goes on, the oldest stamp is dropped
// instead.
func (t *Tracker) settle(final bool) {
	if !final && t.failed > failedMost && !t.orderly() {
		t.discard() // to search noise through and through would take its time
		return
	}
	s := search{first: seekCostFirst}
	if t.crossing {
		s.first = crossCostFirst
		if !final {
			s.most = crossWorst * seekSize
		}
	}
	s.run(t.waiting[:t.waits], &t.marks)
	if !t.anchored && !t.crossing {
		t.settleEarlier(&s)
	}
	if s.length == 0 {
		if s.most > 0 {
			t.discard()
		}
		return
	}
	if !final && (s.cost > seekWorst*float64(s.length) || t.crossing && !t.reached(&s)) {
		t.discard()
		return
	}
	stamps := t.waiting // a copy, as the remaining ones are judged again below
	n := t.waits
	t.seeking = false
	t.begin(stamps[:n], &s)
	end := s.path[s.length].stamp
	t.waits, t.anchored = 0, false
	for _, at := range stamps[end+1 : n] {
		t.take(at)
	}
}

// settleEarlier looks for a better reading of fewer stamps where that of all of them
// has to leave the first ones out or is forced: passes may have been missed in a row
// between the first stamps and the others, which the stamps after it then tell.
func (t *Tracker) settleEarlier(s *search) {
	const tries = 3 // in stamps without any order it would be for nothing
	if t.earlier++; t.earlier > tries {
		return
	}
	least := 4
	if !t.marks.even {
		least += 2 * t.marks.count // so many it takes to tell which mark is which
	}
	if s.length > 0 && s.path[0].stamp == 0 && s.cost <= settleWorst*float64(s.length) {
		return
	}
	for n := t.waits - 1; n >= least; n-- {
		fewer := search{first: seekCostFirst, most: settleWorst * seekSize}
		fewer.run(t.waiting[:n], &t.marks)
		if fewer.length >= least-1 && fewer.path[0].stamp == 0 && fewer.cost <= settleWorst*float64(fewer.length) {
			*s = fewer
			return
		}
	}
}

// failedMost is after how many searches for nothing only stamps are searched that
// look as if there were some order in them.
const failedMost = 3

// orderly reports whether a third of the gaps between the waiting stamps are about
// as long as the one before, as those of a roller with a few faults are.
func (t *Tracker) orderly() bool {
	alike := 0
	for i := 2; i < t.waits; i++ {
		before, gap := t.waiting[i-1]-t.waiting[i-2], t.waiting[i]-t.waiting[i-1]
		if 5*gap > 4*before && 4*gap < 5*before {
			alike++
		}
	}
	return 3*alike >= t.waits
}

// reached reports whether a search beyond a gap has found how the roller moves now.
func (t *Tracker) reached(s *search) bool {
	if s.cost > crossWorst*float64(s.length) {
		return false
	}
	to := s.pace(t.waiting[:t.waits], &t.marks)
	switch {
	case s.multiply(harmonic(t.from.speed, to)):
	case s.thin(harmonic(to.speed, t.from), t, to):
	default:
		return t.believable(t.from, to)
	}
	return true
}

// discard leaves out the older half of the stamps that wait, but not one that is
// counted already. Half at a time bounds the cost of stamps without order.
func (t *Tracker) discard() {
	t.failed++
	from := 0
	if t.anchored {
		from = 1
	}
	for _, at := range t.waiting[from : from+seekSize/2] {
		t.leaveStray(at)
		if t.counts(at) && !t.crossing {
			t.disorder++
		}
	}
	t.waits = from + copy(t.waiting[from:], t.waiting[from+seekSize/2:t.waits])
}
