package node

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"time"

	"benchmeet/api/gen"
)

// Server is the server as a node sees it.
type Server struct {
	Base  string
	Bench string
	Token string
	HTTP  *http.Client
}

// Order asks what the bench has to do. Delay is how long the answer took.
func (s Server) Order(ctx context.Context) (o gen.BenchOrder, delay time.Duration, err error) {
	began := time.Now()
	status, text, err := s.send(ctx, http.MethodGet, "/order", nil)
	if err != nil {
		return o, 0, err
	}
	if status != http.StatusOK {
		return o, 0, fmt.Errorf("the server does not say what bench %s has to do: %s", s.Bench, detail(text))
	}
	return o, time.Since(began), json.Unmarshal(text, &o)
}

// Post hands a chunk in. Refused says that the server will never take it.
func (s Server) Post(ctx context.Context, body []byte) (refused bool, err error) {
	status, text, err := s.send(ctx, http.MethodPost, "/chunks", body)
	switch {
	case err != nil:
		return false, err
	case status == http.StatusOK:
		return false, nil
	case status == http.StatusBadRequest || status == http.StatusConflict || status == http.StatusRequestEntityTooLarge:
		return true, fmt.Errorf("the server refuses a chunk: %s", detail(text))
	}
	return false, fmt.Errorf("the server did not take a chunk (%d): %s", status, detail(text))
}

func (s Server) send(ctx context.Context, method, path string, body []byte) (int, []byte, error) {
	r, err := http.NewRequestWithContext(ctx, method, s.Base+"/api/v1/benches/"+s.Bench+path, bytes.NewReader(body))
	if err != nil {
		return 0, nil, err
	}
	r.Header.Set("Authorization", "Bearer "+s.Token)
	if body != nil {
		r.Header.Set("Content-Type", "application/json")
	}
	answer, err := s.HTTP.Do(r)
	if err != nil {
		return 0, nil, err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(io.LimitReader(answer.Body, 1<<20))
	return answer.StatusCode, text, err
}

// detail is the sentence of a problem, or what came instead.
func detail(text []byte) string {
	var p gen.Problem
	if json.Unmarshal(text, &p) == nil && p.Detail != "" {
		return p.Detail
	}
	return string(text)
}
