package storetest

import (
	"cmp"
	"context"
	"maps"
	"slices"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

// model is a club kept in the simplest way there is: what a store must be equal
// to. It knows no transaction; the caller copies it before one and puts the
// copy back to undo.
type model struct {
	logs     map[string][]journal.Record        // by stream name
	answers  map[string]map[string]store.Answer // by stream name, command
	people   map[string]store.Person
	texts    map[string]store.Text
	erasures map[string]int64 // of people
	removed  map[string]int64 // texts that were erased alone
	chunks   map[trace.Key]trace.Stored
	closed   map[store.RunKey]bool
	frozen   map[store.RunKey]int
	tokens   map[string]store.Token
}

func newModel() *model {
	return &model{
		logs:     make(map[string][]journal.Record),
		answers:  make(map[string]map[string]store.Answer),
		people:   make(map[string]store.Person),
		texts:    make(map[string]store.Text),
		erasures: make(map[string]int64),
		removed:  make(map[string]int64),
		chunks:   make(map[trace.Key]trace.Stored),
		closed:   make(map[store.RunKey]bool),
		frozen:   make(map[store.RunKey]int),
		tokens:   make(map[string]store.Token),
	}
}

// clone copies what a transaction may change.
func (m *model) clone() *model {
	c := *m
	c.logs = maps.Clone(m.logs)
	c.answers = make(map[string]map[string]store.Answer)
	for stream, answers := range m.answers {
		c.answers[stream] = maps.Clone(answers)
	}
	c.people, c.texts = maps.Clone(m.people), maps.Clone(m.texts)
	return &c
}

func (m *model) head(stream string) journal.Head {
	log := m.logs[stream]
	if len(log) == 0 {
		return journal.Head{}
	}
	return log[len(log)-1].Head()
}

// add appends records whose first seq may be there already.
func (m *model) add(stream string, records []journal.Record) error {
	if len(records) > 0 && records[0].Seq <= m.head(stream).Seq {
		return store.ErrConflict
	}
	m.logs[stream] = append(slices.Clone(m.logs[stream]), records...)
	return nil
}

func (m *model) remember(stream string, a store.Answer) error {
	if _, there := m.answers[stream][a.Command]; there {
		return store.ErrConflict
	}
	if m.answers[stream] == nil {
		m.answers[stream] = make(map[string]store.Answer)
	}
	m.answers[stream][a.Command] = a
	return nil
}

func (m *model) putPerson(p store.Person) error {
	if _, erased := m.erasures[p.ID]; erased {
		return store.ErrErased
	}
	m.people[p.ID] = p
	return nil
}

func (m *model) putText(t store.Text) error {
	if old, there := m.texts[t.ID]; there {
		if !slices.Equal(old.About, t.About) || old.Text != t.Text || string(old.Salt) != string(t.Salt) {
			return store.ErrConflict
		}
		return nil
	}
	if _, removed := m.removed[t.ID]; removed {
		return store.ErrErased
	}
	for _, person := range t.About {
		if _, erased := m.erasures[person]; erased {
			return store.ErrErased
		}
	}
	m.texts[t.ID] = t
	return nil
}

func (m *model) erase(person string, at int64) {
	delete(m.people, person)
	maps.DeleteFunc(m.texts, func(_ string, t store.Text) bool { return slices.Contains(t.About, person) })
	if _, there := m.erasures[person]; !there {
		m.erasures[person] = at
	}
}

func (m *model) eraseText(text string, at int64) {
	delete(m.texts, text)
	if _, there := m.removed[text]; !there {
		m.removed[text] = at
	}
}

func (m *model) freeze(run store.RunKey, n int) {
	if m.frozen[run] == 0 {
		m.frozen[run] = n
	}
}

func (m *model) putChunk(c trace.Stored) (bool, error) {
	if old, there := m.chunks[c.Key]; there {
		if !old.Same(c) {
			return false, store.ErrConflict
		}
		return false, nil
	}
	m.chunks[c.Key] = c
	return true, nil
}

func (m *model) putToken(t store.Token) error {
	for id, other := range m.tokens {
		if id != t.ID && other.Hash == t.Hash {
			return store.ErrConflict
		}
	}
	m.tokens[t.ID] = t
	return nil
}

// kept is all that a club keeps, in the orders that the interfaces promise.
type kept struct {
	Heads    []store.StreamHead
	Logs     map[string][]journal.Record
	People   []store.Person
	Texts    []store.Text
	Erasures []store.Erasure
	OpenRuns []store.RunKey
	Runs     []store.RunKey
	Chunks   map[store.RunKey][]trace.Stored
	Late     map[store.RunKey][]trace.Stored
	Tokens   []store.Token
}

// kept is what a store with the model's content answers.
func (m *model) kept(club string) kept {
	k := kept{
		Logs: make(map[string][]journal.Record), Chunks: make(map[store.RunKey][]trace.Stored), Late: make(map[store.RunKey][]trace.Stored),
	}
	for _, name := range slices.Sorted(maps.Keys(m.logs)) {
		if log := m.logs[name]; len(log) > 0 {
			k.Logs[name] = log
			k.Heads = append(k.Heads, store.StreamHead{Stream: store.Stream{Club: club, Name: name}, Head: m.head(name)})
		}
	}
	for _, id := range slices.Sorted(maps.Keys(m.people)) {
		k.People = append(k.People, m.people[id])
	}
	for _, id := range slices.Sorted(maps.Keys(m.texts)) {
		k.Texts = append(k.Texts, m.texts[id])
	}
	for _, id := range slices.Sorted(maps.Keys(m.erasures)) {
		k.Erasures = append(k.Erasures, store.Erasure{Person: id, AtUS: m.erasures[id]})
	}
	for _, id := range slices.Sorted(maps.Keys(m.removed)) {
		k.Erasures = append(k.Erasures, store.Erasure{Text: id, AtUS: m.removed[id]})
	}
	for _, id := range slices.Sorted(maps.Keys(m.tokens)) {
		k.Tokens = append(k.Tokens, m.tokens[id])
	}
	for _, c := range m.chunks {
		run := store.RunKey{Bench: c.Key.Bench, Boot: c.Key.Boot, Run: c.Key.Run}
		k.Chunks[run] = append(k.Chunks[run], c)
	}
	k.Runs = slices.SortedFunc(maps.Keys(k.Chunks), func(a, b store.RunKey) int {
		return cmp.Or(cmp.Compare(a.Bench, b.Bench), cmp.Compare(a.Boot, b.Boot), cmp.Compare(a.Run, b.Run))
	})
	for _, run := range k.Runs {
		slices.SortFunc(k.Chunks[run], func(a, b trace.Stored) int { return cmp.Compare(a.Key.Number, b.Key.Number) })
		if !m.closed[run] && slices.ContainsFunc(k.Chunks[run], func(c trace.Stored) bool { return c.Last != nil }) {
			k.OpenRuns = append(k.OpenRuns, run)
		}
		if n := m.frozen[run]; n > 0 {
			late := func(c trace.Stored) bool { return c.Key.Number >= n }
			all := k.Chunks[run]
			k.Chunks[run] = slices.DeleteFunc(slices.Clone(all), late)
			k.Late[run] = slices.DeleteFunc(slices.Clone(all), func(c trace.Stored) bool { return !late(c) })
		} else {
			k.Late[run] = nil
		}
	}
	return k
}

// keptBy reads all of it from a store.
func keptBy(ctx context.Context, s store.Store, club string) (k kept, err error) {
	k = kept{
		Logs: make(map[string][]journal.Record), Chunks: make(map[store.RunKey][]trace.Stored), Late: make(map[store.RunKey][]trace.Stored),
	}
	if k.Heads, err = s.Streams(ctx, club); err != nil {
		return k, err
	}
	for _, h := range k.Heads {
		if err := s.Read(ctx, h.Stream, 0, func(r journal.Record) error {
			k.Logs[h.Stream.Name] = append(k.Logs[h.Stream.Name], r)
			return nil
		}); err != nil {
			return k, err
		}
	}
	if k.People, err = s.AllPeople(ctx, club); err != nil {
		return k, err
	}
	if k.Texts, err = s.AllTexts(ctx, club); err != nil {
		return k, err
	}
	if k.Erasures, err = s.Erasures(ctx, club); err != nil {
		return k, err
	}
	if k.OpenRuns, err = s.OpenRuns(ctx, club); err != nil {
		return k, err
	}
	if k.Tokens, err = s.AllTokens(ctx, club); err != nil {
		return k, err
	}
	err = s.Runs(ctx, club, func(run store.RunKey) error {
		k.Runs = append(k.Runs, run)
		chunks, err := s.Chunks(ctx, club, run)
		if err != nil {
			return err
		}
		k.Chunks[run] = chunks
		k.Late[run], err = s.LateChunks(ctx, club, run)
		return err
	})
	return k, err
}
