package storetest

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

// testModel does the same random things to a store and to the model, closing
// and opening the store in between, and compares all that they keep.
func testModel(t *testing.T, d Database) {
	open := d.New(t)
	s := opened(t, open)
	defer func() { _ = s.Close() }() // whichever is open at the end
	clubs := 0
	rapid.Check(t, func(rt *rapid.T) {
		// One database serves all tries: a club of its own is as good as new.
		clubs++
		p := &pair{
			ctx:   t.Context(),
			club:  numbered("club", clubs),
			open:  open,
			store: s,
			model: newModel(),
		}
		defer func() { s = p.store }()
		if err := s.EnsureClub(p.ctx, store.Club{ID: p.club}); err != nil {
			rt.Fatal(err)
		}
		rt.Repeat(map[string]func(*rapid.T){
			"":           p.compareNowAndThen,
			"write":      p.write,
			"putChunk":   p.putChunk,
			"closeRun":   p.closeRun,
			"freeze":     p.freeze,
			"putToken":   p.putToken,
			"erase":      p.erase,
			"removeText": p.eraseText,
			"reopen":     p.reopen,
		})
		p.compare(rt)
	})
}

// pair is a store and the model beside it.
type pair struct {
	ctx   context.Context
	club  string
	open  Open
	store store.Store
	model *model
}

// compareNowAndThen keeps the suite quick: reading everything after each step
// would take most of its time.
func (p *pair) compareNowAndThen(t *rapid.T) {
	if rapid.IntRange(0, 9).Draw(t, "compare") == 0 {
		p.compare(t)
	}
}

func (p *pair) compare(t *rapid.T) {
	got, err := keptBy(p.ctx, p.store, p.club)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(p.model.kept(p.club), got, cmpopts.EquateEmpty()); diff != "" {
		t.Fatalf("kept (-model +store):\n%s", diff)
	}
}

// agree fails unless both refuse for the same reason or neither does.
func agree(t *rapid.T, what string, model, store error) {
	if (model == nil) != (store == nil) || (model != nil && !errors.Is(store, model)) {
		t.Fatalf("%s: the model says %v, the store %v", what, model, store)
	}
}

func (p *pair) write(t *rapid.T) {
	stream := store.Stream{Club: p.club, Name: rapid.SampledFrom([]string{"club", "meet/a", "meet/B"}).Draw(t, "stream")}
	before := p.model.clone()
	undo := rapid.IntRange(0, 3).Draw(t, "undo") == 0
	err := p.store.Write(p.ctx, stream, func(tx store.Tx) error {
		for range rapid.IntRange(0, 4).Draw(t, "steps") {
			p.step(t, tx, stream)
		}
		if undo {
			return errUndo
		}
		return nil
	})
	switch {
	case undo && errors.Is(err, errUndo):
		p.model = before
	case undo || err != nil:
		t.Fatalf("Write ended with %v", err)
	}
}

// step does one thing inside a transaction. A refusal does not end it.
func (p *pair) step(t *rapid.T, tx store.Tx, stream store.Stream) {
	id := rapid.SampledFrom([]string{"a", "B", "c-1", "ä"})
	word := rapid.StringMatching(`[ -~ä€🦦]{0,12}`)
	switch rapid.IntRange(0, 4).Draw(t, "kind") {
	case 0:
		head := p.model.head(stream.Name)
		if head.Seq > 0 && rapid.IntRange(0, 4).Draw(t, "stale") == 0 {
			head = journal.Head{Seq: head.Seq - 1}
		}
		records := sealed(stream, head, rapid.IntRange(0, 3).Draw(t, "records"), word.Draw(t, "what"))
		agree(t, "Append", p.model.add(stream.Name, records), tx.Append(p.ctx, records))
	case 1:
		a := store.Answer{Command: id.Draw(t, "command"), Content: [32]byte{rapid.Byte().Draw(t, "content")}, Body: []byte(word.Draw(t, "body"))}
		agree(t, "Remember", p.model.remember(stream.Name, a), tx.Remember(p.ctx, []store.Answer{a}))
	case 2:
		person := store.Person{
			ID:          id.Draw(t, "person"),
			Name:        word.Draw(t, "name"),
			DisplayName: word.Draw(t, "display name"),
			OnScreen:    rapid.Bool().Draw(t, "on screen"),
			Photo:       rapid.Bool().Draw(t, "photo"),
		}
		agree(t, "PutPerson", p.model.putPerson(person), tx.PutPerson(p.ctx, person))
	case 3:
		text := store.Text{
			ID:    id.Draw(t, "text id"),
			About: rapid.SampledFrom([][]string{nil, {"a"}, {"B"}, {"B", "a"}, {""}, {"", "a"}}).Draw(t, "about"),
			Salt:  []byte{rapid.Byte().Draw(t, "salt")},
			Text:  rapid.SampledFrom([]string{"", "one", "other"}).Draw(t, "text"),
		}
		agree(t, "PutText", p.model.putText(text), tx.PutText(p.ctx, text))
	case 4:
		p.look(t, tx, stream)
	}
}

// look compares what a transaction can see, its own writing included.
func (p *pair) look(t *rapid.T, tx store.Tx, stream store.Stream) {
	after := int64(rapid.IntRange(0, 4).Draw(t, "after"))
	var want, got []journal.Record
	for _, r := range p.model.logs[stream.Name] {
		if r.Seq > after {
			want = append(want, r)
		}
	}
	if err := tx.Read(p.ctx, after, func(r journal.Record) error {
		got = append(got, r)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		t.Fatalf("records after %d inside Write (-model +store):\n%s", after, diff)
	}
	answers, err := tx.Answers(p.ctx, []string{"a", "B", "c-1", "ä", "never"})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(p.model.answers[stream.Name], answers, cmpopts.EquateEmpty()); diff != "" {
		t.Fatalf("answers (-model +store):\n%s", diff)
	}
}

var (
	someBench = rapid.SampledFrom([]string{"b1", "B2"})
	someRun   = rapid.SampledFrom([]string{"r1", "r2", "r3"})
)

func (p *pair) putChunk(t *rapid.T) {
	c := trace.Stored{
		Key:    key(someBench.Draw(t, "bench"), someRun.Draw(t, "run"), rapid.IntRange(0, 2).Draw(t, "number")),
		Packed: rapid.SampledFrom([][]byte{{}, {1}, {1, 2}}).Draw(t, "packed"),
	}
	if rapid.Bool().Draw(t, "last") {
		c.Last = []byte(`{"chunks":1,"stamps":1}`)
	}
	wantFresh, want := p.model.putChunk(c)
	isFresh, err := p.store.PutChunk(p.ctx, p.club, c)
	agree(t, "PutChunk", want, err)
	if isFresh != wantFresh {
		t.Fatalf("PutChunk: fresh is %v in the model, %v in the store", wantFresh, isFresh)
	}
}

func (p *pair) closeRun(t *rapid.T) {
	run := runKey(someBench.Draw(t, "bench"), someRun.Draw(t, "run"))
	p.model.closed[run] = true
	if err := p.store.CloseRun(p.ctx, p.club, run); err != nil {
		t.Fatal(err)
	}
}

// freeze fixes a run at one of its chunks, which need not have an end.
func (p *pair) freeze(t *rapid.T) {
	run, n := runKey(someBench.Draw(t, "bench"), someRun.Draw(t, "run")), rapid.IntRange(1, 3).Draw(t, "n")
	p.model.freeze(run, n)
	if err := p.store.FreezeRun(p.ctx, p.club, run, n); err != nil {
		t.Fatal(err)
	}
}

func (p *pair) putToken(t *rapid.T) {
	token := store.Token{
		ID:        rapid.SampledFrom([]string{"t1", "T2", "t3"}).Draw(t, "id"),
		Club:      p.club,
		Role:      "node",
		Benches:   rapid.SampledFrom([][]string{nil, {"b1"}, {"b2", "b1"}}).Draw(t, "benches"),
		RevokedUS: rapid.Int64Range(0, 1<<52).Draw(t, "revoked"),
	}
	copy(token.Hash[:], fmt.Sprintf("%s %d", p.club, rapid.IntRange(0, 3).Draw(t, "hash")))
	agree(t, "PutToken", p.model.putToken(token), p.store.PutToken(p.ctx, token))
}

// skip says no to most of the slow steps, which would take most of the time.
func skip(t *rapid.T) bool { return rapid.IntRange(0, 3).Draw(t, "skip") != 0 }

func (p *pair) erase(t *rapid.T) {
	if skip(t) {
		return
	}
	person := rapid.SampledFrom([]string{"a", "B"}).Draw(t, "person")
	at := rapid.Int64Range(0, 1<<52).Draw(t, "at")
	p.model.erase(person, at)
	if err := p.store.Erase(p.ctx, p.club, person, at); err != nil {
		t.Fatal(err)
	}
	p.overwrite(t)
}

func (p *pair) eraseText(t *rapid.T) {
	if skip(t) {
		return
	}
	text := rapid.SampledFrom([]string{"a", "B", "c-1", "ä"}).Draw(t, "text")
	at := rapid.Int64Range(0, 1<<52).Draw(t, "at")
	p.model.eraseText(text, at)
	if err := p.store.EraseText(p.ctx, p.club, text, at); err != nil {
		t.Fatal(err)
	}
	p.overwrite(t)
}

func (p *pair) overwrite(t *rapid.T) {
	if err := p.store.Overwrite(p.ctx); err != nil {
		t.Fatal(err)
	}
}

func (p *pair) reopen(t *rapid.T) {
	if skip(t) {
		return
	}
	if err := p.store.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := p.open()
	if err != nil {
		t.Fatal(err)
	}
	p.store = again
}

// testReopen closes and opens a full store: all is there.
func testReopen(t *testing.T, d Database) {
	open := d.New(t)
	ctx, s := t.Context(), opened(t, open)
	must(t, s.EnsureClub(ctx, store.Club{ID: harbour, Name: "Harbour Hall"}))
	must(t, grow(ctx, s, store.MeetStream(harbour, "spring"), 700, "x"))
	putPeople(t, s, harbour, store.Person{ID: "p1", Name: "Heron"})
	putTexts(t, s, harbour, store.Text{ID: "t1", Salt: []byte{1}, Text: "kept"})
	for _, c := range chunks("b1", "r1", 3) {
		_, err := s.PutChunk(ctx, harbour, c)
		must(t, err)
	}
	must(t, s.PutToken(ctx, store.Token{ID: "t", Club: harbour, Hash: [32]byte{1}}))
	want, err := keptBy(ctx, s, harbour)
	must(t, err)
	must(t, s.Close())
	again := opened(t, open)
	got, err := keptBy(ctx, again, harbour)
	must(t, err)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("kept (-before +after):\n%s", diff)
	}
	must(t, grow(ctx, again, store.MeetStream(harbour, "spring"), 1, "and goes on"))
	checkChain(t, again, store.MeetStream(harbour, "spring"), 701)
}
