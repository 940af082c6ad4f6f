package storetest

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// testBatch is for stores that write batches: what WriteBatch keeps, and that it keeps
// nothing of what was decided on something that is not so any more.
func testBatch(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	to, can := s.(store.Batcher)
	if !can {
		return // Write is all it has
	}
	stream := store.MeetStream(harbour, "spring")
	right := sealed(stream, journal.Head{}, 6, "right")
	other := sealed(stream, journal.Head{}, 6, "other")
	answer := func(command string) []store.Answer {
		return []store.Answer{{Command: command, Content: [32]byte{1}, Body: []byte(`{"of":"` + command + `"}`)}}
	}
	must(t, to.WriteBatch(ctx, stream, store.Batch{Records: right[:2], Answers: append(answer("c1"), answer("c2")...)}))
	checkChain(t, s, stream, 2)
	for _, c := range []struct {
		name  string
		batch store.Batch
		kind  error
	}{
		{"on an empty log", store.Batch{Records: right[:1], Answers: answer("c3")}, store.ErrOvertaken},
		{"on an empty log, without a record", store.Batch{Answers: answer("c3")}, store.ErrOvertaken},
		{"on an older end", store.Batch{After: right[0].Head(), Records: right[1:2], Answers: answer("c3")}, store.ErrOvertaken},
		{"on an end that is not there yet", store.Batch{After: right[2].Head(), Records: right[3:4], Answers: answer("c3")}, store.ErrOvertaken},
		{"on the end of another chain", store.Batch{After: other[1].Head(), Records: other[2:3], Answers: answer("c3")}, store.ErrOvertaken},
		{"of a command that has its answer", store.Batch{After: right[1].Head(), Records: right[2:3], Answers: answer("c2")}, store.ErrOvertaken},
		{"with one such command", store.Batch{
			After: right[1].Head(), Records: right[2:4], Answers: append(answer("c3"), answer("c1")...),
		}, store.ErrOvertaken},
		{"a gap", store.Batch{After: right[1].Head(), Records: right[3:4], Answers: answer("c3")}, journal.ErrBrokenChain},
	} {
		t.Run(c.name, func(t *testing.T) {
			wantError(t, "WriteBatch", to.WriteBatch(ctx, stream, c.batch), c.kind)
			checkChain(t, s, stream, 2)
		})
	}
	wantError(t, "WriteBatch", to.WriteBatch(ctx, store.ClubStream("nobody"), store.Batch{Answers: answer("c1")}), store.ErrNotFound)
	if to.WriteBatch(ctx, stream, store.Batch{After: right[1].Head()}) == nil {
		t.Error("a batch that answers nobody was written")
	}
	// One without records, and one on top of it.
	must(t, to.WriteBatch(ctx, stream, store.Batch{After: right[1].Head(), Answers: answer("c4")}))
	must(t, to.WriteBatch(ctx, stream, store.Batch{After: right[1].Head(), Records: right[2:], Answers: answer("c5")}))
	checkChain(t, s, stream, 6)
	must(t, s.Write(ctx, stream, func(tx store.Tx) error {
		answers, err := tx.Answers(ctx, []string{"c1", "c2", "c3", "c4", "c5"})
		want := map[string]store.Answer{}
		for _, command := range []string{"c1", "c2", "c4", "c5"} {
			want[command] = answer(command)[0]
		}
		if diff := cmp.Diff(want, answers); diff != "" {
			t.Errorf("answers (-want +got):\n%s", diff)
		}
		return err
	}))
}
