package rehearsal

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"time"

	"benchmeet/api/gen"
)

// Client talks to a server with one token. It sends an order again, under the
// same id, until there is an answer: that is what phones do in a bad network.
type Client struct {
	Base  string
	Token string
	HTTP  *http.Client
}

// retryEvery is how long a client waits before it sends again.
const retryEvery = 50 * time.Millisecond

// Problem is an answer that says no.
type Problem struct {
	gen.Problem
	Where string
}

// Error names the request and the server's own sentence.
func (p *Problem) Error() string {
	return fmt.Sprintf("%s: %d %s: %s", p.Where, p.Status, p.Code, p.Detail)
}

// IsProblem says whether an error is the server's no with this code.
func IsProblem(err error, code string) bool {
	var p *Problem
	return errors.As(err, &p) && p.Code == code
}

// Order gives an order and returns its receipt.
func (c *Client) Order(ctx context.Context, method, path, key string, body any) (gen.Receipt, error) {
	var receipt gen.Receipt
	err := c.do(ctx, method, path, key, body, &receipt)
	return receipt, err
}

// Get reads a page.
func (c *Client) Get(ctx context.Context, path string, into any) error {
	return c.do(ctx, http.MethodGet, path, "", nil, into)
}

// knownWithin is how long a server that is behind another may take to know what that one
// acknowledged.
const knownWithin = 30 * time.Second

// until reads a page until it says what is known to be so, from a receipt of another server
// perhaps, or for as long as a server may take to know it: the caller looks once more.
func until[T any](ctx context.Context, c *Client, path string, so func(T) bool) (page T, err error) {
	for end := time.Now().Add(knownWithin); ; {
		var now T
		if err := c.Get(ctx, path, &now); err != nil || so(now) || time.Now().After(end) {
			return now, err
		}
		select {
		case <-ctx.Done():
			return now, ctx.Err()
		case <-time.After(retryEvery):
		}
	}
}

// do sends until an answer comes or ctx ends. Answers of 5xx are tried again.
func (c *Client) do(ctx context.Context, method, path, key string, body, into any) error {
	var text []byte
	if body != nil {
		var err error
		if text, err = json.Marshal(body); err != nil {
			return err
		}
	}
	for {
		again, err := c.once(ctx, method, path, key, text, into)
		if !again {
			return err
		}
		select {
		case <-ctx.Done():
			return fmt.Errorf("%s %s: %w (last: %w)", method, path, ctx.Err(), err)
		case <-time.After(retryEvery):
		}
	}
}

func (c *Client) once(ctx context.Context, method, path, key string, body []byte, into any) (again bool, err error) {
	r, err := http.NewRequestWithContext(ctx, method, c.Base+path, bytes.NewReader(body))
	if err != nil {
		return false, err
	}
	if body != nil {
		r.Header.Set("Content-Type", "application/json")
	}
	if key != "" {
		r.Header.Set("Idempotency-Key", key)
	}
	if c.Token != "" {
		r.Header.Set("Authorization", "Bearer "+c.Token)
	}
	// Without an answer nobody knows whether the order was carried out. The key makes it safe to
	// send again.
	answer, err := c.HTTP.Do(r)
	if err != nil {
		return true, err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		return true, err
	}
	where := method + " " + path
	switch {
	// The server failed and did not decide; a no of the next case is final.
	case answer.StatusCode >= 500:
		return true, fmt.Errorf("%s: %s", where, answer.Status)
	case answer.StatusCode >= 400:
		p := &Problem{Where: where}
		if err := json.Unmarshal(text, &p.Problem); err != nil {
			return false, fmt.Errorf("%s: %s, and no problem+json: %w", where, answer.Status, err)
		}
		return false, p
	}
	if raw, is := into.(*[]byte); is {
		*raw = text
		return false, nil
	}
	if into == nil || len(text) == 0 {
		return false, nil
	}
	if err := json.Unmarshal(text, into); err != nil {
		return false, fmt.Errorf("%s: the answer cannot be read: %w", where, err)
	}
	return false, nil
}
