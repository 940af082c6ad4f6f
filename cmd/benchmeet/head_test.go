package main

import (
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// ofTheMoment are headers that two answers to the same question may differ in.
var ofTheMoment = map[string]bool{"Date": true, "Content-Length": true, "Transfer-Encoding": true}

// TestHeadIsAnsweredLikeGet: every address that answers GET answers HEAD with the same
// status and headers, and nothing behind them.
func TestHeadIsAnsweredLikeGet(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	spec, err := gen.GetSpec()
	if err != nil {
		t.Fatal(err)
	}
	paths := []string{"/", "/desk", "/bench/b1", "/m/spring", "/assets/none.js", "/healthz", "/readyz", "/metrics", "/api/v1/weather", meetPath + "/live"}
	for path, item := range spec.Paths.Map() {
		if item.Get != nil {
			for name, own := range map[string]string{"meet": "spring", "division": "open", "bench": "b1", "heat": "open-1.1.1", "entry": "e1"} {
				path = strings.ReplaceAll(path, "{"+name+"}", own)
			}
			paths = append(paths, regexp.MustCompile(`\{\w+\}`).ReplaceAllString(path, "none"))
		}
	}
	if len(paths) < 35 {
		t.Fatalf("only %d addresses", len(paths))
	}
	for _, role := range []auth.Role{auth.Public, auth.Organiser} {
		for n, path := range paths {
			if role == auth.Public && n%40 == 39 {
				time.Sleep(4 * time.Second) // a stranger may ask a hundred times at once, and twenty times a second
			}
			answers := map[string]*http.Response{}
			for _, method := range []string{http.MethodGet, http.MethodHead} {
				r, err := http.NewRequest(method, w.server.url()+path, nil)
				must(t, err)
				if token := w.tokens[role]; token != "" {
					r.Header.Set("Authorization", "Bearer "+token)
				}
				if answers[method], err = http.DefaultClient.Do(r); err != nil {
					t.Fatal(err)
				}
				body, err := io.ReadAll(answers[method].Body)
				must(t, err)
				answers[method].Body.Close()
				if method == http.MethodHead && len(body) > 0 {
					t.Errorf("HEAD %s has a body", path)
				}
			}
			get, head := answers[http.MethodGet], answers[http.MethodHead]
			if get.StatusCode != head.StatusCode {
				t.Errorf("%s %s: GET %d, HEAD %d", role, path, get.StatusCode, head.StatusCode)
			}
			for name := range get.Header {
				if !ofTheMoment[name] && get.Header.Get(name) != head.Header.Get(name) {
					t.Errorf("%s %s: %s is %q for GET and %q for HEAD", role, path, name, get.Header.Get(name), head.Header.Get(name))
				}
			}
		}
	}
}
