package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/naming"
	"benchmeet/domain/refusal"
)

// Command is an order to the meet. Every command has a file of its own.
type Command interface {
	// decide answers with the events that follow, or a refusal. It must not
	// change s.
	decide(s *day.State, m Meta) ([]day.Event, error)
}

// Decide answers a command with the events that follow from it, in order, or
// with a *refusal.Refusal. A command whose effect is there already (the same run
// recorded again) gives no events and no error. A meet that is put away takes no orders
// until it is brought back. It never changes s. The refusal's sentence names heats, benches
// and entries as people know them; its arguments keep the ids.
func Decide(s *day.State, c Command, m Meta) ([]day.Event, error) {
	if s.Away.Meet {
		switch c.(type) {
		case PutAway, BringBack, RecordRun: // what a bench measured is turned away nowhere
		default:
			return nil, refusal.New("meet-away")
		}
	}
	events, err := c.decide(s, m)
	if err == nil {
		return events, nil
	}
	if of, is := c.(AddDivision); is && of.Division.Name != "" {
		err = named(err, of.Division)
	}
	return events, naming.Refusal(s, err)
}

// named lets a refusal say the name that a division is to have: it may be in no state yet.
func named(err error, d day.Division) error {
	if no, is := refusal.As(err); is {
		no.Name(func(id any) (refusal.Name, bool) { return refusal.Name{Says: d.Name}, id == d.ID })
	}
	return err
}

// claimed is an instant by a client's clock as an event may hold it; what no
// clock says is left out.
func claimed(us int64) int64 {
	if us < 0 || us > journal.MaxInteger {
		return 0
	}
	return us
}
