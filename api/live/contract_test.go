package live

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"benchmeet/api/gen"
)

// TestContractNamesTheFeedsLimits: whoever writes a client reads there what it may ask
// for, and how it is refused.
func TestContractNamesTheFeedsLimits(t *testing.T) {
	spec, err := gen.GetSpec()
	if err != nil {
		t.Fatal(err)
	}
	says := strings.Join(strings.Fields(spec.Info.Description), " ")
	for _, want := range []string{
		fmt.Sprintf("at most %d topics", mostTopics), fmt.Sprintf("at most %d that are not there", mostUnknown),
		fmt.Sprintf("%d `feed-share`", http.StatusTooManyRequests), fmt.Sprintf("%d `feed-full`", http.StatusServiceUnavailable),
		fmt.Sprintf("%d `many-topics` or `bad-topic`", http.StatusBadRequest), fmt.Sprintf("%d `no-meet`", http.StatusNotFound),
	} {
		if !strings.Contains(says, want) {
			t.Errorf("the contract does not say %q", want)
		}
	}
}
