package standings

import (
	"fmt"
	"math/big"
	"strings"
)

// Fraction is an exact rational number: points, sums and means are compared without rounding. The zero value is
// 0. Fractions are values: no method changes its receiver.
type Fraction struct {
	r *big.Rat // nil for 0
}

// Whole returns n as a fraction.
func Whole(n int64) Fraction { return Fraction{new(big.Rat).SetInt64(n)} }

// Half returns n halves: points are often counted so.
func Half(n int64) Fraction { return Ratio(n, 2) }

// Ratio returns num/den. It panics when den is 0, which is a mistake of the caller.
func Ratio(num, den int64) Fraction { return Fraction{big.NewRat(num, den)} }

// ParseFraction reads a decimal such as "-3.25" or "12" exactly, or a fraction such as "7/2". Exponents are
// refused, and so are texts of more than 40 characters: nobody scores that finely.
func ParseFraction(text string) (Fraction, error) {
	bad := fmt.Errorf("%q is not a decimal number such as 3.5", text)
	if len(text) > 40 {
		return Fraction{}, bad
	}
	for i, c := range text {
		if (c < '0' || c > '9') && c != '.' && c != '/' && (c != '-' || i > 0) {
			return Fraction{}, bad
		}
	}
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return Fraction{}, bad
	}
	return Fraction{r}, nil
}

func (f Fraction) rat() *big.Rat {
	if f.r == nil {
		return new(big.Rat)
	}
	return f.r
}

// Add returns f + g.
func (f Fraction) Add(g Fraction) Fraction { return Fraction{new(big.Rat).Add(f.rat(), g.rat())} }

// Sub returns f - g.
func (f Fraction) Sub(g Fraction) Fraction { return Fraction{new(big.Rat).Sub(f.rat(), g.rat())} }

// Mul returns f * g.
func (f Fraction) Mul(g Fraction) Fraction { return Fraction{new(big.Rat).Mul(f.rat(), g.rat())} }

// Over returns f / n. It panics when n is 0, which is a mistake of the caller.
func (f Fraction) Over(n int64) Fraction {
	return Fraction{new(big.Rat).Quo(f.rat(), new(big.Rat).SetInt64(n))}
}

// Div returns f / g. It panics when g is 0, which is a mistake of the caller.
func (f Fraction) Div(g Fraction) Fraction { return Fraction{new(big.Rat).Quo(f.rat(), g.rat())} }

// Cmp returns -1, 0 or +1 as f is less than, equal to or greater than g.
func (f Fraction) Cmp(g Fraction) int { return f.rat().Cmp(g.rat()) }

// Equal says whether f and g are the same number.
func (f Fraction) Equal(g Fraction) bool { return f.Cmp(g) == 0 }

// Sign returns -1, 0 or +1.
func (f Fraction) Sign() int { return f.rat().Sign() }

// Parts returns the fraction in lowest terms with a positive denominator; ok is false where one does not fit.
func (f Fraction) Parts() (num, den int64, ok bool) {
	r := f.rat()
	return r.Num().Int64(), r.Denom().Int64(), r.Num().IsInt64() && r.Denom().IsInt64()
}

// String returns the exact decimal where it ends within twelve places, else the fraction: "3.5", "1/3".
func (f Fraction) String() string {
	r := f.rat()
	text := r.FloatString(12)
	if back, ok := new(big.Rat).SetString(text); !ok || back.Cmp(r) != 0 {
		return r.RatString()
	}
	return trimZeros(text)
}

// Decimal returns the number rounded to at most so many places, halves away from zero, without trailing zeros.
func (f Fraction) Decimal(places int) string { return trimZeros(f.rat().FloatString(places)) }

// MarshalText returns the exact number as String does.
func (f Fraction) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (f *Fraction) UnmarshalText(text []byte) error {
	parsed, err := ParseFraction(string(text))
	if err != nil {
		return err
	}
	*f = parsed
	return nil
}

func trimZeros(text string) string {
	if !strings.Contains(text, ".") {
		return text
	}
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}
