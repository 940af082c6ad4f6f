package node

import (
	"bytes"
	"context"
	"crypto/sha256"
	"crypto/tls"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"slices"
	"strconv"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
)

// Server is the server as a node sees it.
type Server struct {
	Base  string
	Bench string
	Token string
	HTTP  *http.Client
}

// Order asks what the bench has to do, and says whether the line to the box is lost:
// people at the bench want to know.
func (s Server) Order(ctx context.Context, unplugged bool) (o gen.BenchOrder, err error) {
	a, err := s.send(ctx, http.MethodGet, "/benches/"+s.Bench+"/order?unplugged="+strconv.FormatBool(unplugged), nil)
	switch {
	case err != nil:
		return o, err
	case a.status != http.StatusOK:
		return o, fmt.Errorf("the server does not say what bench %s has to do: %s", s.Bench, a.says())
	case !a.is("application/json") || json.Unmarshal(a.text, &o) != nil || o.Bench != s.Bench:
		return gen.BenchOrder{}, errors.New("somebody else answers in the server's place: a sign-in page of the network? " + a.says())
	}
	return o, nil
}

// ClockPPM is what the bench's settings say of its clock; false where that is not
// to be had.
func (s Server) ClockPPM(ctx context.Context) (float64, bool) {
	a, err := s.send(ctx, http.MethodGet, "/benches", nil)
	var list gen.BenchList
	if err != nil || a.status != http.StatusOK || json.Unmarshal(a.text, &list) != nil {
		return 0, false
	}
	for _, b := range list.Benches {
		if b.Id == s.Bench {
			return b.ClockPpm, true
		}
	}
	return 0, false
}

// handed says what became of a chunk.
type handed int

const (
	taken       handed = iota // the server has it on disk
	refused                   // the server will never take it
	notTaken                  // somebody answered, and it is not known to be kept
	notAnswered               // nobody did
)

// ReceivedHeader is the header in which the server names the SHA-256 of the body
// that it answers: who answers without reading it is not the server.
const ReceivedHeader = "Benchmeet-Received"

// refusals are the server's words that a chunk will never be taken.
var refusals = []string{"bad-chunk", "chunk-conflict"}

// Post hands a chunk in. It is taken only where the receipt names the chunk and the
// SHA-256 of what was sent, and refused only where the server says so of just these
// bytes; anything else may come from a portal, a proxy or a server that is being
// restarted, and the chunk has to be sent again. The error says why it is not taken.
func (s Server) Post(ctx context.Context, body []byte) (handed, error) {
	a, err := s.send(ctx, http.MethodPost, "/benches/"+s.Bench+"/chunks", body)
	if err != nil {
		return notAnswered, err
	}
	sum := sha256.Sum256(body)
	ours := a.received == hex.EncodeToString(sum[:])
	var p gen.Problem
	switch {
	case a.status == http.StatusOK && ours && a.is("application/json"):
		var kept gen.ChunkKept
		sent, err := wire.ReadChunk(s.Bench, body)
		if err == nil && json.Unmarshal(a.text, &kept) == nil &&
			kept.Boot == sent.Key.Boot && kept.Run == sent.Key.Run && kept.Number == sent.Key.Number {
			return taken, nil
		}
	case ours && a.is("application/problem+json") && json.Unmarshal(a.text, &p) == nil &&
		p.Status == a.status && slices.Contains(refusals, p.Code):
		return refused, fmt.Errorf("the server refuses a chunk: %s", p.Detail)
	}
	return notTaken, fmt.Errorf("the server did not take a chunk (%d): %s", a.status, a.says())
}

// answer is what came back.
type answer struct {
	status   int
	kind     string
	received string
	text     []byte
}

func (a answer) is(kind string) bool {
	got, _, err := mime.ParseMediaType(a.kind)
	return err == nil && got == kind
}

// says is the sentence of a problem, or the beginning of what came instead.
func (a answer) says() string {
	var p gen.Problem
	if a.is("application/problem+json") && json.Unmarshal(a.text, &p) == nil && p.Detail != "" {
		return p.Detail
	}
	return string(a.text[:min(len(a.text), 200)])
}

func (s Server) send(ctx context.Context, method, path string, body []byte) (answer, error) {
	r, err := http.NewRequestWithContext(ctx, method, s.Base+"/api/v1"+path, bytes.NewReader(body))
	if err != nil {
		return answer{}, err
	}
	r.Header.Set("Authorization", "Bearer "+s.Token)
	if body != nil {
		r.Header.Set("Content-Type", "application/json")
	}
	got, err := s.HTTP.Do(r)
	var untrusted *tls.CertificateVerificationError
	switch {
	case errors.As(err, &untrusted):
		return answer{}, fmt.Errorf("who answers has not shown that it is the server that this node trusts, so nothing was sent: %w", err)
	case err != nil:
		return answer{}, err
	}
	defer got.Body.Close()
	text, err := io.ReadAll(io.LimitReader(got.Body, 1<<20))
	return answer{got.StatusCode, got.Header.Get("Content-Type"), got.Header.Get(ReceivedHeader), text}, err
}
