package postgres_test

import (
	"context"
	"io/fs"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/jackc/pgx/v5"

	"benchmeet/api/store"
	"benchmeet/api/store/postgres/pgtest"
	"benchmeet/domain/trace"
	"benchmeet/migrations"
)

// Data of the version before comes up whole: texts keep their person, and say that there
// may be others; a run that was recorded is made of what is here; what was erased is
// overwritten once more.
func TestDataOfBeforeComesUp(t *testing.T) {
	ctx := t.Context()
	path := pgtest.Database(t)
	s := opened(t, path)
	run := store.RunKey{Bench: "b1", Boot: "00000000000000b1", Run: "r"}
	put := func(n int) {
		t.Helper()
		_, err := s.PutChunk(
			ctx, "harbour", trace.Stored{Key: trace.Key{Bench: run.Bench, Boot: run.Boot, Run: run.Run, Number: n}, Packed: []byte{1}},
		)
		must(t, err)
	}
	must(t, s.Write(ctx, store.ClubStream("harbour"), func(tx store.Tx) error {
		for _, text := range []store.Text{
			{ID: "t-1", About: []string{"p-1"}, Salt: []byte{1}, Text: "one"}, {ID: "t-2", About: []string{""}, Salt: []byte{1}, Text: "two"},
		} {
			if err := tx.PutText(ctx, text); err != nil {
				return err
			}
		}
		return nil
	}))
	put(0)
	put(1)
	must(t, s.CloseRun(ctx, "harbour", run))
	must(t, s.Erase(ctx, "harbour", "p-9", 1))
	must(t, s.Close())

	db, err := pgx.Connect(ctx, path)
	must(t, err)
	for _, file := range []string{"000007_servers", "000006_accounts", "000005_hosted_clubs", "000004_sessions", "000003_caches", "000002_evidence"} {
		down, err := fs.ReadFile(migrations.Postgres, "postgres/"+file+".down.sql")
		must(t, err)
		_, err = db.Exec(ctx, string(down))
		must(t, err)
	}
	_, err = db.Exec(ctx, `UPDATE schema_migrations SET version = 1`)
	must(t, err)
	must(t, db.Close(context.Background()))

	s = opened(t, path)
	texts, err := s.AllTexts(ctx, "harbour")
	must(t, err)
	want := []store.Text{
		{ID: "t-1", About: []string{"", "p-1"}, Salt: []byte{1}, Text: "one"}, {ID: "t-2", About: []string{""}, Salt: []byte{1}, Text: "two"},
	}
	if diff := cmp.Diff(want, texts); diff != "" {
		t.Errorf("texts (-want +got):\n%s", diff)
	}
	put(2)
	chunks, err := s.Chunks(ctx, "harbour", run)
	must(t, err)
	late, err := s.LateChunks(ctx, "harbour", run)
	must(t, err)
	if len(chunks) != 2 || len(late) != 1 {
		t.Errorf("a recorded run has %d chunks and %d late ones, want 2 and 1", len(chunks), len(late))
	}
	must(t, s.Overwrite(ctx))
}
