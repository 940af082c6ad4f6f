package archive

import (
	"cmp"
	"context"
	"encoding/hex"
	"errors"
	"math"
	"slices"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/journal"
	"benchmeet/domain/measure"
	"benchmeet/domain/trace"
)

// Verify checks everything that a source holds: each log's hash chain, that every
// event can be read and folded, that the trace of every recorded run is there and
// has the SHA-256 of its event, that measuring it again gives the figures of the
// event, that texts are those that their events prove, and that nobody who was
// erased is there. What is wrong is in the report; the error is of a source that
// cannot be read. Find, unless it is zero, is a hash whose place is looked for.
//
// A live store grows while it is checked: what its logs told when their turn came
// is checked.
func Verify(ctx context.Context, from Source, find journal.Hash) (Report, error) {
	v := &verify{from: from, find: find, report: Report{Streams: []StreamReport{}, Problems: []Problem{}}}
	clubs, err := from.Clubs(ctx)
	if err != nil {
		return v.report, err
	}
	for _, c := range clubs {
		if err := v.club(ctx, c.ID); err != nil {
			return v.report, err
		}
	}
	if find != (journal.Hash{}) && v.report.Found == nil {
		v.report.problem("", "the hash %s stands in none of the logs", find)
	}
	return v.report, nil
}

type verify struct {
	from   Source
	find   journal.Hash
	report Report

	// Of the club that is being checked.
	clubID string
	claims []claim
	proofs proofs
}

func (v *verify) club(ctx context.Context, id string) error {
	v.clubID, v.claims, v.proofs = id, nil, proofs{}
	heads, err := v.from.Streams(ctx, id)
	if err != nil {
		return err
	}
	for _, h := range heads {
		if err := v.stream(ctx, h); err != nil {
			return err
		}
	}
	if err := v.settle(ctx, heads); err != nil {
		return err
	}
	for _, part := range []func(context.Context) error{v.traces, v.texts, v.people} {
		if err := part(ctx); err != nil {
			return err
		}
	}
	return nil
}

func (v *verify) stream(ctx context.Context, listed store.StreamHead) error {
	name := listed.Stream.String()
	head, state, err := walk(ctx, v.from, listed, watch{
		claim: func(c claim) {
			if c.sent == nil {
				v.report.HandCounts++
				return
			}
			v.claims = append(v.claims, c)
		},
		record: func(r journal.Record, e journal.Envelope) error {
			if r.Hash == v.find {
				v.report.Found = &Place{name, r.Seq}
			}
			return v.proofs.gather(e.Data)
		},
	})
	if err != nil && !v.notes(name, err) {
		return err
	}
	v.report.Streams = append(v.report.Streams, StreamReport{
		Stream: name, Events: head.Seq, Head: head.Hash.String(), State: state, OK: err == nil,
	})
	return nil
}

// notes puts an error that lies in the data into the report, and says whether it
// was one.
func (v *verify) notes(where string, err error) bool {
	var b broken
	if !errors.As(err, &b) && !errors.Is(err, ErrUnreadable) && !errors.Is(err, trace.ErrDisagree) {
		return false
	}
	v.report.problem(where, "%v", err)
	return true
}

// settle finds the conditions of runs whose meet does not know their bench, in
// the club's log as it was when they were recorded.
func (v *verify) settle(ctx context.Context, heads []store.StreamHead) error {
	var waiting []*claim
	for i := range v.claims {
		if v.claims[i].waits() {
			waiting = append(waiting, &v.claims[i])
		}
	}
	of := store.ClubStream(v.clubID)
	if len(waiting) == 0 || !slices.ContainsFunc(heads, func(h store.StreamHead) bool { return h.Stream == of }) {
		return nil
	}
	slices.SortStableFunc(waiting, func(a, b *claim) int { return cmp.Compare(a.atUS, b.atUS) })
	s, model := club.New(), ledger.Clubs()
	settle := func(beforeUS int64) {
		for len(waiting) > 0 && waiting[0].atUS < beforeUS {
			for i, sent := range waiting[0].sent {
				if !sent.known {
					waiting[0].sent[i].conditions, waiting[0].sent[i].known = evidence.InClub(s, day.RunID(sent.run), waiting[0].bench, 0), true
				}
			}
			waiting = waiting[1:]
		}
	}
	var head journal.Head
	err := v.from.Read(ctx, of, 0, func(r journal.Record) error {
		e, err := r.Open()
		if err != nil {
			return broken{err}
		}
		settle(e.Time)
		if head, err = safely(func() (journal.Head, error) { return model.Fold(s, head, r) }); err != nil {
			return broken{err}
		}
		return nil
	})
	if err == nil {
		settle(math.MaxInt64)
		return nil
	}
	var b broken
	if errors.As(err, &b) || errors.Is(err, ErrUnreadable) {
		return nil // the stream's own check has said so
	}
	return err
}

// traces checks each claim against its trace, one run in memory at a time.
func (v *verify) traces(ctx context.Context) error {
	told := make(map[store.RunKey]bool, len(v.claims))
	for _, c := range v.claims {
		run, err := v.trace(ctx, c)
		if err != nil {
			return err
		}
		told[run] = true
	}
	return v.from.Runs(ctx, v.clubID, func(run store.RunKey) error {
		if !told[run] {
			v.report.TracesUnrecorded++
		}
		late, err := v.from.LateChunks(ctx, v.clubID, run)
		if err != nil && !v.notes(v.clubID+" run "+run.Run, err) {
			return err
		}
		v.report.ChunksLate += len(late)
		return nil
	})
}

// trace checks one claim and returns the key under which its bench sent it.
func (v *verify) trace(ctx context.Context, c claim) (store.RunKey, error) {
	where := c.stream + " run " + string(c.run)
	v.report.RunsChecked++
	var (
		says  string
		found store.RunKey
	)
	for _, sent := range c.sent {
		run := store.RunKey{Bench: string(c.bench), Boot: c.boot, Run: sent.run}
		chunks, err := v.from.Chunks(ctx, v.clubID, run)
		if err != nil {
			if v.notes(where, err) {
				return run, nil
			}
			return run, err
		}
		if len(chunks) == 0 {
			continue
		}
		found = run
		if train, _, err := trace.Recorded(chunks, c.hash()); err == nil || errors.Is(err, trace.ErrDisagree) {
			// An empty chunk too many leaves no trace in the hash. Before such were kept
			// apart it was noted as a flag.
			all, whole := trace.Join(chunks)
			flagged := errors.Is(whole, trace.ErrDisagree) && all.Hash() == train.Hash()
			v.measure(where, c, sent, train, err != nil, flagged)
			return run, nil
		}
		train, err := trace.Join(chunks)
		if err != nil && !errors.Is(err, trace.ErrDisagree) {
			says = "its trace cannot be put together: " + err.Error()
			continue
		}
		sum := train.Hash()
		says = "its trace has the SHA-256 " + hex.EncodeToString(sum[:]) + " and its event says " + c.trace
	}
	if says == "" {
		says = "its trace is not there"
	}
	v.report.problem(where, "%s", says)
	return found, nil
}

// measure measures a trace again and compares: as its chunks are, or else as one with a
// chunk too many, where it may have been recorded so.
func (v *verify) measure(where string, c claim, sent sentAs, train trace.Train, disagrees, orFlagged bool) {
	if c.figures.Method != measure.Method || !sent.known {
		v.report.RunsNotMeasured++
		return
	}
	v.report.RunsMeasured++
	again, err := sent.conditions.Measure(train, disagrees)
	if err != nil {
		v.report.problem(where, "it cannot be measured again: %v", err)
		return
	}
	if says := measure.Differ(c.figures, again); says != "" {
		if orFlagged && !disagrees {
			v.report.RunsMeasured--
			v.measure(where, c, sent, train, true, false)
			return
		}
		v.report.problem(where, "%s", says)
	}
}

// texts compares the texts with the hashes in the logs. A text that no log tells
// of is nothing to worry about: some reasons stand in the log as codes alone.
func (v *verify) texts(ctx context.Context) error {
	texts, err := v.from.AllTexts(ctx, v.clubID)
	if err != nil {
		if v.notes(v.clubID+" texts", err) {
			return nil
		}
		return err
	}
	for _, t := range texts {
		proved, right := v.proofs.holds(t)
		if !proved {
			continue
		}
		v.report.TextsChecked++
		if !right {
			v.report.problem(v.clubID+" text "+t.ID, "it is not the text that its event proves")
		}
	}
	return nil
}

// people looks for rows that an erasure should have removed.
func (v *verify) people(ctx context.Context) error {
	gone := erased{}
	if err := gone.gather(ctx, v.from, v.clubID); err != nil {
		if errors.Is(err, ErrRefused) || errors.Is(err, ErrUnreadable) {
			return nil // the stream's own check has said so
		}
		return err
	}
	people, err := v.from.AllPeople(ctx, v.clubID)
	if err != nil {
		if v.notes(v.clubID+" people", err) {
			return nil
		}
		return err
	}
	texts, err := v.from.AllTexts(ctx, v.clubID)
	if err != nil && !v.notes(v.clubID+" texts", err) {
		return err
	}
	for _, t := range texts {
		if gone.text(t) {
			v.report.problem(v.clubID+" text "+t.ID, "it was erased, or is about somebody who was, and it is there; erase again")
		}
	}
	for _, p := range people {
		if gone.person(p.ID) {
			v.report.problem(v.clubID+" person "+p.ID, "the person was erased and the row is there; erase again")
		}
	}
	return nil
}
