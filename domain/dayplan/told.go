package dayplan

// ToldStepUS is the step in which times are told, in µs: five minutes.
const ToldStepUS = 300 * secondUS

// ToldDown is an instant as it is promised: the last step that is not after it.
func ToldDown(us int64) int64 { return us - us%ToldStepUS }

// ToldUp is an instant as an end is named: the first step that is not before it.
func ToldUp(us int64) int64 { return ToldDown(us + ToldStepUS - 1) }

// ToldAbout is an instant as a likely time is shown: the nearest step.
func ToldAbout(us int64) int64 { return ToldDown(us + ToldStepUS/2) }

// told puts in what was told of the rounds and heats, and which heats are held.
func (g *gathering) told() {
	for i := range g.rest.Rounds {
		r := &g.rest.Rounds[i]
		r.NotBeforeUS = g.s.RoundPromise(r.Division, r.Stage, r.Number).NotBeforeUS
	}
	for i := range g.rest.Heats {
		h := &g.rest.Heats[i]
		if !h.Drawn || !h.Waits() {
			continue
		}
		h.NotBeforeUS = max(g.s.HeatPromise(g.s.Heats[h.ID]).NotBeforeUS, g.s.Held[h.ID])
	}
}

// promisedUS is an instant before which a heat is not called.
func (r *Rest) promisedUS(h *Heat) int64 {
	if h.Drawn {
		return h.NotBeforeUS
	}
	return r.Rounds[h.Round].NotBeforeUS
}
