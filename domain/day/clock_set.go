package day

import "maps"

// ClockSet says that the times of the log were ahead of the true time and go on from
// here by it. Its own time is before that of the event before it: that of this event
// alone may be, in the order of the log nothing changes.
type ClockSet struct {
	Ruled
	// SinceUS is the first instant that was wrong: what is said of it and later is set
	// back. BackUS is by how much.
	SinceUS int64 `json:"since_us"`
	BackUS  int64 `json:"back_us"`
}

// Type is the name in the log.
func (ClockSet) Type() string { return "ClockSet" }

func (ClockSet) about(s *State) []EntryID { return inDivision(s, "") }

func (e ClockSet) apply(s *State) {
	setBack{e.SinceUS, e.BackUS}.state(s)
	s.rule(e.Type(), e.Ruled, Ruling{})
}

// WrongSinceUS is since when the times of the day are wrong, where the newest of them is
// ahead of the true time: since the clock leapt, which left a stretch without events as
// long as it is ahead, or else from the start. What came before such a leap was right,
// and stays before what is set back.
func WrongSinceUS(s *State, nowUS int64) int64 {
	back := s.TimeUS - nowUS
	for i := len(s.rests) - 1; i >= 0; i-- {
		if r := s.rests[i]; r.toUS > nowUS && r.toUS-r.fromUS >= back {
			return r.toUS
		}
	}
	return 0
}

// setBack sets instants back that are wrong.
type setBack struct{ sinceUS, backUS int64 }

// instant sets an instant back, if it is a wrong one.
func (b setBack) instant(us *int64) { b.until(us, *us) }

// until sets the end of a time back that began at a wrong instant.
func (b setBack) until(us *int64, begunUS int64) {
	if *us != 0 && begunUS != 0 && begunUS >= b.sinceUS {
		*us -= b.backUS
	}
}

func (b setBack) state(s *State) {
	b.instant(&s.BatteriesSinceUS)
	b.instant(&s.PausedUS)
	s.Rulings = each(s.Rulings, func(r *Ruling) { b.instant(&r.AtUS) })
	s.Factors = each(s.Factors, func(f *FactorSet) {
		b.instant(&f.FitUS)
		b.instant(&f.AtUS)
	})
	s.rests = each(s.rests, func(r *rest) {
		b.instant(&r.fromUS)
		b.instant(&r.toUS)
	})
	b.instant(&s.resumedUS)
	eachOf(s.Benches, func(x *Bench) {
		b.instant(&x.OutSinceUS)
		b.instant(&x.BackUS)
	})
	eachOf(s.Heats, b.heat)
	eachOf(s.Runs, b.run)
	eachOf(s.Protests, func(p *Protest) {
		b.instant(&p.LodgedUS)
		b.instant(&p.RuledUS)
	})
	eachOf(s.Packs, b.pack)
	eachOf(s.Inspections, b.inspection)
	eachOf(s.Wanted, func(a *Ask) { b.instant(&a.AtUS) })
	eachOf(s.Programmes, b.programme)
	b.told(s)
	s.Adults = each(s.Adults, func(a *AdultsSince) { b.instant(&a.AtUS) })
	if s.Cuts != nil {
		list := *s.Cuts
		list.Cuts = each(list.Cuts, func(c *ChosenCut) { b.until(&c.FairUntilUS, list.AtUS) })
		b.instant(&list.AtUS)
		s.Cuts = &list
	}
	s.Held = maps.Clone(s.Held)
	eachOf(s.Held, b.instant)
	eachOf(s.Away.Divisions, func(d *awayDivision) { b.programme(&d.Programme) })
}

func (b setBack) heat(h *Heat) {
	b.until(&h.DeadlineUS, h.CalledUS)
	b.until(&h.ProtestUntilUS, h.PostedUS)
	b.until(&h.BoundUS, h.CalledUS)
	b.instant(&h.CalledUS)
	b.instant(&h.StartedUS)
	b.instant(&h.PostedUS)
	h.Lanes = each(h.Lanes, func(l *Lane) {
		if l.Asked != nil {
			asked := *l.Asked
			b.instant(&asked.AtUS)
			l.Asked = &asked
		}
	})
}

// told sets promises back that were made at a wrong instant.
func (b setBack) told(s *State) {
	if s.Told == nil {
		return
	}
	t := *s.Told
	t.Heats, t.Rounds = maps.Clone(t.Heats), maps.Clone(t.Rounds)
	promise := func(p *ToldTime) {
		b.until(&p.NotBeforeUS, t.AtUS)
		b.until(&p.WasUS, t.AtUS)
	}
	eachOf(t.Heats, promise)
	eachOf(t.Rounds, promise)
	b.until(&t.FinishUS, t.AtUS)
	b.instant(&t.AtUS)
	b.instant(&t.FirstUS)
	s.Told = &t
}

func (b setBack) run(r *Run) {
	b.instant(&r.AtUS)
	r.Before = each(r.Before, func(c *CountBefore) { b.instant(&c.UntilUS) })
}

func (b setBack) pack(p *Pack) {
	p.Checks = each(p.Checks, func(c *PackCheck) { b.instant(&c.AtUS) })
	p.Runs = each(p.Runs, func(r *packRun) {
		b.until(&r.ToUS, r.FromUS)
		b.instant(&r.FromUS)
	})
}

func (b setBack) inspection(i *inspection) {
	i.Tries = each(i.Tries, func(t *InspectionTry) {
		b.until(&t.FixUntilUS, t.AtUS)
		b.instant(&t.AtUS)
	})
}

func (b setBack) programme(p *Programme) {
	b.instant(&p.SteppedUS)
	if p.Seeding != nil {
		seeding := *p.Seeding
		b.instant(&seeding.AtUS)
		p.Seeding = &seeding
	}
	p.Published = each(p.Published, func(x *Publication) { b.instant(&x.AtUS) })
	p.Stages = each(p.Stages, func(x *StageState) {
		x.Rounds = each(x.Rounds, func(r *RoundState) { b.instant(&r.DrawnUS) })
	})
}

// each changes a copy of a list: an earlier Clone may still hold the list.
func each[T any](list []T, change func(*T)) []T {
	if list == nil {
		return nil
	}
	out := append(make([]T, 0, len(list)), list...)
	for i := range out {
		change(&out[i])
	}
	return out
}

// eachOf replaces the values of a map that is the state's own.
func eachOf[K comparable, V any](m map[K]V, change func(*V)) {
	for k, v := range m {
		change(&v)
		m[k] = v
	}
}
