package measure

// acquisition holds the stamps that have come while no speed is known.
type acquisition struct {
	seeking   bool
	waiting   [seekSize]int64
	waits     int
	anchored  bool // the first of them is counted already
	firstMark int64
	lastRaw   int64 // the last stamp that came while seeking, whatever it was
	failed    int   // searches in a row that found no order
	earlier   int   // times that fewer stamps were tried
	cluster   int   // stamps that follow one another too closely to be passes
}

// seek begins a search from nothing.
func (t *Tracker) seek() {
	t.seeking, t.waits, t.anchored, t.crossing, t.cluster, t.earlier, t.failed = true, 0, false, false, 0, 0, 0
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
	if t.crossing && at-t.from.at < crossUS {
		lock = max(lock, min(0.25*t.pred, crossLockUS)) // it cannot have become that quick yet
	}
	if t.waits > 0 && float64(at-t.lastRaw) < lock || t.cluster > crowded && float64(at-t.lastRaw) < lock {
		t.lastRaw = at
		t.leaveOut(at)
		if t.cluster++; t.cluster == crowded && !(t.anchored && t.waits == 1) {
			// That is no chatter of an edge: the one that it follows is no pass either.
			t.bursts++
			t.waits--
			t.leaveStray(t.waiting[t.waits])
		}
		return
	}
	t.lastRaw, t.cluster = at, 0
	still := float64(stoodStillUS)
	if t.crossing {
		still = max(still, (bridgeMost+bridgeSlack)*t.pred)
	}
	if t.waits > 0 && float64(at-t.waiting[t.waits-1]) > still {
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
		t.open(at)
		t.advance(at, 1)
		t.window.restart(t.steps, at)
		t.seekFrom(at)
		return
	}
	for _, stray := range t.waiting[:t.waits] {
		t.leaveStray(stray)
	}
	t.waits = 0
	t.gather(at)
}

// begin counts the path that the search found.
func (t *Tracker) begin(stamps []int64, s *search) {
	if !t.anchored && !t.crossing {
		for s.falseStart(stamps) {
			copy(s.path[:], s.path[1:s.length+1])
			s.length--
		}
	}
	first, beyond := s.path[0], t.crossing
	gap, next := s.onward(stamps, &t.marks)
	t.predict(gap, max(-0.3*gap, min(0.3*gap, next-gap)))
	t.window.choose(gap)
	t.quicken()
	switch {
	case t.crossing:
		for i := range first.stamp {
			t.leaveStray(stamps[i])
		}
		t.crossTo(stamps, s)
	case !t.anchored:
		for i := range first.stamp {
			t.leaveStray(stamps[i])
		}
		t.last = stamps[first.stamp]
		t.first(t.last)
		t.window.restart(t.steps, t.last)
	case first.stamp > 0:
		for i := 1; i < first.stamp; i++ {
			t.leaveStray(stamps[i])
		}
		t.advance(stamps[first.stamp], 1)
		t.window.restart(t.steps, t.last)
	}
	if !beyond {
		t.firstMark = first.mark + t.lesson.turnBy - t.steps
		t.lesson.turnBy = 0
		for t.firstMark < 0 {
			t.firstMark += int64(t.marks.count) * (1 + -t.firstMark/int64(t.marks.count))
		}
	}
	for i := 1; i <= s.length && !t.closed; i++ {
		for k := s.path[i-1].stamp + 1; k < s.path[i].stamp; k++ {
			t.leaveStray(stamps[k])
		}
		t.bridge(stamps[s.path[i].stamp], s.path[i].passes)
	}
	t.edge = t.nextEdge()
	if t.stepEdge = t.steps; !beyond {
		t.foundStep = t.steps
	}
	t.allowFast()
}
