package archive_test

import (
	"bytes"
	"testing"

	"benchmeet/api/archive"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

// Whatever the bytes are, reading and checking them ends in a report or an error.
func FuzzVerify(f *testing.F) {
	s, _ := newSQLite(f)
	d := newDay(f, s)
	d.club(club.KeepPerson{Person: "p-1"}, children()[0])
	_, err := d.intake.Take(f.Context(), harbour, "node-b1", trace.Chunk{
		Key: trace.Key{Bench: "b1", Boot: boot, Run: "r1"}, Stamps: []int64{1000, 7000, 13_000},
		Last: &trace.Totals{Chunks: 1, Stamps: 3},
	})
	must(f, err)
	_, file := exported(f, s, everything())
	f.Add(file)
	f.Add(file[:len(file)/2])
	f.Add([]byte("PK\x05\x06" + string(make([]byte, 18))))
	f.Fuzz(func(t *testing.T, file []byte) {
		r, err := archive.NewReader(bytes.NewReader(file), int64(len(file)))
		if err != nil {
			return
		}
		if _, err := archive.Verify(t.Context(), r, journal.Hash{}); err != nil {
			t.Logf("not checked: %v", err)
		}
	})
}

// A log with any event's data, in the first version and in today's, is checked without
// a crash.
func FuzzForeignLog(f *testing.F) {
	f.Add("RunRecorded", `{"id":"x","source":"bench","figures":{},"by":"n","heat":"a-1.1.1","entry":"e"}`)
	f.Add("HeatCalled", `{"heat":"a-1.1.1","lanes":[{"entry":"e","bench":"b","run":"r"}],"deadline_us":0,"by":"x"}`)
	f.Add(
		"RoundDrawn", `{"division":"junior","stage":9,"round":9,"seeds":["e"],"lot_seed":1,"method":"x","heats":[{"entries":["e"]}],"by":"x"}`,
	)
	f.Add("MeetPaused", `{"by":"x","reason":"lunch"}`)
	f.Add(
		"RerunGranted",
		`{"heat":"a-1.1.1","entry":"e","counts":"better","better":"r","again":[{"entry":"e"},{"entry":"none"}],"by":"x","reason":{"code":"tie"}}`,
	)
	f.Fuzz(func(t *testing.T, kind, data string) {
		one, err := journal.Seal(journal.Head{}, journal.Envelope{Stream: "harbour/meet/spring", Seq: 1, Type: kind, V: 1, Data: []byte(data)})
		if err != nil {
			return
		}
		two, err := journal.Seal(
			one.Head(), journal.Envelope{Stream: "harbour/meet/spring", Seq: 2, Type: kind, V: max(1, day.VersionOf(kind)), Data: []byte(data)},
		)
		if err != nil {
			return
		}
		from := oneLog{one, two}
		report, err := archive.Verify(t.Context(), from, journal.Hash{})
		if err != nil {
			t.Fatal(err)
		}
		if len(report.Streams) != 1 {
			t.Errorf("report %+v", report)
		}
	})
}
