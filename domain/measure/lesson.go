package measure

import "math"

const (
	// lessonMost is how many stamps are kept back at most to learn where the marks
	// are, lessonTurns how many turns without a fault that takes.
	lessonMost  = 128
	lessonTurns = 6
	// lessonMarks is the largest number of marks whose places are learnt.
	lessonMarks = 4
	// lessonSmooth is by how much the time of a turn may change from one mark to the
	// next: more is a missed pass or an extra stamp.
	lessonSmooth = 0.13
	// lessonEven is the largest distance of a mark from its even place, in steps, that
	// is not worth following.
	lessonEven = 0.01
)

// lesson keeps the first stamps of a bench with a few marks back, until they have
// told where the marks are: nobody glues them within a hundredth of a turn. After a
// whole turn the same mark comes back, however they stand; so the time of a turn is
// smooth from mark to mark where a gap is not.
type lesson struct {
	on bool
	// first is the time of a pass of the mark that the places begin with, met the
	// mark that it was taken for; turnBy is by how many marks the first search is
	// put right.
	first       int64
	met, turnBy int64
	stamps      [lessonMost]int64
	n           int
}

// learn takes a stamp of a lesson, and ends it when enough has been seen.
func (t *Tracker) learn(at int64) {
	l := &t.lesson
	l.stamps[l.n] = at
	l.n++
	if l.n%32 == 0 && t.learnt(t.setup.Bench.MarksPerTurn, false) {
		t.endLesson()
		return
	}
	if l.n == lessonMost {
		t.learnt(t.setup.Bench.MarksPerTurn-1, true)
		t.endLesson()
	}
}

// endLesson judges the stamps that were kept back, by what they have told.
func (t *Tracker) endLesson() {
	kept, n := t.lesson.stamps, t.lesson.n
	t.lesson.on, t.lesson.n = false, 0
	t.allowFast()
	if !t.marks.even {
		// In a rise the first search may take one mark for another, where they are
		// nearly even. How the turns went on tells which they are.
		trial := *t
		trial.notes = corrections{}
		for _, at := range kept[:n] {
			trial.take(at)
		}
		if trial.lesson.met > 0 {
			t.lesson.turnBy = int64(t.marks.count) - trial.lesson.met
		}
	}
	for _, at := range kept[:n] {
		t.take(at)
	}
}

// learnt looks for some turns without a fault of a roller with so many marks, the
// newest first, and learns the places of the marks from them. silent is set where
// one mark fewer than stated is tried: that is believed only if a gap is there that
// holds two.
func (t *Tracker) learnt(marks int, silent bool) bool {
	if marks < 2 {
		return false
	}
	var clean [lessonMost]int64
	n := t.lesson.clean(&clean, marks)
	size := lessonTurns*marks + 1
	for from := n - size; from >= 0; from-- {
		stamps := clean[from : from+size]
		if !turnsSmoothly(stamps, marks) {
			continue
		}
		var f places
		if !f.fit(stamps, marks) {
			continue
		}
		part, even := f.parts(marks)
		if silent && !holdsTwo(part[:marks]) {
			return false
		}
		// Marks that stand evenly need no places of their own, and the quicker way takes their stamps.
		if !even || silent {
			t.marks = unevenMarks(part[:marks])
			t.window.marks = int64(marks)
			t.silentMark = silent
			t.lesson.first = stamps[0]
		}
		return true
	}
	return false
}

// clean copies the stamps of the lesson without those that follow another too
// closely to be a mark of their own, and returns how many are left.
func (l *lesson) clean(out *[lessonMost]int64, marks int) int {
	n := 0
	for i, at := range l.stamps[:l.n] {
		// The turn about here, roughly: a fault spoils it, but not by three times.
		near := min(i+marks, l.n-1)
		turn := l.stamps[near] - l.stamps[max(0, near-marks)]
		if n > 0 && float64(at-out[n-1])*float64(marks) < 0.3*float64(turn) {
			continue
		}
		out[n] = at
		n++
	}
	return n
}

// turnsSmoothly reports whether the time of a turn changes little from mark to mark.
func turnsSmoothly(stamps []int64, marks int) bool {
	before := 0.0
	for i := marks; i < len(stamps); i++ {
		turn := float64(stamps[i] - stamps[i-marks])
		if before > 0 && math.Abs(turn-before) > lessonSmooth*before {
			return false
		}
		before = turn
	}
	return true
}

// holdsTwo reports whether one part of a turn is about twice as long as all others.
func holdsTwo(parts []float64) bool {
	long, rest := 0.0, 0.0
	for _, p := range parts {
		rest += p
		long = max(long, p)
	}
	rest = (rest - long) / float64(len(parts)-1)
	return long > 1.6*rest && long < 2.4*rest
}
