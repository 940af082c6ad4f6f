package battery

import "benchmeet/domain/refusal"

// Pack is a set of cells with a number of its own and its history. It is plain
// data: the methods return a changed copy and leave the old one as it is.
type Pack struct {
	ID string `json:"id"`
	// Lent is a pack of the club, which is issued and comes back.
	Lent bool `json:"lent,omitempty"`
	// With is the start number that has a lent pack; 0 is the battery table.
	With int `json:"with,omitempty"`
	// Checks and Runs are in the order in which they came.
	Checks []Reading `json:"checks,omitempty"`
	Runs   []PackRun `json:"runs,omitempty"`
	// Aside is a pack that does not race again: hot, damaged or refused for good.
	Aside bool `json:"aside,omitempty"`
}

// PackRun is one run on a pack, in µs since 1970.
type PackRun struct {
	FromUS int64 `json:"from_us"`
	ToUS   int64 `json:"to_us"`
}

// Checked adds a reading. A hurt pack is put aside.
func (p Pack) Checked(r Reading) Pack {
	p.Checks = append(p.Checks[:len(p.Checks):len(p.Checks)], r)
	p.Aside = p.Aside || r.Hurt
	return p
}

// Ran adds a run.
func (p Pack) Ran(r PackRun) Pack {
	p.Runs = append(p.Runs[:len(p.Runs):len(p.Runs)], r)
	return p
}

// Issue gives a lent pack to a start number.
func (p Pack) Issue(number int) (Pack, error) {
	switch {
	case p.Aside:
		return p, refusal.New("pack-aside")
	case p.With != 0:
		return p, refusal.New("pack-out", "pack", p.ID, "number", p.With)
	}
	p.With = number
	return p, nil
}

// Return takes a lent pack back; one that is hot, swollen, leaking or damaged is
// put aside.
func (p Pack) Return(hurt bool) (Pack, error) {
	if p.With == 0 {
		return p, refusal.New("pack-not-out", "pack", p.ID)
	}
	p.With, p.Aside = 0, p.Aside || hurt
	return p, nil
}

// Missing returns the lent packs that are still out, in the order given: the
// list that is read before the hall closes.
func Missing(packs []Pack) []Pack {
	var out []Pack
	for _, p := range packs {
		if p.Lent && p.With != 0 {
			out = append(out, p)
		}
	}
	return out
}

// minuteUS is a minute in µs.
const minuteUS = 60 * 1_000_000

// Ready says why a pack may not race at an instant, all reasons together; none
// means that it may. sinceUS is when checks began to be asked for anew, such as
// the end of a pause of the meet; 0 is never. Times are µs since 1970.
func (p Pack) Ready(w Window, nowUS, sinceUS int64) []*refusal.Refusal {
	if p.Aside {
		return []*refusal.Refusal{refusal.New("pack-aside")}
	}
	var no []*refusal.Refusal
	switch {
	case len(p.Checks) == 0:
		no = append(no, refusal.New("pack-unchecked"))
	case p.Checks[len(p.Checks)-1].AtUS < sinceUS:
		no = append(no, refusal.New("pack-paused"))
	default:
		last := p.Checks[len(p.Checks)-1]
		switch age := nowUS - last.AtUS; {
		case age < 0:
			no = append(no, refusal.New("pack-future"))
		case w.ValidUS > 0 && age > w.ValidUS:
			no = append(no, refusal.New("pack-old-check", "minutes", age/minuteUS, "most", w.ValidUS/minuteUS))
		default:
			no = append(no, w.Judge(last)...)
		}
	}
	if len(p.Runs) > 0 {
		switch rested := nowUS - p.Runs[len(p.Runs)-1].ToUS; {
		case rested < 0:
			no = append(no, refusal.New("pack-future"))
		case rested < w.RestUS:
			// Rounded up: a child who waits so long does not come too early.
			no = append(no, refusal.New("pack-tired", "minutes", (w.RestUS-rested+minuteUS-1)/minuteUS))
		}
	}
	return no
}
