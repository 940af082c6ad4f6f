package battery_test

import (
	"math"
	"strings"
	"testing"
)

// contains asks for what a sentence must say, whatever else it says.
func contains(t *testing.T, text, part string) {
	t.Helper()
	if !strings.Contains(text, part) {
		t.Errorf("%q does not say %q", text, part)
	}
}

// near complains where a figure is further from the wanted one than tolerance.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.10g, want %.10g within %g", what, got, want, tolerance)
	}
}
