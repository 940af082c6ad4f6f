package wire

import "time"

// Metres shows µm.
func Metres(um int64) float64 { return float64(um) / 1e6 }

// Micrometres reads metres.
func Micrometres(m float64) int64 { return Rounded(m * 1e6) }

// Seconds shows µs.
func Seconds(us int64) float64 { return float64(us) / 1e6 }

// Microseconds reads seconds.
func Microseconds(s float64) int64 { return Rounded(s * 1e6) }

// Thousandths shows mV as V, m°C as °C, mg as g, µm as mm and mrpm as rpm.
func Thousandths(v int64) float64 { return float64(v) / 1e3 }

// Thousands reads V as mV, °C as m°C, g as mg and mm as µm.
func Thousands(v float64) int64 { return Rounded(v * 1e3) }

// OptThousandths is Thousandths of a value that may not be there.
func OptThousandths(v *int64) *float64 {
	if v == nil {
		return nil
	}
	out := Thousandths(*v)
	return &out
}

// OptThousands is Thousands of a value that may be left out.
func OptThousands(v *float64) *int64 {
	if v == nil {
		return nil
	}
	out := Thousands(*v)
	return &out
}

// PerMillion shows a factor that is kept in millionths.
func PerMillion(m int64) float64 { return float64(m) / 1e6 }

// Instant shows a time in µs since 1970.
func Instant(us int64) time.Time { return time.UnixMicro(us).UTC() }

// OptInstant is Instant, left out where nothing happened (0).
func OptInstant(us int64) *time.Time {
	if us == 0 {
		return nil
	}
	t := Instant(us)
	return &t
}

// Rounded is the nearest integer, halves away from zero; the contract bounds what
// comes in far below where a float has no halves.
func Rounded(v float64) int64 {
	if v < 0 {
		return -Rounded(-v)
	}
	return int64(v + 0.5)
}

// Opt leaves a zero value out of the JSON; Deref reads it back.
func Opt[T comparable](v T) *T {
	var zero T
	if v == zero {
		return nil
	}
	return &v
}

// Deref is a value that may be left out, or zero.
func Deref[T any](p *T) T {
	var zero T
	return OrElse(p, zero)
}

// OrElse is a value that may be left out, or what is usual.
func OrElse[T any](p *T, usual T) T {
	if p == nil {
		return usual
	}
	return *p
}

// Word converts between the string types of the domain and of the contract.
func Word[To, From ~string](v From) To { return To(v) }

// OptWord is Word, left out where it is empty.
func OptWord[To, From ~string](v From) *To {
	if v == "" {
		return nil
	}
	w := To(v)
	return &w
}
