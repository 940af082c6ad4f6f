package ledger

import (
	"bytes"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"

	"benchmeet/api/store"
)

// Order is a command on its way to a stream.
type Order[C any] struct {
	// ID is the client's id of the command; a retry carries the same one.
	ID string
	// Content is what makes two commands equal, for example method, path and
	// body; only its keyed hash is kept.
	Content []byte
	Actor   string
	Command C
	// People are written in the same transaction, if events or answers come of the
	// command, and Texts if events do. Whom a text is about is completed here, by
	// what the command does to the state as it is then.
	People []store.Person
	Texts  []store.Text
	// Thing is the id of what the command makes, for the receipt.
	Thing string
	// Refuse, where it is set, is the answer unless the command was carried out
	// before: only a remembered receipt is given, and nothing is decided.
	Refuse error
	// Withdraw takes the command back: one that was carried out gives its receipt,
	// any other is ErrWithdrawn from now on, also where an earlier try of it is
	// still on its way.
	Withdraw bool
}

// Receipt is the answer to a command that was carried out.
type Receipt struct {
	Seq    int64    `json:"seq"`  // the stream's position after it
	Head   string   `json:"head"` // the hash there
	Events []string `json:"events"`
	Thing  string   `json:"id,omitempty"`
	// Again says that this is the remembered answer to a retry.
	Again bool `json:"-"`
}

// ErrOtherContent is returned for a command id that was used with another
// content.
var ErrOtherContent = errors.New("this order id was used with another content: make a new id for a new order")

// ErrWithdrawn is returned for a command that was taken back before it was
// carried out.
var ErrWithdrawn = errors.New("this order was taken back: it was not carried out and will not be")

// withdrawn is what is remembered of such a command.
var withdrawn = []byte(`{"withdrawn":true}`)

// keyed is the hash of a content that cannot be found by trying likely contents,
// because contents hold names and the hash outlives their erasure.
func keyed(key, content []byte) [32]byte {
	h := hmac.New(sha256.New, key)
	h.Write(content)
	return [32]byte(h.Sum(nil))
}

func readReceipt(a store.Answer) (Receipt, error) {
	var r Receipt
	if bytes.Equal(a.Body, withdrawn) {
		return r, ErrWithdrawn
	}
	if err := json.Unmarshal(a.Body, &r); err != nil {
		return r, fmt.Errorf("the remembered answer of %s cannot be read: %w", a.Command, err)
	}
	r.Again = true
	return r, nil
}
