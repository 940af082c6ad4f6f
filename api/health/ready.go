package health

import (
	"context"
	"net/http"
	"strings"
	"time"
)

// databaseWithin is how long the database may take for a question of readiness.
const databaseWithin = 2 * time.Second

// Up answers that the program runs. Who gets no answer starts it again.
func Up(w http.ResponseWriter, _ *http.Request) { say(w, http.StatusOK, "The server runs.") }

// Need is what a server cannot do without: how it is asked, and what to say where it does
// not answer.
type Need struct {
	Ask  func(context.Context) error
	Away string
}

// Ready answers whether the server can do its work: what it needs answers, and no work
// beside the requests rests after a fault. Who gets a no sends nobody here for now, and
// waits; the server mends itself where it can.
func Ready(need Need, resting func() []string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		ctx, stop := context.WithTimeout(r.Context(), databaseWithin)
		defer stop()
		var not []string
		if need.Ask(ctx) != nil {
			not = append(not, need.Away)
		}
		for _, work := range resting() {
			not = append(not, "“"+work+"” met a fault and is begun again soon; the server's log says more")
		}
		if len(not) > 0 {
			say(w, http.StatusServiceUnavailable, "The server is not ready: "+strings.Join(not, "; ")+".")
			return
		}
		say(w, http.StatusOK, "The server is ready.")
	}
}

func say(w http.ResponseWriter, status int, text string) {
	h := w.Header()
	h.Set("Content-Type", "text/plain; charset=utf-8")
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(text + "\n")) // who has gone needs no answer
}
