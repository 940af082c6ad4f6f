package journal

import "reflect"

// OpenCanonical and OpenSlowly are the two ways of Record.Open.
func (r Record) OpenCanonical() (Envelope, bool) { return r.openCanonical(sound, true) }

// OpenSlowly is the one for any form.
func (r Record) OpenSlowly() (Envelope, error) { return r.openSlowly() }

// ReadSlowly is Reader for any form.
func ReadSlowly[E any](data []byte) (E, error) { return readSlowly[E](data) }

// Quick says whether data is read without encoding/json.
func Quick[E any](data []byte) bool {
	plan := planOf(reflect.TypeFor[E](), 0)
	c := cursor{text: data}
	return plan != nil && plan.read(&c, reflect.New(reflect.TypeFor[E]()).Elem()) && c.over()
}

// InOrder is the canonical form of a document that a cursor reads.
func InOrder(text []byte) ([]byte, bool) {
	c := cursor{text: text}
	out, ok := c.inOrder(nil, 0)
	return out, ok && c.over()
}
