package archive_test

import (
	"io"
	"testing"

	"benchmeet/api/archive"
	"benchmeet/domain/journal"
)

// Each benchmark does the whole day of these tests, 12 runs of about a thousand
// stamps, and tells runs per second.
func perRun(b *testing.B, r *archive.Reader) {
	b.ReportMetric(float64(b.N)*float64(r.Manifest().Counts.Runs)/b.Elapsed().Seconds(), "runs/s")
}

func BenchmarkExport(b *testing.B) {
	s, _ := newSQLite(b)
	newDay(b, s).play()
	r, _ := exported(b, s, everything())
	b.ReportAllocs()
	for b.Loop() {
		_, err := archive.Export(b.Context(), s, everything(), io.Discard)
		must(b, err)
	}
	perRun(b, r)
}

func BenchmarkVerify(b *testing.B) {
	s, _ := newSQLite(b)
	newDay(b, s).play()
	r, _ := exported(b, s, everything())
	b.ReportAllocs()
	for b.Loop() {
		_, err := archive.Verify(b.Context(), r, journal.Hash{})
		must(b, err)
	}
	perRun(b, r)
}

func BenchmarkImport(b *testing.B) {
	s, _ := newSQLite(b)
	newDay(b, s).play()
	r, _ := exported(b, s, everything())
	b.ReportAllocs()
	for b.Loop() {
		b.StopTimer()
		target, _ := newSQLite(b)
		b.StartTimer()
		_, err := archive.Import(b.Context(), r, target)
		must(b, err)
	}
	perRun(b, r)
}
