package standings

import (
	"testing"

	"pgregory.net/rapid"
)

func TestParseFraction(t *testing.T) {
	tests := []struct {
		text string
		want Fraction
		bad  bool
	}{
		{"0", Fraction{}, false},
		{"0.5", Half(1), false},
		{"-3.25", Ratio(-13, 4), false},
		{"231.2", Ratio(2312, 10), false},
		{"7/2", Half(7), false},
		{"", Fraction{}, true},
		{".", Fraction{}, true},
		{"-", Fraction{}, true},
		{"1e3", Fraction{}, true},
		{"0x10", Fraction{}, true},
		{"1_000", Fraction{}, true},
		{"+1", Fraction{}, true},
		{"1/0", Fraction{}, true},
		{"NaN", Fraction{}, true},
		{"1.2.3", Fraction{}, true},
		{"00000000000000000000000000000000000000000", Fraction{}, true},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, err := ParseFraction(tt.text)
			if (err != nil) != tt.bad || !got.Equal(tt.want) {
				t.Errorf("got %v, %v; want %v, bad %v", got, err, tt.want, tt.bad)
			}
		})
	}
}

func TestFractionTexts(t *testing.T) {
	tests := []struct {
		f              Fraction
		exact, rounded string
	}{
		{Fraction{}, "0", "0"},
		{Whole(1200), "1200", "1200"},
		{Half(7), "3.5", "3.5"},
		{Ratio(1, 3), "1/3", "0.333"},
		{Ratio(-1, 3), "-1/3", "-0.333"},
		{Ratio(-1, 3000), "-1/3000", "0"},
		{Ratio(503, 4), "125.75", "125.75"},
	}
	for _, tt := range tests {
		t.Run(tt.exact, func(t *testing.T) {
			if got := tt.f.String(); got != tt.exact {
				t.Errorf("exact text %q, want %q", got, tt.exact)
			}
			if got := tt.f.Decimal(3); got != tt.rounded {
				t.Errorf("rounded text %q, want %q", got, tt.rounded)
			}
		})
	}
}

func TestFractionParts(t *testing.T) {
	if num, den, ok := Ratio(-6, 4).Parts(); num != -3 || den != 2 || !ok {
		t.Errorf("-6/4 is %d/%d, %v", num, den, ok)
	}
	if _, _, ok := Whole(1 << 62).Mul(Whole(4)).Parts(); ok {
		t.Error("2^64 was said to fit")
	}
	var f Fraction
	if err := f.UnmarshalText([]byte("half")); err == nil {
		t.Error("a word was read as a fraction")
	}
}

func TestFractionTextGoesRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Ratio(rapid.Int64().Draw(t, "num"), rapid.Int64Range(1, 1<<40).Draw(t, "den"))
		text, err := f.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var back Fraction
		if err := back.UnmarshalText(text); err != nil || !back.Equal(f) {
			t.Fatalf("%s came back as %v, %v", text, back, err)
		}
	})
}

func FuzzParseFraction(f *testing.F) {
	for _, text := range []string{"1.5", "7/2", "-0.25", "1e9", "9/0"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		parsed, err := ParseFraction(text)
		if err != nil {
			return
		}
		if back, err := ParseFraction(parsed.String()); len(parsed.String()) <= 40 && (err != nil || !back.Equal(parsed)) {
			t.Errorf("%q was read as %v, which was read as %v (%v)", text, parsed, back, err)
		}
	})
}
