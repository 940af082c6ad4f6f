package relay

import (
	"context"
	"encoding/base64"

	"benchmeet/api/store"
)

// Broker passes messages between servers, each of them once at most.
type Broker interface {
	// Publish sends a message to all who take what comes under a subject. It waits for
	// nobody.
	Publish(subject string, message []byte) error
	// Subscribe takes what others send under a subject, one message after the other, until
	// cancel is called. A "*" at the end is any last part.
	Subscribe(subject string, take func(message []byte)) (cancel func(), err error)
	// Answer answers what is asked under a subject, until cancel is called. Of all who
	// answer under it one gets each question. Questions may be answered beside each other.
	Answer(subject string, answer func(ctx context.Context, question []byte) []byte) (cancel func(), err error)
	// Ask waits for an answer; nil where nobody answers under the subject.
	Ask(ctx context.Context, subject string, question []byte) ([]byte, error)
}

// Subjects have the version of what is said under them: servers of different versions do
// not hear one another, and a node asks until one of its own answers.
const (
	subjects   = "benchmeet.1."
	anyGiver   = subjects + "ask"
	giver      = subjects + "ask."    // and the giver's name
	framesFrom = subjects + "frames." // the giver's name, and the stream
	speedOf    = subjects + "speed."  // and the stream
	allSpeeds  = speedOf + "*"
)

// token is a stream as part of a subject: a subject has letters, digits, "-" and "_".
func token(s store.Stream) string { return base64.RawURLEncoding.EncodeToString([]byte(s.String())) }

func framesSubject(name string, s store.Stream) string { return framesFrom + name + "." + token(s) }
