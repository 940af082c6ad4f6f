package battery

import (
	"strings"

	"benchmeet/domain/refusal"
)

// Windows are what a class asks of a pack where it takes cells of several kinds:
// a window for each kind, in the order in which a form offers them.
type Windows []Window

// Check refuses windows that cannot be: one of them, two of one kind, or of
// different numbers of cells, for a car has so many places.
func (ws Windows) Check() error {
	for i, w := range ws {
		if err := w.Check(); err != nil {
			return err
		}
		for _, before := range ws[:i] {
			if before.Chemistry == w.Chemistry || before.Cells != w.Cells {
				return refusal.New("windows-apart")
			}
		}
	}
	return nil
}

// For is the window of a kind of cells; false where the class does not take it.
func (ws Windows) For(c Chemistry) (Window, bool) {
	for _, w := range ws {
		if w.Chemistry == c {
			return w, true
		}
	}
	return Window{}, false
}

// Judge is [Window.Judge] of the window of the reading's kind of cells. No
// windows refuse nothing but a hurt pack.
func (ws Windows) Judge(r Reading) []*refusal.Refusal {
	w, taken := ws.For(r.Chemistry)
	switch {
	case r.Hurt, taken:
		return w.Judge(r)
	case len(ws) == 0:
		return nil
	}
	return []*refusal.Refusal{refusal.New("pack-chemistry", "given", r.Chemistry, "wanted", ws.kinds())}
}

// Ready is [Pack.Ready] with the window of the kind of the last check.
func (ws Windows) Ready(p Pack, nowUS, sinceUS int64) []*refusal.Refusal {
	if p.Aside || len(p.Checks) == 0 {
		return p.Ready(Window{}, nowUS, sinceUS)
	}
	last := p.Checks[len(p.Checks)-1]
	if w, taken := ws.For(last.Chemistry); taken {
		return p.Ready(w, nowUS, sinceUS)
	}
	return ws.Judge(last)
}

// kinds writes the kinds that the class takes: "a", "a or b".
func (ws Windows) kinds() string {
	var all []string
	for _, w := range ws {
		all = append(all, string(w.Chemistry))
	}
	return strings.Join(all, " or ")
}
