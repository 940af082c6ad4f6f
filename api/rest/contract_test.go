package rest

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"benchmeet/api/gen"
)

// TestContractNamesWhatAnyRequestMayGet: the statuses and limits that no single
// operation lists, because they hold for all.
func TestContractNamesWhatAnyRequestMayGet(t *testing.T) {
	spec, err := gen.GetSpec()
	if err != nil {
		t.Fatal(err)
	}
	says := strings.Join(strings.Fields(spec.Info.Description), " ")
	for _, want := range []string{
		fmt.Sprintf("%d `bad-request`", http.StatusBadRequest), fmt.Sprintf("%d `sign-in` or `bad-token`", http.StatusUnauthorized),
		fmt.Sprintf("%d `not-allowed`", http.StatusForbidden), fmt.Sprintf("%d `no-method`", http.StatusMethodNotAllowed),
		fmt.Sprintf("%d `body-slow`", http.StatusRequestTimeout),
		fmt.Sprintf("%d `body-too-large` (more than %d KiB, or %d KiB of", http.StatusRequestEntityTooLarge, bodyLimit>>10, strangerLimit>>10),
		fmt.Sprintf("%d `media-type`", http.StatusUnsupportedMediaType), fmt.Sprintf("%d `internal`", http.StatusInternalServerError),
		fmt.Sprintf("%d `busy`, `too-slow` or `server-stops`", http.StatusServiceUnavailable),
	} {
		if !strings.Contains(says, want) {
			t.Errorf("the contract does not say %q", want)
		}
	}
}
