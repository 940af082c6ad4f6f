package view

import (
	"context"
	"maps"
	"sync"
	"sync/atomic"
	"time"

	"benchmeet/api/store"
)

// keepNames is how long a directory trusts what it read. Another server of the
// same database may have erased somebody meanwhile.
const keepNames = time.Second

// While the store does not answer, a directory shows what it read, so that a hall's screens
// go on; but not for long, because somebody may have been erased at another server that
// reaches the store. Whoever is first to ask waits lookWithin for it, and nobody again
// before lookAgain.
const (
	trustNames = 5 * time.Minute
	lookWithin = time.Second
	lookAgain  = 5 * time.Second
)

// Directory fetches the people of a club and keeps them for a moment, so that a
// busy hall does not read the table for every frame.
type Directory struct {
	people store.People
	mu     sync.Mutex
	clubs  map[string]*page
}

// page is what is known of one club.
type page struct {
	changes atomic.Int64 // that this process was told of
	mu      sync.Mutex   // guards what follows
	at      time.Time
	failed  time.Time // when the store did not answer
	after   int64     // the changes that were there before it was read
	names   Names
}

// NewDirectory makes a directory over a store's people.
func NewDirectory(people store.People) *Directory {
	return &Directory{people: people, clubs: map[string]*page{}}
}

func (d *Directory) page(club string) *page {
	d.mu.Lock()
	defer d.mu.Unlock()
	p, there := d.clubs[club]
	if !there {
		p = &page{}
		d.clubs[club] = p
	}
	return p
}

// Names returns the people of a club.
func (d *Directory) Names(ctx context.Context, club string) (Names, error) {
	p := d.page(club)
	p.mu.Lock() // held during the query: whoever else asks for this club would ask the same
	defer p.mu.Unlock()
	if p.names.people != nil && p.after == p.changes.Load() && time.Since(p.at) < keepNames {
		return p.names, nil
	}
	at, after := time.Now(), p.changes.Load()
	usable := p.names.people != nil && p.after == after && time.Since(p.at) < trustNames
	if usable && time.Since(p.failed) < lookAgain {
		return p.names, nil
	}
	all, err := d.read(ctx, club, usable)
	if err != nil && usable && ctx.Err() == nil {
		p.failed = time.Now()
		return p.names, nil
	}
	if err != nil {
		return Names{}, err
	}
	people := make(map[string]store.Person, len(all))
	for _, person := range all {
		people[person.ID] = person
	}
	p.at, p.after = at, after
	if p.names.people == nil || !maps.Equal(p.names.people, people) {
		p.names = Names{people, p.names.edition + 1}
	}
	return p.names, nil
}

// read reads a club's people; where others are at hand, it does not wait long.
func (d *Directory) read(ctx context.Context, club string, short bool) ([]store.Person, error) {
	if short {
		looking, stop := context.WithTimeout(ctx, lookWithin)
		defer stop()
		ctx = looking
	}
	return d.people.AllPeople(ctx, club)
}

// Forget has a club's people read again by whoever asks next, after a change.
func (d *Directory) Forget(club string) { d.page(club).changes.Add(1) }

// Names are the people of a club at a moment.
type Names struct {
	people  map[string]store.Person
	edition int64
}

// Edition counts the changes of the people that the directory has met: what was shown
// under names of one edition is not shown to whoever asks under those of another.
func (n Names) Edition() int64 { return n.edition }

// Person is the row of a person, for officials' pages only.
func (n Names) Person(id string) (store.Person, bool) {
	p, there := n.people[id]
	return p, there
}

// Display is the nickname for screens, or "" where the start number stands for
// it: none was given, the guardian did not agree, or the person was erased.
func (n Names) Display(id string) string { return n.displayAt(id, shown{onScreen: true}) }

// shown is where a nickname would stand; a guardian agrees to each of them alone.
type shown struct {
	onScreen  bool // live on screens
	inResults bool // in published results
}

// displayAt is Display for a place that needs the guardian's consent to all it is.
func (n Names) displayAt(id string, at shown) string {
	if p := n.people[id]; (p.OnScreen || !at.onScreen) && (p.InResults || !at.inResults) {
		return p.DisplayName
	}
	return ""
}
