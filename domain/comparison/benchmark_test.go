package comparison_test

import (
	"testing"

	"benchmeet/domain/comparison"
)

// BenchmarkOf compares ten benches by the 400 runs of a long day and two reference
// checks: what a screen waits for where nothing is cached.
func BenchmarkOf(b *testing.B) {
	d := newDay(b, 50, 8, 1, 1.01, 1, 0.99, 1, 1.02, 1, 1, 1, 1)
	d.check(3, 0)
	for range 8 {
		d.round(nil)
	}
	d.check(3, 0)
	b.ResetTimer()
	for b.Loop() {
		if _, err := comparison.Of(d.meet, d.club, "spring"); err != nil {
			b.Fatal(err)
		}
	}
}
