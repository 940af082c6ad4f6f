package measure

// acquisition holds the stamps that have come while no speed is known.
type acquisition struct {
	seeking   bool
	waiting   [seekSize]int64
	waits     int
	anchored  bool // the first of them is counted already
	firstMark int64
}

// seek begins a search from nothing.
func (t *Tracker) seek() {
	t.seeking, t.waits, t.anchored = true, 0, false
	t.allowFast()
}

// seekFrom begins a search at a stamp that is counted already.
func (t *Tracker) seekFrom(at int64) {
	t.seek()
	t.waiting[0], t.waits, t.anchored = at, 1, true
}

// gather takes a stamp while no speed is known, and settles when enough are there.
func (t *Tracker) gather(at int64) {
	lock := unknownLockUS * t.marks.smallest() / float64(t.marks.count)
	if t.waits > 0 && float64(at-t.waiting[t.waits-1]) < lock {
		t.leaveOut(at)
		return
	}
	if t.waits > 0 && at-t.waiting[t.waits-1] > stoodStillUS {
		t.breakOff(at)
		return
	}
	t.waiting[t.waits] = at
	t.waits++
	if t.waits == seekSize {
		t.settle(false)
	}
}

// breakOff ends a search at a stamp that comes so long after the others that the
// roller stood still in between: they cannot tell the speed after it.
func (t *Tracker) breakOff(at int64) {
	if t.waits > 1 {
		t.settle(true)
	}
	if !t.seeking {
		t.take(at)
		return
	}
	if t.anchored {
		t.open(at, true)
		t.advance(at, 1)
		t.window.restart(t.steps, at)
		t.seekFrom(at)
		return
	}
	t.leaveOut(t.waiting[0])
	t.seek()
	t.gather(at)
}

// settle finds the most likely reading of the waiting stamps and counts it. If
// even that is without order and the run goes on, the oldest stamp is dropped
// instead.
func (t *Tracker) settle(final bool) {
	var s search
	s.run(t.waiting[:t.waits], &t.marks)
	if s.length == 0 {
		return
	}
	if !final && s.cost > seekWorst*float64(s.length) {
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

// discard leaves out the older half of the stamps that wait, but not one that is
// counted already. Half at a time bounds the cost of stamps without order.
func (t *Tracker) discard() {
	from := 0
	if t.anchored {
		from = 1
	}
	for _, at := range t.waiting[from : from+seekSize/2] {
		t.leaveOut(at)
		if t.counts(at) {
			t.disorder++
		}
	}
	t.waits = from + copy(t.waiting[from:], t.waiting[from+seekSize/2:t.waits])
}

// begin counts the path that the search found.
func (t *Tracker) begin(stamps []int64, s *search) {
	if !t.anchored {
		for s.falseStart(stamps) {
			copy(s.path[:], s.path[1:s.length+1])
			s.length--
		}
	}
	first := s.path[0]
	var gaps [2]float64 // the last two
	for i := 1; i <= s.length; i++ {
		from, to := s.path[i-1], s.path[i]
		gaps[0], gaps[1] = gaps[1], float64(stamps[to.stamp]-stamps[from.stamp])/t.marks.spanned(from.mark, to.passes)
	}
	gap := gaps[1]
	trend := 0.0
	if s.length > 1 {
		trend = max(-0.3*gap, min(0.3*gap, ahead(1/gaps[0], gaps[0], 1/gaps[1], gaps[1], 1)-gap))
	}
	t.predict(gap, trend)
	t.window.choose(gap)
	t.quicken()
	switch {
	case !t.anchored:
		for i := range first.stamp {
			t.leaveOut(stamps[i])
		}
		t.last = stamps[first.stamp]
		t.first(t.last)
		t.window.restart(t.steps, t.last)
	case first.stamp > 0:
		for i := 1; i < first.stamp; i++ {
			t.leaveOut(stamps[i])
		}
		t.advance(stamps[first.stamp], 1)
		t.window.restart(t.steps, t.last)
	}
	t.firstMark = first.mark - t.steps
	for t.firstMark < 0 {
		t.firstMark += int64(t.marks.count) * (1 + -t.firstMark/int64(t.marks.count))
	}
	for i := 1; i <= s.length && !t.closed; i++ {
		for k := s.path[i-1].stamp + 1; k < s.path[i].stamp; k++ {
			t.leaveOut(stamps[k])
		}
		t.bridge(stamps[s.path[i].stamp], s.path[i].passes)
	}
	t.edge = t.nextEdge()
	t.stepEdge, t.foundStep = t.steps, t.steps
	t.allowFast()
}
