package read

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
)

// list is a field of a thing, with its members as JSON.
type list struct {
	field   string
	members [][]byte
}

// assemble writes a thing of the contract with members of its lists that are JSON
// already, where in the thing the lists are nil. A field's name stands in quotes and no
// text holds a quote by itself, so the first `"field":null` is the field, as long as
// nothing that comes before it in the thing has a field of that name; a test compares
// all with what encoding/json makes of the whole.
func assemble(thing any, lists ...list) (*text, error) {
	frame, err := json.Marshal(thing)
	if err != nil {
		return nil, err
	}
	type place struct {
		at, end int
		list    list
	}
	var places []place
	size := len(frame)
	for _, l := range lists {
		field := []byte(`"` + l.field + `":`)
		at := bytes.Index(frame, append(field, "null"...))
		if at < 0 {
			return nil, fmt.Errorf("%T has no empty list %s", thing, l.field)
		}
		at += len(field)
		places = append(places, place{at, at + len("null"), l})
		for _, m := range l.members {
			size += len(m) + 1
		}
	}
	slices.SortFunc(places, func(a, b place) int { return cmp.Compare(a.at, b.at) })
	seq, head := after(frame, `"seq":`, "0"), after(frame, `"head":"`, noHash)
	out := text{bytes: make([]byte, 0, size)}
	from := 0
	upTo := func(at int) {
		// A mark moves with what it stands in.
		if seq >= from && seq < at {
			out.seq = len(out.bytes) + seq - from
		}
		if head >= from && head < at {
			out.head = len(out.bytes) + head - from
		}
		out.bytes = append(out.bytes, frame[from:at]...)
		from = at
	}
	for _, p := range places {
		upTo(p.at)
		from = p.end
		out.bytes = append(out.bytes, '[')
		for i, m := range p.list.members {
			if i > 0 {
				out.bytes = append(out.bytes, ',')
			}
			out.bytes = append(out.bytes, m...)
		}
		out.bytes = append(out.bytes, ']')
	}
	upTo(len(frame))
	return &out, nil
}

// after is the place behind a field's name where a value stands, -1 for nowhere.
func after(frame []byte, name, value string) int {
	at := bytes.Index(frame, []byte(name+value))
	if at < 0 {
		return -1
	}
	return at + len(name)
}
