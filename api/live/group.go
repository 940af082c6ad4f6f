package live

import (
	"slices"
	"sync"
)

// group is the listeners of a room that asked for the same topics and that one courier
// serves: what changed is put together once for all of them.
type group struct {
	key     string
	room    *room
	courier *courier
	topics  []*topic // of the log
	speeds  []string // topics of live speed; "speed" is all of them

	// Whether the courier has been told of it; guarded by the courier.
	isDue, isLoud bool

	mu        sync.Mutex // held for moments only
	listeners []*listener
	served    int64 // up to which frame all have been sent them, but for those that are slow
}

// delivery is what one look at a group has for its listeners: the frames after one
// number up to another, as bytes that are made once.
type delivery struct {
	after, upTo   int64
	frames        []*frame
	plain, packed []byte
}

func (d *delivery) bytes(packs bool) []byte {
	to := &d.plain
	if packs {
		to = &d.packed
	}
	if *to == nil {
		*to = join(d.frames, packs)
	}
	return *to
}

// due appends the newest frames of the log after a number, the one that changed first in
// front, and says up to which number that is all.
func (g *group) due(after int64, to []*frame) ([]*frame, int64) {
	upTo := g.room.published.Load() // before the topics: what comes meanwhile is for the next look
	for _, t := range g.topics {
		if f := t.newest.Load(); f != nil && f.number > after && f.number <= upTo {
			to = insert(to, f)
		}
	}
	return to, max(after, upTo)
}

// changedAfter says whether there is anything newer than a number.
func (g *group) changedAfter(after int64) bool {
	return slices.ContainsFunc(g.topics, func(t *topic) bool {
		f := t.newest.Load()
		return f != nil && f.number > after
	})
}

// loud is due of live speed.
func (g *group) loud(after int64, to []*frame) ([]*frame, int64) {
	if len(g.speeds) == 0 {
		return to, after
	}
	return g.room.speedsAfter(g.speeds, after, to)
}

// insert keeps frames in the order of their numbers; they are few.
func insert(to []*frame, f *frame) []*frame {
	to = append(to, f)
	for i := len(to) - 1; i > 0 && to[i-1].number > f.number; i-- {
		to[i-1], to[i] = to[i], to[i-1]
	}
	return to
}

// add puts a listener in, and remove takes it out and says whether it was the last.
func (g *group) add(l *listener) {
	g.mu.Lock()
	defer g.mu.Unlock()
	l.group, l.place = g, len(g.listeners)
	g.listeners = append(g.listeners, l)
}

func (g *group) remove(l *listener) (empty bool) {
	g.mu.Lock()
	defer g.mu.Unlock()
	end := len(g.listeners) - 1
	g.listeners[l.place] = g.listeners[end]
	g.listeners[l.place].place = l.place
	g.listeners[end] = nil
	g.listeners = g.listeners[:end]
	return end == 0
}

// visited is how many listeners are taken off a list at a time.
const visited = 32

// each calls do for every listener that was there at the beginning and stays. It holds
// no lock meanwhile, so a group of thousands keeps nobody from coming or going.
func (g *group) each(do func(*listener)) {
	g.mu.Lock()
	n := len(g.listeners)
	g.mu.Unlock()
	// From the end on: who takes the place of one that leaves comes from behind, and was visited.
	var some [visited]*listener
	for n > 0 {
		g.mu.Lock()
		n = min(n, len(g.listeners))
		from := max(0, n-visited)
		count := copy(some[:], g.listeners[from:n])
		g.mu.Unlock()
		for _, l := range some[:count] {
			do(l)
		}
		n = from
	}
}

// deliver sends what changed in the log to all listeners; between is called now and then.
func (g *group) deliver(between func()) {
	g.mu.Lock()
	d := delivery{after: g.served}
	g.mu.Unlock()
	d.frames, d.upTo = g.due(d.after, nil)
	if len(d.frames) == 0 {
		return
	}
	size := 0
	for _, f := range d.frames {
		size += len(f.plain)
	}
	g.mu.Lock()
	g.served = d.upTo
	g.mu.Unlock()
	if len(d.frames) > 1 && size > joinAtMost {
		d.after = -1 // too much for one write: each gets it in turns
	}
	g.each(func(l *listener) {
		l.take(&d)
		between()
	})
}

// speak sends live speed to all listeners that keep up.
func (g *group) speak(between func()) {
	g.each(func(l *listener) {
		l.flush()
		between()
	})
}
