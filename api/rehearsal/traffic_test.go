package rehearsal

import (
	"errors"
	"io"
	"net/http"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// slowly answers after a time that the path names, half of it before the head and half
// before the body's end.
type slowly struct{}

func (slowly) RoundTrip(r *http.Request) (*http.Response, error) {
	took, err := time.ParseDuration(r.URL.Query().Get("took"))
	if err != nil {
		return nil, errors.New("it did not get through")
	}
	time.Sleep(took / 2)
	return &http.Response{StatusCode: http.StatusOK, Body: io.NopCloser(io.MultiReader(strings.NewReader("x"), late(took/2)))}, nil
}

type late time.Duration

func (l late) Read([]byte) (int, error) {
	time.Sleep(time.Duration(l))
	return 0, io.EOF
}

// TestTraffic: answers count by kind and by the time until their end; of a hundred the
// median is the fiftieth and the 99th percentile the ninety-ninth.
func TestTraffic(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		traffic := &Traffic{By: slowly{}}
		ask := func(method, path string) {
			r, err := http.NewRequest(method, "http://hall"+path, http.NoBody)
			if err != nil {
				t.Fatal(err)
			}
			res, err := traffic.RoundTrip(r)
			if err != nil {
				return
			}
			if _, err := io.ReadAll(res.Body); err != nil {
				t.Fatal(err)
			}
			res.Body.Close()
		}
		began := time.Now()
		for n := range 100 {
			ask(http.MethodPost, "/api/v1/meets/spring/heats?took="+(time.Duration(100-n)*2*time.Millisecond).String())
		}
		ask(http.MethodPost, "/c/pier/api/v1/benches/b1/chunks?took=8ms")
		ask(http.MethodGet, "/api/v1/meets?took=4ms")
		ask(http.MethodGet, "/api/v1/meets")
		got := traffic.Answered(10 * time.Second)
		want := map[Kind]Answered{
			Orders: {Count: 100, PerS: 10, P50MS: 100, P99MS: 198},
			Chunks: {Count: 1, PerS: 0.1, P50MS: 8, P99MS: 8},
			Reads:  {Count: 2, PerS: 0.2, P50MS: 0, P99MS: 0},
		}
		for kind, a := range want {
			if got[kind] != a {
				t.Errorf("%s after %v: %+v, not %+v", kind, time.Since(began), got[kind], a)
			}
		}
	})
}
