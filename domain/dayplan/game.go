package dayplan

import (
	"math"
	"slices"

	"benchmeet/domain/day"
)

const never = math.MaxInt64

// game plays the rest of a day once, heat by heat. Its slices are kept from one run to the
// next.
type game struct {
	r   *Rest
	len lengths
	now int64
	// free is when each bench may next be called on; by is the heat that has it until then.
	free []int64
	by   []int
	// cars is when each car may next be called, with the heat that it comes from.
	cars []int64
	from []int
	// start, end, on and why are of each heat.
	start, end []int64
	on         [][]int
	why        []Cause
	// called are the heats in the order of their calls; the first standing of them were
	// called before the game began.
	called   []int
	standing int
	// queue are the heats that can be called as far as their round goes, in order.
	queue []int
	// left counts the heats of each round that are not called yet, ends is the end of the
	// last one that is, with lastOf.
	left   []int
	ends   []int64
	lastOf []int
	// next is the first round of each division that is not open; line its rounds.
	lines []line
	// waiting are the drawn heats that wait, in their order.
	waiting []int
	// quiet leaves out what a play need not say: what heats wait for.
	quiet bool
	// breaks are when benches fail in this play; none where nothing is said.
	breaks []stop
	// back is from when on each bench is in service in this play; none where all are.
	back []int64
	// gone is when each car's child goes home in this play; none where all stay.
	gone []int64
	// telling is what the desk tells in this play.
	telling telling
	// riders are the cars of each heat, as far as they are known or dealt out in this play.
	riders [][]int
	// sorted is memory of shadow.
	sorted []int64
	// ate and lastEnd are those of the rest, as the game goes on.
	ate     [][]bool
	lastEnd []int64
	// ready is from when on each heat may be called, because of its round.
	ready []int64
	// way is how the desk of this play calls where a heat finds too few benches.
	way way
}

// line is a division on its way through its rounds.
type line struct {
	rounds []int
	open   int
	// atUS is when the next one is drawn; never while that is not known.
	atUS int64
	// after is the heat that it waited for.
	after int
}

func newGame(r *Rest) *game {
	n := len(r.Heats)
	g := &game{
		r: r, free: make([]int64, len(r.Benches)), by: make([]int, len(r.Benches)), cars: make([]int64, r.cars), from: make([]int, r.cars),
		start: make([]int64, n), end: make([]int64, n), on: make([][]int, n), why: make([]Cause, n), riders: make([][]int, n),
		left: make([]int, len(r.Rounds)), ends: make([]int64, len(r.Rounds)), lastOf: make([]int, len(r.Rounds)), ready: make([]int64, n),
	}
	of := map[day.DivisionID]int{}
	for i, round := range r.Rounds {
		at, there := of[round.Division]
		if !there {
			at = len(g.lines)
			of[round.Division] = at
			g.lines = append(g.lines, line{})
		}
		g.lines[at].rounds = append(g.lines[at].rounds, i)
	}
	return g
}

// run plays the day with some lengths.
func (g *game) run(l lengths) {
	g.len = l
	g.begin()
	if len(g.r.Benches) == 0 {
		return
	}
	for g.now != never {
		g.open()
		g.tell()
		g.now = g.call()
	}
}

// begin puts the day where it stands.
func (g *game) begin() {
	r := g.r
	g.waiting = r.waiting(g.waiting[:0])
	g.now = r.AtUS
	g.called, g.queue = g.called[:0], g.queue[:0]
	for b := range g.free {
		g.free[b], g.by[b] = r.AtUS, -1
		if len(g.back) > 0 {
			g.free[b] = g.back[b]
		}
	}
	for c := range g.cars {
		g.cars[c], g.from[c] = r.rested[c], -1
	}
	g.beginLunch()
	for i := range r.Rounds {
		g.left[i], g.lastOf[i] = 0, -1
		g.ends[i] = r.Rounds[i].PostedUS
	}
	for i := range r.Heats {
		h := &r.Heats[i]
		g.start[i], g.end[i], g.on[i], g.ready[i] = 0, 0, g.on[i][:0], r.AtUS
		g.why[i], g.riders[i] = Cause{Heat: -1}, h.cars
		if g.len.left[i] {
			g.left[h.Round]++
		}
	}
	for i := range r.Heats {
		if !r.Heats[i].Waits() {
			g.stand(i)
		}
	}
	g.standing = len(g.called)
	for i := range r.Heats {
		if h := &r.Heats[i]; h.Drawn && h.again && g.len.left[i] { // a repeated race comes first
			g.queue = append(g.queue, i)
		}
	}
	for _, i := range g.waiting {
		if g.len.left[i] {
			g.queue = append(g.queue, i)
		}
	}
	for k := range g.lines {
		l := &g.lines[k]
		l.open = 0
		for l.open < len(l.rounds) && r.Rounds[l.rounds[l.open]].Drawn {
			// Deciders that came to a drawn round are called with it.
			for _, i := range r.Rounds[l.rounds[l.open]].Heats {
				if !r.Heats[i].Drawn && g.len.left[i] {
					g.queue = append(g.queue, i)
				}
			}
			l.open++
		}
		g.draw(l)
	}
}

// stand lets a heat that was called before have its benches until it is over.
func (g *game) stand(i int) {
	for _, id := range g.r.Heats[i].On {
		if b, in := g.r.plate[id]; in {
			g.on[i] = append(g.on[i], b)
		}
	}
	g.take(i, g.r.AtUS)
}

// draw says when the next round of a line is drawn, once that is known.
func (g *game) draw(l *line) {
	l.atUS, l.after = never, -1
	if l.open == len(l.rounds) {
		return
	}
	round := &g.r.Rounds[l.rounds[l.open]]
	at := max(g.r.AtUS, round.ReadyUS)
	if round.Apart && l.open > 0 {
		if before := l.rounds[l.open-1]; g.left[before] > 0 {
			return
		}
		l.atUS = max(g.now, at) + g.len.draws[l.rounds[l.open]]
		return
	}
	wait := int64(0)
	for _, k := range l.rounds[:l.open] {
		if g.left[k] > 0 {
			return
		}
		if g.ends[k] > wait {
			wait, l.after = g.ends[k], g.lastOf[k]
		}
	}
	l.atUS = max(at, wait+g.len.draws[l.rounds[l.open]])
	if wait == 0 { // nothing is before it
		l.atUS = at + g.len.firsts[l.rounds[l.open]]
	}
}

// open draws the rounds whose time has come.
func (g *game) open() {
	for k := range g.lines {
		l := &g.lines[k]
		for l.atUS <= g.now {
			at := l.rounds[l.open]
			round := &g.r.Rounds[at]
			if len(g.gone) > 0 {
				g.deal(at)
			}
			g.spread(l, at)
			for _, i := range round.Heats {
				switch {
				case !g.len.left[i]:
				case g.r.Heats[i].again: // a repeated race comes first
					g.queue = slices.Insert(g.queue, 0, i)
				default:
					g.why[i] = Cause{Code: CauseRound, Round: at, Heat: l.after}
					g.queue = append(g.queue, i)
				}
			}
			l.open++
			g.draw(l)
		}
	}
}

// spread says from when on the heats of a round that was just drawn may be called. Its cars
// rest from the round before; where that still runs, nobody knows which heat waits for
// which, so each waits for as much of it as the last of its cars does on average.
func (g *game) spread(l *line, at int) {
	round := &g.r.Rounds[at]
	if l.open == 0 {
		for _, i := range round.Heats {
			g.ready[i] = l.atUS
		}
		return
	}
	before := g.r.Rounds[l.rounds[l.open-1]].Heats
	ends := make([]int64, 0, len(before))
	for _, i := range before {
		if g.len.left[i] {
			ends = append(ends, g.end[i]+g.r.Heats[i].RestUS)
		}
	}
	slices.Sort(ends)
	all := 0
	for _, i := range round.Heats {
		if !g.r.Heats[i].again {
			all++
		}
	}
	for k, i := range round.Heats {
		g.ready[i] = l.atUS
		if len(ends) == 0 || g.r.Heats[i].again {
			continue
		}
		n := len(ends)
		if round.Apart {
			share := (float64(k) + 0.5) / float64(all) // those that are raced again stand behind
			n = int(math.Ceil(math.Pow(share, 1/float64(max(1, g.r.Heats[i].Lanes))) * float64(n)))
		}
		g.ready[i] = max(l.atUS, ends[min(n, len(ends))-1])
	}
}

// call calls all heats that can be called now, and returns the next instant at which
// something changes; never at the end.
func (g *game) call() int64 {
	next := g.nextDraw()
	free := g.freeNow()
	// Once a heat finds too few benches, later ones may only have those that it leaves:
	// until shadow, or spare of them for as long as they like.
	shadow, spare := int64(never), 0
	kept := g.queue[:0]
	for at, i := range g.queue {
		if free == 0 && shadow != never {
			kept = append(kept, g.queue[at:]...)
			break
		}
		if len(g.gone) > 0 && (!g.len.left[i] || g.deserted(i)) {
			g.leaveOut(i)
			continue
		}
		if from, why := g.can(i); from > g.now {
			if why.Code != CauseNothing {
				g.why[i] = why
			}
			next = min(next, from)
			kept = append(kept, i)
			continue
		}
		lanes := g.lanes(i)
		fits := lanes <= free
		if fits && shadow != never && lanes > spare {
			fits = g.now+g.len.heats[i]+slices.Max(g.len.change[i]) <= shadow
		} else if fits && shadow != never {
			spare -= lanes
		}
		if !fits && g.way == inTurn {
			kept = append(kept, g.queue[at:]...)
			break
		}
		if !fits {
			if shadow == never && g.way == keeping {
				shadow, spare = g.shadow(lanes)
			}
			if !g.quiet {
				g.why[i] = Cause{Code: CauseBenches, Heat: g.freed(lanes)}
			}
			kept = append(kept, i)
			continue
		}
		g.choose(i)
		g.take(i, g.now)
		free -= lanes
	}
	g.queue = kept
	for k := range g.lines {
		if l := &g.lines[k]; l.atUS == never {
			g.draw(l)
			next = min(next, max(l.atUS, g.now))
		}
	}
	if next <= g.now { // a round is drawn at once
		return g.now
	}
	if len(g.queue) > 0 {
		for _, at := range g.free {
			if at > g.now {
				next = min(next, at)
			}
		}
	}
	return next
}

func (g *game) nextDraw() int64 {
	next := int64(never)
	for k := range g.lines {
		next = min(next, g.lines[k].atUS)
	}
	return next
}

// can is from when on a heat can be called, as far as anything but benches goes, and why
// not before.
func (g *game) can(i int) (from int64, why Cause) {
	h := &g.r.Heats[i]
	from, why = g.ready[i], Cause{Heat: -1}
	told := g.r.promisedUS(h)
	if i < len(g.telling.not) {
		told = max(told, g.telling.not[i])
	}
	if told > from {
		from, why = told, Cause{Code: CauseTold, Heat: -1}
	}
	if h.inspectedUS > from {
		from, why = h.inspectedUS, Cause{Code: CauseInspection, Heat: -1}
	}
	for k, c := range h.cars {
		if g.cars[c] > from {
			from, why = g.cars[c], Cause{Code: CauseCar, Heat: g.from[c], Entry: h.first[k]}
		}
	}
	if h.After >= 0 {
		switch {
		case g.end[h.After] == 0:
			return never, Cause{Code: CauseLeg, Heat: h.After}
		case g.end[h.After] > from:
			from, why = g.end[h.After], Cause{Code: CauseLeg, Heat: h.After}
		}
	}
	if at, task := g.behindTasks(i, max(from, g.now)); at > g.now && task.Code != CauseNothing {
		return at, task
	}
	return from, why
}

// way is how a desk calls where the next heat finds too few benches.
type way int

const (
	// keeping calls later heats that do not delay the next one, as a plan does.
	keeping way = iota
	// inTurn waits for its benches.
	inTurn
	// passing calls whichever finds its benches: wide heats wait long among narrow ones.
	passing
)
