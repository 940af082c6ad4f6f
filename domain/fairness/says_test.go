package fairness_test

import (
	"strings"
	"testing"
)

func contains(t *testing.T, text, part string) {
	t.Helper()
	if !strings.Contains(text, part) {
		t.Errorf("%q does not say %q", text, part)
	}
}
