package storetest

import (
	"context"
	"testing"

	"benchmeet/api/store"
)

// Open opens the database it was made for. It may be called again after the
// store before was closed, and before that where the database is shared.
type Open func() (store.Store, error)

// Database is a kind of store under test.
type Database struct {
	// New makes an empty database that lasts as long as the test, and says how
	// to open it.
	New func(t testing.TB) Open
	// Shared says that several stores may be open on one database, as several
	// processes would be. Then Changes sends notices.
	Shared bool
}

// Run proves that the stores of a database keep every promise of package store.
func Run(t *testing.T, d Database) {
	for _, part := range []struct {
		name string
		test func(*testing.T, Database)
	}{
		{"Clubs", testClubs},
		{"ClubsInvited", testClubsInvited},
		{"ClubUnknown", testClubUnknown},
		{"Secrets", testSecrets},
		{"Close", testClose},
		{"Append", testAppend},
		{"AppendRefused", testAppendRefused},
		{"WriteAllOrNothing", testWriteAllOrNothing},
		{"Batch", testBatch},
		{"WriteAlone", testWriteAlone},
		{"WriteBesideFailures", testWriteBesideFailures},
		{"WriteOver", testWriteOver},
		{"Read", testRead},
		{"ReadWhileWriting", testReadWhileWriting},
		{"Streams", testStreams},
		{"Answers", testAnswers},
		{"Changes", testChanges},
		{"Chunks", testChunks},
		{"ChunksAtOnce", testChunksAtOnce},
		{"OpenRuns", testOpenRuns},
		{"FrozenRuns", testFrozenRuns},
		{"People", testPeople},
		{"Texts", testTexts},
		{"Erase", testErase},
		{"Tokens", testTokens},
		{"Sessions", testSessions},
		{"KeysAsTheyAre", testKeysAsTheyAre},
		{"Accounts", testAccounts},
		{"Renewals", testRenewals},
		{"Caches", testCaches},
		{"Reopen", testReopen},
		{"Model", testModel},
	} {
		t.Run(part.name, func(t *testing.T) { part.test(t, d) })
	}
}

// harbour is the club that most tests write to.
const harbour = "harbour"

// fresh opens a store on an empty database with the club harbour in it.
func fresh(t testing.TB, d Database) (context.Context, store.Store) {
	t.Helper()
	s := opened(t, d.New(t))
	must(t, s.EnsureClub(t.Context(), store.Club{ID: harbour, Name: "Harbour Hall"}))
	return t.Context(), s
}

// opened opens a store and closes it with the test.
func opened(t testing.TB, open Open) store.Store {
	t.Helper()
	s, err := open()
	must(t, err)
	t.Cleanup(func() { _ = s.Close() })
	return s
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
